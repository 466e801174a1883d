package path

import "math"

// line is a straight part.
type line struct {
	from    Point
	heading float64 // degrees
	len     float64 // m
}

func (l line) length() float64 { return l.len }

func (l line) at(s float64) (Point, float64) {
	return l.from.plus(unit(l.heading).times(s)), l.heading
}

func (l line) leastRadius() (radius, at float64) { return math.Inf(1), 0 }

func (l line) bounds() Rect {
	to, _ := l.at(l.len)
	return span(l.from, to)
}

func (l line) moved(m Motion) part {
	l.from, l.heading = m.Of(l.from), m.Heading(l.heading)
	return l
}
