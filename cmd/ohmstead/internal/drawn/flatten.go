package drawn

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"ohmstead/calc/path"
)

// Shape is one run as it is drawn.
type Shape struct {
	Name   string
	Line   int // of the file
	Start  complex128
	Steps  []Step
	Closed bool
	Radius float64 // m, where it is a whole circle around Centre
	Centre complex128
}

// Step is a straight line, an arc or a cubic curve to a place, m.
type Step struct {
	To     complex128
	Curve  bool
	C1, C2 complex128 // control points of a curve
	Radius float64    // of an arc
	Left   bool
	Long   bool
}

// near is how far what is written may lie from what is drawn, m, beside the
// rounding of its last digit.
const near = 0.01e-3

// flatten is a contour in m, with every place at a multiple of what is written:
// arcs that are parts of circles stay arcs, other parts of ellipses become
// curves. Pieces too short to be written are left out.
func flatten(c contour, m affine, u unit) (s Shape, err error) {
	s = Shape{Start: u.snap(m.of(c.start)), Closed: c.closed}
	now := s.Start // as written
	add := func(steps ...Step) {
		for _, t := range steps {
			if t.To != now || t.Curve && (t.C1 != now || t.C2 != now) {
				s.Steps = append(s.Steps, t)
				now = t.To
			}
		}
	}
	last := m.of(c.start)
	pieces := make([]piece, len(c.pieces))
	for i, p := range c.pieces {
		pieces[i] = p.mapped(m)
	}
	if s.Radius = circleRadius(pieces); s.Radius > 0 {
		s.Radius, s.Centre = u.round(s.Radius), u.snap(pieces[0].centre)
	}
	for _, p := range pieces {
		switch p.kind {
		case straight:
			add(Step{To: u.snap(p.to)})
		case curve:
			add(curved(now, p, u))
		default:
			if !finite(p.centre) || !finite(p.u) || !finite(p.v) {
				return s, errLarge
			}
			if radius, side := p.circular(); radius > 0 {
				add(p.arcs(last, radius, side, u, 0)...)
			} else {
				add(p.cubics(u)...)
			}
		}
		last = p.to
	}
	if c.closed && now != s.Start {
		add(Step{To: s.Start})
	}
	if len(s.Steps) == 0 && finite(s.Start) {
		return s, errShort
	}
	if _, err := s.Path(); err != nil {
		return s, errLarge
	}
	return s, nil
}

var (
	errShort = errors.New("has a part without length, which is left out")
	errLarge = fmt.Errorf("cannot be built: it has a place or length beyond %g m, or more than %d pieces; it is left out", path.MaxSize, path.MaxPoints)
)

// circleRadius is the radius of pieces that are a circle together, else 0.
func circleRadius(pieces []piece) (radius float64) {
	sweep := 0.0
	for i, p := range pieces {
		if p.kind != ellipse {
			return 0
		}
		r, side := p.circular()
		if i == 0 {
			radius = r
		}
		if r == 0 || math.Abs(r-radius) > near || cmplx.Abs(p.centre-pieces[0].centre) > near {
			return 0
		}
		sweep += side * p.sweep
	}
	if math.Abs(math.Abs(sweep)-2*math.Pi) > 1e-6 {
		return 0
	}
	return radius
}

func finite(z complex128) bool { return cmplx.Abs(z) <= path.MaxSize*1e3 } // and not NaN

// curved is a curve, or a line where it is as good as one.
func curved(from complex128, p piece, u unit) Step {
	to := u.snap(p.to)
	t := Step{To: to, Curve: true, C1: u.snap(p.c1), C2: u.snap(p.c2)}
	delta := to - from
	if length := cmplx.Abs(delta); length > 0 {
		along := cmplx.Conj(delta) / complex(length, 0)
		a, b := (p.c1-from)*along, (p.c2-from)*along
		if math.Abs(imag(a)) < near && math.Abs(imag(b)) < near && -near < real(a) && real(a) <= real(b)+near && real(b) < length+near {
			return Step{To: to}
		}
	}
	return t
}

// circular is the radius of an ellipse that is a circle, else 0, and 1 where
// its angle grows to the left, -1 to the right.
func (p piece) circular() (radius, side float64) {
	a, b := cmplx.Abs(p.u), cmplx.Abs(p.v)
	across := p.v * cmplx.Conj(p.u)
	if math.Abs(a-b) > near || math.Abs(real(across)) > near*a {
		return 0, 0
	}
	return (a + b) / 2, math.Copysign(1, imag(across))
}

// arcs are the steps for part of a circle: one where its figures, rounded, give
// the same arc, else two halves of it.
func (p piece) arcs(from complex128, radius, side float64, u unit, depth int) []Step {
	left := side*p.sweep > 0
	t := Step{To: u.snap(p.to), Radius: u.round(radius), Left: left, Long: math.Abs(p.sweep) > math.Pi}
	start := u.snap(from)
	if t.To == start && math.Abs(p.sweep) < 1 { // too short to be written
		return nil
	}
	if q, err := path.New(at(start), 0, t.piece()); err == nil {
		x, y, _ := q.At(q.Length() / 2)
		if cmplx.Abs(complex(x, y)-p.at(0.5)) <= 2*near {
			return []Step{t}
		}
	}
	if depth == 4 { // a circle that is too large
		return p.cubics(u)
	}
	one, two := p, p
	one.sweep /= 2
	one.to = p.at(0.5)
	two.from, two.sweep = p.from+one.sweep, one.sweep
	return append(one.arcs(from, radius, side, u, depth+1), two.arcs(one.to, radius, side, u, depth+1)...)
}

// cubics are the steps for part of an ellipse, as curves: on a unit circle, the
// control points lie 4/3 tan(α/4) along the tangents at the ends of an angle α,
// and the curve leaves the circle by about 4/27 sin⁶(α/4) / cos²(α/4).
//
// Source: M. Goldapp, Approximation of circular arcs by cubic polynomials,
// Computer Aided Geometric Design 8, 1991 (from memory; a test measures it).
func (p piece) cubics(u unit) []Step {
	size := max(cmplx.Abs(p.u), cmplx.Abs(p.v))
	n := 1.0
	for ; n < 512; n++ {
		quarter := math.Abs(p.sweep) / n / 4
		if quarter < 0.5 && 4.0/27*math.Pow(math.Sin(quarter), 6)/math.Pow(math.Cos(quarter), 2)*size < near {
			break
		}
	}
	angle := p.sweep / n
	k := 4.0 / 3 * math.Tan(angle/4)
	steps := make([]Step, int(n))
	tangent := func(share float64) complex128 {
		sin, cos := math.Sincos(p.from + share*p.sweep)
		return (p.v*complex(cos, 0) - p.u*complex(sin, 0)) * complex(k, 0)
	}
	for i := range steps {
		a, b := float64(i)/n, float64(i+1)/n
		to := p.at(b)
		if i == len(steps)-1 {
			to = p.to
		}
		steps[i] = Step{To: u.snap(to), Curve: true, C1: u.snap(p.at(a) + tangent(a)), C2: u.snap(p.at(b) - tangent(b))}
	}
	return steps
}

func at(z complex128) path.Point { return path.Point{X: real(z), Y: imag(z)} }

// piece is the step as part of a path.
func (t Step) piece() path.Piece {
	turn := path.Right
	if t.Left {
		turn = path.Left
	}
	switch {
	case t.Curve:
		return path.Bezier{C1: at(t.C1), C2: at(t.C2), To: at(t.To)}
	case t.Radius > 0:
		return path.ArcTo{To: at(t.To), Radius: t.Radius, Turn: turn, Long: t.Long}
	}
	return path.LineTo{To: at(t.To)}
}

// Path is the shape as a path.
func (s *Shape) Path() (path.Path, error) {
	pieces := make([]path.Piece, len(s.Steps))
	for i, t := range s.Steps {
		pieces[i] = t.piece()
	}
	return path.New(at(s.Start), 0, pieces...)
}

// moved moves the shape.
func (s *Shape) moved(by complex128) {
	s.Start, s.Centre = s.Start+by, s.Centre+by
	for i := range s.Steps {
		t := &s.Steps[i]
		t.To, t.C1, t.C2 = t.To+by, t.C1+by, t.C2+by
	}
}

// lines reports whether it has straight lines only.
func (s *Shape) lines() bool {
	for _, t := range s.Steps {
		if t.Curve || t.Radius > 0 {
			return false
		}
	}
	return true
}
