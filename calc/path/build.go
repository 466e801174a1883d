package path

import (
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/quantity"
)

// degree is how many degrees a radian has.
const degree = 180 / math.Pi

// Error says which part of a path cannot be built, and why.
type Error struct {
	Part   string  // "piece" in New, "point" in Polyline and Smooth, "" where the whole path is meant
	Index  int     // of that part, counted from 0
	Field  string  // the figure at fault: "start", "heading", "to", "length", "radius", "sweep", "turn", "through", "away", "toward", "corner", "centre", "sides", "distance", "shift" or "spacing"
	Got    float64 // the figure, SI (degrees for angles)
	Limit  float64 // the limit that it breaks, where there is one
	Reason quantity.Phrase
}

func (e *Error) Error() string { return e.In(quantity.Metric) }

// In is the error for a reader of a habit.
func (e *Error) In(h quantity.Habit) string {
	if e.Part == "" {
		return e.Reason.In(h)
	}
	return fmt.Sprintf("%s %d: %s", e.Part, e.Index+1, e.Reason.In(h))
}

// New builds a path from a start, a first heading (degrees) and its pieces, of
// which there must be one at least. A refused piece gives an *Error.
func New(start Point, heading float64, pieces ...Piece) (Path, error) {
	if err := checkPoint("start", start); err != nil {
		return Path{}, err
	}
	if !(math.Abs(heading) <= 3600) {
		return Path{}, &Error{Field: "heading", Got: heading, Limit: 3600,
			Reason: quantity.Say("heading %s is out of range: -3600 to 3600 deg", degrees(heading))}
	}
	if len(pieces) == 0 {
		return Path{}, &Error{Field: "length", Limit: MinLength, Reason: quantity.Say("a path needs at least one piece")}
	}
	count := 0
	for _, piece := range pieces {
		count++
		if c, ok := piece.(Curve); ok {
			count += len(c.Through) - 1
		}
	}
	if count > MaxPoints {
		return Path{}, tooMany(count)
	}
	var p Path
	now := pen{start, heading}
	for i, piece := range pieces {
		parts, next, err := piece.parts(now.at, now.heading)
		if err != nil {
			if err.Part == "point" { // of a curve
				err.Reason = quantity.Say("%s %d: %s", err.Part, err.Index+1, err.Reason)
			}
			err.Part, err.Index = "piece", i
			return Path{}, err
		}
		p.append(parts)
		if p.Length() > MaxSize {
			return Path{}, &Error{Part: "piece", Index: i, Field: "length", Got: p.Length(), Limit: MaxSize,
				Reason: quantity.Say("the path is %s long by here; at most %s is allowed", metresAgainst(p.Length(), MaxSize), metres(MaxSize))}
		}
		now = next
	}
	return p, nil
}

func (p *Path) append(parts []part) {
	end := p.Length()
	for _, q := range parts {
		end += q.length()
		p.parts = append(p.parts, q)
		p.ends = append(p.ends, end)
	}
}

// Polyline joins at least two points with straight lines.
func Polyline(points []Point) (Path, error) {
	if err := checkThrough(points); err != nil {
		return Path{}, err
	}
	pieces := make([]Piece, 0, len(points))
	for _, to := range points[1:] {
		pieces = append(pieces, LineTo{to})
	}
	p, err := New(points[0], 0, pieces...)
	if e, ok := err.(*Error); ok && e.Part == "piece" {
		e.Part, e.Index = "point", e.Index+1
	}
	return p, err
}

// Smooth is a smooth curve through at least two points, each reached in turn.
//
// Between two points it is a cubic with the points as its ends. The derivative
// at a point is that of the parabola through it and its two neighbours (at the
// ends of the path, through the nearest three), over parameter steps of
// sqrt(distance). Inside, that is the centripetal Catmull-Rom curve: it goes on
// evenly in direction, never overshoots into a loop or a cusp between two points,
// and a point moves the curve for no more than two points around it. Two points
// give a straight line, three give one parabola. Curvature may jump at a point,
// and points that double back exactly make a corner.
//
// On points θ apart on a circle of radius r its least radius is about
// r (1 - 3/4 θ²), on the safe side: 5 % for 15 degrees.
//
// Sources: E. Catmull and R. Rom, A class of local interpolating splines,
// Computer Aided Geometric Design, 1974; C. Yuksel, S. Schaefer and J. Keyser,
// Parameterization and applications of Catmull-Rom curves, Computer-Aided
// Design 43, 2011 (centripetal steps); C. de Boor, A Practical Guide to
// Splines, chapter IV (Bessel interpolation, for the ends). All from memory.
func Smooth(points []Point) (Path, error) {
	if err := checkThrough(points); err != nil {
		return Path{}, err
	}
	parts, _, err := Curve{points[1:]}.parts(points[0], 0)
	if err != nil {
		err.Index++
		return Path{}, err
	}
	var p Path
	p.append(parts)
	if p.Length() > MaxSize {
		return Path{}, &Error{Field: "through", Got: p.Length(), Limit: MaxSize,
			Reason: quantity.Say("the path is %s long; at most %s is allowed", metresAgainst(p.Length(), MaxSize), metres(MaxSize))}
	}
	return p, nil
}

// Loop is the smooth curve through at least three points and on to the first of
// them again, which it passes as evenly as the others.
func Loop(points []Point) (Path, error) {
	if n := len(points); n > 1 && points[n-1].minus(points[0]).norm() < MinLength {
		points = points[:n-1]
	}
	n := len(points)
	if n < 3 {
		return Path{}, &Error{Field: "through", Got: float64(n), Limit: 3,
			Reason: quantity.Say("a closed curve needs at least three points; there are %d", n)}
	}
	around := slices.Concat(points[n-1:], points, points[:2])
	p, err := Smooth(around)
	if err != nil {
		if e, ok := err.(*Error); ok && e.Part == "point" {
			e.Index = (e.Index + n - 1) % n
		}
		return Path{}, err
	}
	var q Path
	q.append(p.parts[1 : n+1])
	return q, nil
}

// Closed is the path with a straight line from its end back to its start, where
// it does not end there already.
func (p Path) Closed() (Path, error) {
	x, y, _ := p.At(0)
	start := Point{x, y}
	x, y, heading := p.At(p.Length())
	if start.minus(Point{x, y}).norm() < MinLength {
		return p, nil
	}
	back, _, err := LineTo{start}.parts(Point{x, y}, heading)
	if err != nil {
		return Path{}, err
	}
	q := Path{slices.Clip(p.parts), slices.Clip(p.ends)}
	if q.append(back); q.Length() > MaxSize {
		return Path{}, &Error{Field: "length", Got: q.Length(), Limit: MaxSize,
			Reason: quantity.Say("the path is %s long where it is closed; at most %s is allowed", metresAgainst(q.Length(), MaxSize), metres(MaxSize))}
	}
	return q, nil
}

// checkThrough judges the number of points and the first of them; the others
// are judged as they are reached.
func checkThrough(points []Point) error {
	if len(points) < 2 {
		return &Error{Field: "through", Got: float64(len(points)), Limit: 2,
			Reason: quantity.Say("a path needs at least two points; there are %d", len(points))}
	}
	if len(points) > MaxPoints {
		return tooMany(len(points))
	}
	if err := checkPoint("through", points[0]); err != nil {
		err.Part = "point"
		return err
	}
	return nil
}

func tooMany(count int) *Error {
	return &Error{Field: "through", Got: float64(count), Limit: MaxPoints,
		Reason: quantity.Say("a path of %d points is too large: at most %d", count, MaxPoints)}
}

func checkPoint(field string, p Point) *Error {
	if err := checkSize(field, p.X, -MaxSize, "x"); err != nil {
		return err
	}
	return checkSize(field, p.Y, -MaxSize, "y")
}

// checkStep judges a point and that it lies away from the one before.
func checkStep(field string, from, to Point) *Error {
	if err := checkPoint(field, to); err != nil {
		return err
	}
	if d := to.minus(from).norm(); d < MinLength {
		return &Error{Field: field, Got: d, Limit: MinLength,
			Reason: quantity.Say("it ends where it starts, at (%s, %s)", metres(to.X), metres(to.Y))}
	}
	return nil
}

func checkArc(radius float64, turn Turn) *Error {
	if err := checkSize("radius", radius, MinLength, "radius"); err != nil {
		return err
	}
	if turn != Left && turn != Right {
		return &Error{Field: "turn", Got: float64(turn), Reason: quantity.Say("an arc turns left or right; which is not said")}
	}
	return nil
}

// checkSize judges one length or coordinate against a least value and MaxSize.
func checkSize(field string, v, least float64, name string) *Error {
	switch {
	case math.IsNaN(v):
		return &Error{Field: field, Got: v, Reason: quantity.Say("%s is not a number", name)}
	case v > MaxSize:
		return &Error{Field: field, Got: v, Limit: MaxSize,
			Reason: quantity.Say("%s %s is too large: at most %s", name, metresAgainst(v, MaxSize), metres(MaxSize))}
	case v < least:
		return &Error{Field: field, Got: v, Limit: least,
			Reason: quantity.Say("%s %s is too small: at least %s", name, metresAgainst(v, least), metres(least))}
	}
	return nil
}

func metres(v float64) any { return quantity.Shown(quantity.Length, v) }

// metresAgainst shows a length that breaks a limit so that it reads differently.
func metresAgainst(v, limit float64) any { return quantity.ShownAgainst(quantity.Length, v, limit) }

func degrees(v float64) string { return fmt.Sprintf("%.6g deg", v) }

// roundUp rounds a length up to three significant digits, as metres shows it.
func roundUp(v float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Ceil(v/step*(1-1e-9)) * step
}
