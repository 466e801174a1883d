package path

import (
	"math"

	"ohmstead/calc/quantity"
)

// Turn is the hand to which an arc bends as one travels along it.
type Turn int

// Left is counter-clockwise. The zero Turn is neither and is refused.
const (
	Left Turn = iota + 1
	Right
)

// sign is +1 to the left, -1 to the right.
func (t Turn) sign() float64 {
	if t == Right {
		return -1
	}
	return 1
}

// Piece is one part of a path as it is described: Line, LineTo, Arc, ArcTo,
// Bezier or Curve. It begins where the part before it ended.
type Piece interface {
	// parts works the piece out from a place and a heading, and says where
	// and at which heading it ends.
	parts(from Point, heading float64) ([]part, pen, *Error)
}

// pen is where drawing has got to.
type pen struct {
	at      Point
	heading float64 // degrees
}

// Line goes straight on along the present heading.
type Line struct{ Length float64 } // m

// LineTo goes straight to a point.
type LineTo struct{ To Point }

// Arc bends away from the present heading, so that it begins without a corner.
type Arc struct {
	Radius float64 // m
	Sweep  float64 // degrees, above 0, at most 360
	Turn   Turn
}

// ArcTo is the arc of a circle to a point. Two arcs of one radius bend to the
// same hand: the one of at most half a turn and, with Long, the other.
// Whether it leaves along the present heading follows from its figures; where
// it does not, it begins with a corner.
type ArcTo struct {
	To     Point
	Radius float64 // m, at least half the way to To
	Turn   Turn
	Long   bool
}

// Curve is a smooth curve from the present place through further points. It
// takes its first heading from the points, as Smooth does.
type Curve struct{ Through []Point }

// Bezier is a cubic Bezier curve to a point: it leaves towards its first control
// point and comes in from its second. It may end where it starts.
type Bezier struct{ C1, C2, To Point }

func (l Line) parts(from Point, heading float64) ([]part, pen, *Error) {
	if err := checkSize("length", l.Length, MinLength, "length"); err != nil {
		return nil, pen{}, err
	}
	q := line{from: from, heading: heading, len: l.Length}
	end, _ := q.at(l.Length)
	return []part{q}, pen{end, heading}, nil
}

func (l LineTo) parts(from Point, _ float64) ([]part, pen, *Error) {
	if err := checkStep("to", from, l.To); err != nil {
		return nil, pen{}, err
	}
	delta := l.To.minus(from)
	q := line{from: from, heading: delta.heading(), len: delta.norm()}
	return []part{q}, pen{l.To, q.heading}, nil
}

func (a Arc) parts(from Point, heading float64) ([]part, pen, *Error) {
	if err := checkArc(a.Radius, a.Turn); err != nil {
		return nil, pen{}, err
	}
	if !(a.Sweep > 0 && a.Sweep <= 360) {
		return nil, pen{}, &Error{Field: "sweep", Got: a.Sweep, Limit: 360,
			Reason: quantity.Say("sweep %s is out of range: above 0, at most 360 deg", degrees(a.Sweep))}
	}
	q := newArc(from, heading, a.Radius, a.Sweep*a.Turn.sign())
	if q.length() < MinLength {
		return nil, pen{}, &Error{Field: "sweep", Got: a.Sweep, Limit: MinLength / a.Radius * degree,
			Reason: quantity.Say("sweep %s on a radius of %s has no length", degrees(a.Sweep), metres(a.Radius))}
	}
	end, out := q.at(q.length())
	if a.Sweep == 360 {
		end = from
	}
	return []part{q}, pen{end, out}, nil
}

func (a ArcTo) parts(from Point, _ float64) ([]part, pen, *Error) {
	if err := checkStep("to", from, a.To); err != nil {
		return nil, pen{}, err
	}
	if err := checkArc(a.Radius, a.Turn); err != nil {
		return nil, pen{}, err
	}
	chord := a.To.minus(from)
	half := chord.norm() / 2
	r := a.Radius
	if half > r+Closing/2 {
		return nil, pen{}, &Error{Field: "radius", Got: r, Limit: half,
			Reason: quantity.Say("radius %s is too small to reach a point %s away; the least radius that does is %s",
				metresAgainst(r, roundUp(half)), metres(2*half), metres(roundUp(half)))}
	}
	// Half the sweep is asin(half/r). Near a half circle it answers to the last
	// digit of the figures, so one meant to be a half circle is made one.
	sweep := 180.0
	if half < r*(1-1e-13) {
		sweep = 2 * math.Asin(half/r) * degree
	} else {
		r = half
	}
	if a.Long {
		sweep = 360 - sweep
	}
	sweep *= a.Turn.sign()
	// The chord's heading is that of the arc's middle.
	q := newArc(from, chord.heading()-sweep/2, r, sweep)
	return []part{q}, pen{a.To, q.heading + sweep}, nil
}

func (b Bezier) parts(from Point, _ float64) ([]part, pen, *Error) {
	size := 0.0
	for _, c := range []struct {
		field string
		at    Point
	}{{"away", b.C1}, {"toward", b.C2}, {"to", b.To}} {
		if err := checkPoint(c.field, c.at); err != nil {
			return nil, pen{}, err
		}
		size = max(size, c.at.minus(from).norm())
	}
	q := newCubic(from, b.To, b.C1.minus(from).times(3), b.To.minus(b.C2).times(3))
	if size < MinLength || q.len < MinLength {
		return nil, pen{}, &Error{Field: "to", Got: q.len, Limit: MinLength,
			Reason: quantity.Say("it stays where it starts, at (%s, %s)", metres(from.X), metres(from.Y))}
	}
	return []part{q}, pen{b.To, q.heading(1)}, nil
}

func (c Curve) parts(from Point, _ float64) ([]part, pen, *Error) {
	if len(c.Through) == 0 {
		return nil, pen{}, &Error{Field: "through", Limit: 1, Reason: quantity.Say("a curve needs at least one point to go to")}
	}
	points := append([]Point{from}, c.Through...)
	for i := 1; i < len(points); i++ {
		if err := checkStep("through", points[i-1], points[i]); err != nil {
			err.Part, err.Index = "point", i-1
			return nil, pen{}, err
		}
	}
	parts := smooth(points)
	last := parts[len(parts)-1]
	_, out := last.at(last.length())
	return parts, pen{points[len(points)-1], out}, nil
}
