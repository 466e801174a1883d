package figures

import (
	"math"

	"ohmstead/calc/path"
	"ohmstead/calc/pixels"
	"ohmstead/schema"
)

// Outside is how far the run's centre line reaches past the edge of its
// surface, m; 0 where it stays on it or its place is not known.
func (run *Run) Outside() float64 {
	s := run.On.V
	if run.Path == nil || !run.On.Known() || s == nil || !s.Width.Known() || !s.Height.Known() {
		return 0
	}
	b := run.Path.Bounds()
	return outside(s, b)
}

func outside(s *schema.Surface, b path.Rect) float64 {
	over := max(-b.MinX, -b.MinY, b.MaxX-s.Width.V.SI, b.MaxY-s.Height.V.SI)
	if over < 1e-6 {
		return 0
	}
	return over
}

// PlaceOutside is Outside for a thing at one place.
func PlaceOutside(s *schema.Surface, at schema.XY) float64 {
	if !s.Width.Known() || !s.Height.Known() {
		return 0
	}
	return outside(s, path.Rect{MinX: at.X, MinY: at.Y, MaxX: at.X, MaxY: at.Y})
}

// PlaceIn reports whether a place lies within a keepout; its edge is free.
func PlaceIn(k *schema.Keepout, at schema.XY) bool {
	r := rect(k)
	return at.X > r.MinX && at.X < r.MaxX && at.Y > r.MinY && at.Y < r.MaxY
}

func rect(k *schema.Keepout) path.Rect {
	a, b := k.From.V, k.To.V
	return path.Rect{MinX: min(a.X, b.X), MinY: min(a.Y, b.Y), MaxX: max(a.X, b.X), MaxY: max(a.Y, b.Y)}
}

// Crosses finds the first stretch of the run's centre line that lies within a
// keepout, m from the start; its edge is free. It looks at steps of a
// centimetre, or of 1/10000 of a very long run.
func (run *Run) Crosses(k *schema.Keepout) (from, to float64, ok bool) {
	if run.Path == nil || !k.From.Known() || !k.To.Known() {
		return 0, 0, false
	}
	r := rect(k)
	if b := run.Path.Bounds(); b.MaxX <= r.MinX || b.MinX >= r.MaxX || b.MaxY <= r.MinY || b.MinY >= r.MaxY {
		return 0, 0, false
	}
	steps := int(math.Min(math.Ceil(run.Length/0.01), 10000))
	x0, y0, _ := run.Path.At(0)
	for i := range steps {
		s0, s1 := run.Length*float64(i)/float64(steps), run.Length*float64(i+1)/float64(steps)
		x1, y1, _ := run.Path.At(s1)
		a, b, in := clipped(r, x0, y0, x1, y1)
		switch {
		case in && !ok:
			from, to, ok = s0+a*(s1-s0), s0+b*(s1-s0), true
		case in && a == 0:
			to = s0 + b*(s1-s0)
		case ok:
			return from, to, true
		}
		x0, y0 = x1, y1
	}
	return from, to, ok
}

// clipped gives the part of a straight line, as shares of it, that lies within
// a rectangle (Liang and Barsky's clipping).
func clipped(r path.Rect, x0, y0, x1, y1 float64) (a, b float64, in bool) {
	a, b = 0, 1
	for _, side := range [][2]float64{{x0 - x1, x0 - r.MinX}, {x1 - x0, r.MaxX - x0}, {y0 - y1, y0 - r.MinY}, {y1 - y0, r.MaxY - y0}} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q <= 1e-9:
			return 0, 0, false
		case p < 0:
			a = math.Max(a, q/p)
		case p > 0:
			b = math.Min(b, q/p)
		}
	}
	return a, b, b-a > 1e-9
}

// FixingLoad is the mass that one of the run's inner fixings carries, kg: the
// weight of its diffuser over the distance between two; the strip, some 20 g/m,
// is not counted. ok is false where the plan does not say enough.
func (run *Run) FixingLoad() (kg float64, ok bool) {
	d, x := run.Diffuser.V, run.Fixing.V
	if !run.OK || d == nil || x == nil || !run.Diffuser.Known() || !run.Fixing.Known() || !d.Weight.Known() || !x.Spacing.Known() {
		return 0, false
	}
	at, err := pixels.Fixings(run.Length, x.Spacing.V.SI)
	if err != nil {
		return 0, false
	}
	if len(at) < 2 {
		return d.Weight.V.SI * run.Length, true
	}
	inner := at[1] - at[0]
	if len(at) == 2 {
		inner = run.Length / 2
	}
	return d.Weight.V.SI * inner, true
}

// FixingSpacing is the distance between fixings at which each carries no more
// than it holds, m, rounded down to a centimetre; 0 where none does.
func (run *Run) FixingSpacing() float64 {
	d, x := run.Diffuser.V, run.Fixing.V
	if d == nil || x == nil || !d.Weight.Known() || !x.Holds.Known() {
		return 0
	}
	return math.Floor(x.Holds.V.SI/d.Weight.V.SI*100) / 100
}

// PointAt is the place of a straight run's drawing that lies at or nearest
// behind a distance from the start, m, counted from 0.
func (run *Run) PointAt(at float64) int {
	s := 0.0
	for i := 1; i < len(run.Through.V); i++ {
		a, b := run.Through.V[i-1], run.Through.V[i]
		s += math.Hypot(b.X-a.X, b.Y-a.Y)
		if s >= at-1e-6 {
			return i
		}
	}
	return max(len(run.Through.V)-1, 0)
}

// Smoothed is the least radius, m, that the run would have in a smooth curve
// through its places; 0 where there are too few for one.
func (run *Run) Smoothed() float64 {
	var points []path.Point
	for _, xy := range run.Through.V {
		points = append(points, path.Point{X: xy.X, Y: xy.Y})
	}
	p, err := path.Smooth(points)
	if err != nil || len(points) < 3 {
		return 0
	}
	least, _ := p.LeastRadius()
	return least
}
