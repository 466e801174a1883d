// Package path holds the geometry of a run on its surface: lengths, bends and
// places along it.
//
// Coordinates are metres, x to the right and y up. Headings are degrees,
// 0 along +x, counter-clockwise. A path is built once and never changes.
package path

import (
	"math"
	"sort"

	"ohmstead/calc/quantity"
)

// Limits of a path; beyond them a figure is taken for a slip.
const (
	MaxSize   = 10_000.0  // m: any coordinate, length or radius, and the whole path
	Closing   = 1e-4      // m: what a shape that meets itself may be off, as lengths are rounded when they are written in other units
	MinLength = 1e-6      // m: a piece shorter than this has no direction
	MaxPoints = 10_000    // pieces and points of curves together
	MaxDrawn  = 1_000_000 // points to draw a path through
)

// CornerAngle is the least jump of heading, degrees, that is a corner. A
// smaller one comes from rounded measurements and is taken up by the strip.
// Common practice, no source.
const CornerAngle = 1.0

const (
	// noise is a jump of heading, degrees, that only rounding makes.
	noise = 1e-5
	// straightRadius in m: a curve no tighter than this is straight.
	straightRadius = 1e7
)

// Point is a place on a surface, m.
type Point struct{ X, Y float64 }

// Rect is an upright rectangle, m.
type Rect struct{ MinX, MinY, MaxX, MaxY float64 }

// Path is the centre line of a run. The zero Path is a point at the origin.
type Path struct {
	parts []part
	ends  []float64 // m from the start to the end of each part
}

// part is one line, arc or cubic with all its figures known.
type part interface {
	length() float64
	at(s float64) (Point, float64)     // place and heading (degrees) at 0 <= s <= length
	leastRadius() (radius, at float64) // m; +Inf at 0 when straight
	bounds() Rect                      // of the whole part
	moved(m Motion) part               // the same part elsewhere
	stroke(from, to float64) Stroke    // a stretch of it, m from its start
	offset(d float64) []part           // what lies d metres to its left, where there is room for it
}

// Corner is a place where the heading jumps by CornerAngle or more; at a cusp of
// a curve by half a turn.
type Corner struct {
	At   float64 // m from the start
	X, Y float64 // m
	Turn float64 // degrees, above -180 to 180, positive to the left
}

// Length in m.
func (p Path) Length() float64 {
	if len(p.ends) == 0 {
		return 0
	}
	return p.ends[len(p.ends)-1]
}

// find is the part that holds place s, and how far along the part that is. A
// place between two parts belongs to the later one.
func (p Path) find(s float64) (i int, along float64) {
	i = sort.Search(len(p.ends), func(i int) bool { return p.ends[i] > s })
	i = min(i, len(p.parts)-1)
	along = s
	if i > 0 {
		along -= p.ends[i-1]
	}
	return i, min(max(along, 0), p.parts[i].length())
}

// At is the place s metres along the path and the heading there, degrees above
// -180 to 180. s is clamped to the path, NaN to its start; at a corner the
// heading is that after it.
func (p Path) At(s float64) (x, y, heading float64) {
	if len(p.parts) == 0 {
		return 0, 0, 0
	}
	if !(s > 0) {
		s = 0
	}
	i, along := p.find(min(s, p.Length()))
	at, h := p.parts[i].at(along)
	return at.X, at.Y, normal(h)
}

// PartAt is the number of the line, arc or curve that holds a place, counted
// from 0; where two meet it is the later one.
func (p Path) PartAt(s float64) int {
	i, _ := p.find(min(max(s, 0), p.Length()))
	return i
}

// LeastRadius is the radius of the tightest bend, m, and where it is, m from
// the start: the middle of an arc, the first of several equal ones. It is 0 at
// a corner, and +Inf at 0 for a straight path.
//
// Between two parts that meet at less than CornerAngle, the bend is the largest
// arc that touches both and takes no more than half of either,
// r = l / (2 tan(θ/2)) with l the shorter part and θ the jump of heading; so a
// circle drawn as a polyline of many points still has its radius.
func (p Path) LeastRadius() (radius, at float64) {
	radius = math.Inf(1)
	var from float64
	for i, q := range p.parts {
		if i > 0 {
			if r := p.jointRadius(i); r < radius {
				radius, at = r, from
			}
		}
		if r, s := q.leastRadius(); r < radius {
			radius, at = r, from+s
		}
		from = p.ends[i]
	}
	if radius > straightRadius {
		return math.Inf(1), 0
	}
	return radius, at
}

// jump is the change of heading where part i begins, degrees.
func (p Path) jump(i int) float64 {
	before := p.parts[i-1]
	_, h0 := before.at(before.length())
	_, h1 := p.parts[i].at(0)
	return normal(h1 - h0)
}

func (p Path) jointRadius(i int) float64 {
	turn := math.Abs(p.jump(i))
	switch {
	case turn < noise:
		return math.Inf(1)
	case turn >= CornerAngle:
		return 0
	}
	l := min(p.parts[i-1].length(), p.parts[i].length())
	return l / 2 / math.Tan(turn/2*math.Pi/180)
}

// Corners lists the corners in order.
func (p Path) Corners() []Corner {
	var corners []Corner
	for i := 1; i < len(p.parts); i++ {
		corners = append(corners, p.cusps(i-1)...)
		if turn := p.jump(i); math.Abs(turn) >= CornerAngle {
			at, _ := p.parts[i].at(0)
			corners = append(corners, Corner{At: p.ends[i-1], X: at.X, Y: at.Y, Turn: turn})
		}
	}
	return append(corners, p.cusps(len(p.parts)-1)...)
}

// cusps are the places inside a part at which it turns back.
func (p Path) cusps(i int) (out []Corner) {
	if i < 0 {
		return nil
	}
	q, ok := p.parts[i].(*cubic)
	if !ok {
		return nil
	}
	for _, t := range q.cusps() {
		if s := q.distance(t); s > MinLength && s < q.len-MinLength {
			at := q.point(t)
			out = append(out, Corner{At: p.ends[i] - q.len + s, X: at.X, Y: at.Y, Turn: 180})
		}
	}
	return out
}

// Bounds is the least upright rectangle around the path.
func (p Path) Bounds() Rect {
	if len(p.parts) == 0 {
		return Rect{}
	}
	r := p.parts[0].bounds()
	for _, q := range p.parts[1:] {
		r = r.union(q.bounds())
	}
	return r
}

// Points are places to draw the path through: the ends of all pieces, and
// along bends further ones at even steps of at most spacing metres.
func (p Path) Points(spacing float64) ([]Point, error) {
	if !(spacing > 0) {
		return nil, &Error{Field: "spacing", Got: spacing, Reason: quantity.Say("spacing %s must be more than 0", metres(spacing))}
	}
	if len(p.parts) == 0 {
		return []Point{{}}, nil
	}
	first, _ := p.parts[0].at(0)
	points := []Point{first}
	for _, q := range p.parts {
		steps := 1.0
		if _, straight := q.(line); !straight {
			steps = max(1, math.Ceil(q.length()/spacing-1e-9))
		}
		if float64(len(points))+steps > MaxDrawn {
			return nil, &Error{Field: "spacing", Got: spacing, Limit: p.Length() / MaxDrawn,
				Reason: quantity.Say("spacing %s takes too many points for a path of %s", metres(spacing), metres(p.Length()))}
		}
		for i := 1.0; i <= steps; i++ {
			at, _ := q.at(q.length() * (i / steps))
			points = append(points, at)
		}
	}
	return points, nil
}

func (r Rect) union(o Rect) Rect {
	return Rect{min(r.MinX, o.MinX), min(r.MinY, o.MinY), max(r.MaxX, o.MaxX), max(r.MaxY, o.MaxY)}
}

// apart reports whether two rectangles lie further than near from each other, along one of the axes.
func (r Rect) apart(o Rect, near float64) bool {
	return r.MinX > o.MaxX+near || o.MinX > r.MaxX+near || r.MinY > o.MaxY+near || o.MinY > r.MaxY+near
}

// span is the rectangle that two points span.
func span(a, b Point) Rect {
	return Rect{min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y)}
}

func (p Point) plus(q Point) Point    { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point   { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(k float64) Point { return Point{p.X * k, p.Y * k} }
func (p Point) dot(q Point) float64   { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }
func (p Point) norm() float64         { return math.Hypot(p.X, p.Y) }
func (p Point) heading() float64      { return math.Atan2(p.Y, p.X) * 180 / math.Pi }

// unit is the vector of length 1 at an angle in degrees; exact along the axes.
func unit(degrees float64) Point {
	switch normal(degrees) {
	case 0:
		return Point{1, 0}
	case 90:
		return Point{0, 1}
	case 180:
		return Point{-1, 0}
	case -90:
		return Point{0, -1}
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Point{cos, sin}
}

// normal brings an angle in degrees above -180 to 180.
func normal(degrees float64) float64 {
	d := math.Remainder(degrees, 360)
	if d == -180 {
		return 180
	}
	return d
}
