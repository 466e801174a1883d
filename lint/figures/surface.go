package figures

import (
	"math"
	"slices"

	"ohmstead/calc/path"
	"ohmstead/calc/thermal"
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
	by := outside(s, b)
	if by == 0 || len(run.frames) < 2 {
		return by
	}
	by = 0
	points, err := run.Path.Points(max(0.01, run.Length/1000))
	if err != nil {
		return 0
	}
	for _, p := range points {
		least := math.Inf(1)
		for _, a := range run.frames {
			least = min(least, a.past(p.X, p.Y))
		}
		by = max(by, least)
	}
	if by < 1e-6 {
		return 0
	}
	return by
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
// keepout, m from the start; its edge is free.
func (run *Run) Crosses(k *schema.Keepout) (from, to float64, ok bool) {
	if run.Path == nil || !k.From.Known() || !k.To.Known() {
		return 0, 0, false
	}
	r := rect(k)
	for _, a := range run.frames {
		if slices.Contains(a.Keepouts, k) {
			r = path.Rect{MinX: r.MinX + a.X, MinY: r.MinY + a.Y, MaxX: r.MaxX + a.X, MaxY: r.MaxY + a.Y}
		}
	}
	return run.Path.Within(r)
}

// Growth is how much a piece of the run's diffuser and of its cover grow from
// the coldest air to the warmest, and as much more as its light warms it, in the
// worst case but full, m; cover is 0 where it has none.
type Growth struct {
	Piece       float64 // m, the length that grows
	Cold, Hot   float64 // degC
	Body, Cover float64 // m
}

// Growth works it out; false where the plan does not say enough.
func (f *Figures) Growth(run *Run) (g Growth, ok bool) {
	d := run.Diffuser.V
	cold, known := f.Plan.Coldest(run.On)
	if d == nil || !run.OK || !run.Diffuser.Known() || !d.Material.Known() || d.Cover.Bad || !known {
		return g, false
	}
	g = Growth{Piece: run.Length, Cold: cold.V.SI, Hot: f.Hottest(run)}
	if d.Piece.Known() {
		g.Piece = math.Min(g.Piece, d.Piece.V.SI)
	}
	var err1, err2 error
	g.Body, err1 = thermal.Expansion(grows[d.Material.V], g.Piece, g.Hot-g.Cold)
	g.Cover, err2 = thermal.Expansion(grows[d.Cover.V], g.Piece, g.Hot-g.Cold)
	return g, err1 == nil && err2 == nil && g.Hot > g.Cold
}

// grows is the expansion of the materials of diffusers, 1/K.
var grows = map[string]float64{
	"aluminium": thermal.Aluminium, "silicone": thermal.Silicone, "polycarbonate": thermal.Polycarbonate,
	"acrylic": thermal.Acrylic, "pvc": thermal.PVC,
}

// Warmest is the case but full in which a run gives off the most, and how much,
// W: all lit under the ceilings, or a case of the plan's own.
func (f *Figures) Warmest(run *Run) (name string, watts float64) {
	for _, c := range f.Cases {
		if rc := c.Runs[run.place]; rc.OK && c.Name != schema.Full && rc.Watts > watts {
			name, watts = c.Name, rc.Watts
		}
	}
	return name, watts
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
