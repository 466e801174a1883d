package path

import "math"

// arc is a part of a circle.
type arc struct {
	centre  Point
	radius  float64 // m
	heading float64 // degrees, at its start
	sweep   float64 // degrees, positive to the left
}

func newArc(from Point, heading, radius, sweep float64) arc {
	side := math.Copysign(90, sweep)
	return arc{from.plus(unit(heading + side).times(radius)), radius, heading, sweep}
}

func (a arc) length() float64 { return a.radius * math.Abs(a.sweep) / degree }

func (a arc) at(s float64) (Point, float64) {
	heading := a.heading + math.Copysign(s/a.radius*degree, a.sweep)
	if s >= a.length() {
		heading = a.heading + a.sweep
	}
	return a.point(heading), heading
}

// point is where the arc has a heading.
func (a arc) point(heading float64) Point {
	side := math.Copysign(90, a.sweep)
	return a.centre.plus(unit(heading - side).times(a.radius))
}

func (a arc) leastRadius() (radius, at float64) { return a.radius, a.length() / 2 }

func (a arc) bounds() Rect {
	r := span(a.point(a.heading), a.point(a.heading+a.sweep))
	// The circle reaches furthest where the heading runs along an axis.
	lo := min(a.heading, a.heading+a.sweep)
	hi := max(a.heading, a.heading+a.sweep)
	for h := 90 * math.Ceil(lo/90); h <= hi; h += 90 {
		p := a.point(h)
		r = r.union(span(p, p))
	}
	return r
}

func (a arc) moved(m Motion) part {
	a.centre, a.heading = m.Of(a.centre), m.Heading(a.heading)
	if m.mirrored {
		a.sweep = -a.sweep
	}
	return a
}
