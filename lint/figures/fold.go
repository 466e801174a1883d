package figures

import (
	"math"

	"ohmstead/calc/path"
	"ohmstead/schema"
)

// Frame is a surface in the plane of another one that it meets along an edge, or
// through others, with all of them folded out flat.
type Frame struct {
	*schema.Surface
	X, Y float64 // m, its lower left corner in that plane

	corner, u, v, n vector         // in space: its corner, its axes, and what points into the room
	edges           []*schema.Edge // those of its own that lead on
}

// vector is one in space, x and y in the plane of the first surface, z into the room.
type vector [3]float64

func (a vector) plus(b vector, k float64) vector {
	return vector{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]}
}

// unfold lays out what meets a surface, itself first.
func unfold(on *schema.Surface, behind map[*schema.Surface][]edgeOf) []Frame {
	frames := []Frame{{Surface: on, u: vector{1, 0, 0}, v: vector{0, 1, 0}, n: vector{0, 0, 1}}}
	seen := map[*schema.Surface]bool{on: true}
	for i := 0; i < len(frames) && len(frames) < mostUnfolded && sized(on); i++ {
		a := frames[i]
		for _, e := range a.Edges {
			if b := e.To.V; usable(e) && !seen[b] && sized(b) {
				seen[b] = true
				frames = append(frames, a.ahead(e, b))
				frames[i].edges = append(frames[i].edges, e)
			}
		}
		for _, x := range behind[a.Surface] {
			if b := x.of; !seen[b] && sized(b) {
				seen[b] = true
				back := a.behind(x.edge, b)
				back.edges = append(back.edges, x.edge)
				frames = append(frames, back)
			}
		}
	}
	return frames
}

// mostUnfolded is how many surfaces are folded out around one: more than a room has.
const mostUnfolded = 50

// edgeOf is an edge with the surface that it belongs to.
type edgeOf struct {
	of   *schema.Surface
	edge *schema.Edge
}

// unfoldAll folds out what meets each surface.
func (f *Figures) unfoldAll() {
	behind := map[*schema.Surface][]edgeOf{}
	for _, s := range f.Plan.Surfaces {
		for _, e := range s.Edges {
			if usable(e) {
				behind[e.To.V] = append(behind[e.To.V], edgeOf{s, e})
			}
		}
	}
	if len(behind) == 0 {
		return
	}
	for _, s := range f.Plan.Surfaces {
		f.frames[s] = unfold(s, behind)
	}
}

func sized(s *schema.Surface) bool { return s.Width.Known() && s.Height.Known() }

func usable(e *schema.Edge) bool {
	return e.Side.Known() && e.To.Known() && e.To.V != nil && e.Angle.Known() && !e.Radius.Bad
}

// fold is the angle that an edge folds by into the room.
func fold(e *schema.Edge) (sin, cos float64) { return math.Sincos(math.Pi * (1 - e.Angle.V.SI/180)) }

// ahead is the surface behind an edge of this one.
func (a Frame) ahead(e *schema.Edge, s *schema.Surface) Frame {
	sin, cos := fold(e)
	b := Frame{Surface: s, X: a.X, Y: a.Y, corner: a.corner, u: a.u, v: a.v}
	across := &b.u
	if e.Side.V == "top" {
		across = &b.v
		b.Y += a.Height.V.SI
		b.corner = b.corner.plus(a.v, a.Height.V.SI)
	} else {
		b.X += a.Width.V.SI
		b.corner = b.corner.plus(a.u, a.Width.V.SI)
	}
	b.n = vector{}.plus(a.n, cos).plus(*across, -sin)
	*across = vector{}.plus(*across, cos).plus(a.n, sin)
	return b
}

// behind is the surface whose edge this one lies behind.
func (a Frame) behind(e *schema.Edge, s *schema.Surface) Frame {
	sin, cos := fold(e)
	b := Frame{Surface: s, X: a.X, Y: a.Y, corner: a.corner, u: a.u, v: a.v}
	across, size := &b.u, s.Width.V.SI
	if e.Side.V == "top" {
		across, size = &b.v, s.Height.V.SI
		b.Y -= size
	} else {
		b.X -= size
	}
	b.n = vector{}.plus(a.n, cos).plus(*across, sin)
	*across = vector{}.plus(*across, cos).plus(a.n, -sin)
	b.corner = b.corner.plus(*across, -size)
	return b
}

// past is how far a place in the first surface's plane lies past the edges, m.
func (a Frame) past(x, y float64) float64 {
	return max(a.X-x, a.Y-y, x-a.X-a.Width.V.SI, y-a.Y-a.Height.V.SI, 0)
}

// Unfolded are the surfaces that the run may lie on: its own first.
func (run *Run) Unfolded() []*schema.Surface {
	if len(run.frames) == 0 && run.On.Known() && run.On.V != nil {
		return []*schema.Surface{run.On.V}
	}
	var out []*schema.Surface
	for _, a := range run.frames {
		out = append(out, a.Surface)
	}
	return out
}

// XYZ is where a distance along the run lies in space, m: x and y as on its own
// surface, z from there into the room. Where an edge is led round with a radius it is
// taken as sharp.
func (run *Run) XYZ(at float64) (x, y, z float64, ok bool) {
	if run.Path == nil {
		return 0, 0, 0, false
	}
	x, y, _ = run.Path.At(at)
	if len(run.frames) < 2 {
		return x, y, 0, true
	}
	best := run.frames[0]
	for _, a := range run.frames[1:] {
		if a.past(x, y) < best.past(x, y) {
			best = a
		}
	}
	p := best.corner.plus(best.u, x-best.X).plus(best.v, y-best.Y)
	return p[0], p[1], p[2], true
}

// Fold is a place where a run passes from one surface to another.
type Fold struct {
	At      float64 // m from the start
	Edge    *schema.Edge
	From    *schema.Surface // whose edge it is
	Bend    float64         // degrees that the surfaces are folded by
	Oblique float64         // degrees off the square to the edge
	Radius  float64         // m, of the bend of the run; 0 where the edge is sharp
	Twist   float64         // degrees that the run is twisted by
}

// Folds lists them along the run. A flat strip that is led straight round an edge
// of radius R at an angle a off the square is a helix: it bends with R / cos² a, and over a
// fold by b it twists by b sin a. Source: Euler's theorem on normal curvature and
// the geodesic torsion of a cylinder, any textbook of differential geometry.
func (run *Run) Folds() (out []Fold) {
	if run.Path == nil {
		return nil
	}
	for _, a := range run.frames {
		for _, e := range a.edges {
			out = append(out, run.across(a, e)...)
		}
	}
	return out
}

// across finds where the run crosses one edge, either way.
func (run *Run) across(a Frame, e *schema.Edge) (out []Fold) {
	bend := math.Abs(180 - e.Angle.V.SI)
	if bend < path.CornerAngle {
		return nil
	}
	top := e.Side.V == "top"
	side := func(s float64) float64 {
		x, y, _ := run.Path.At(s)
		if top {
			return y - a.Y - a.Height.V.SI
		}
		return x - a.X - a.Width.V.SI
	}
	b := run.Path.Bounds()
	if edge := a.X + a.Width.V.SI; !top && (b.MinX > edge || b.MaxX < edge) {
		return nil
	}
	if edge := a.Y + a.Height.V.SI; top && (b.MinY > edge || b.MaxY < edge) {
		return nil
	}
	const steps = 1000
	before := side(0)
	for i := range steps {
		lo, hi := run.Length*float64(i)/steps, run.Length*float64(i+1)/steps
		now := side(hi)
		was := before
		before = now
		if (was > 0) == (now > 0) || math.Max(math.Abs(was), math.Abs(now)) < 1e-9 {
			continue
		}
		for range 50 {
			if mid := (lo + hi) / 2; (side(mid) > 0) == (was > 0) {
				lo = mid
			} else {
				hi = mid
			}
		}
		x, y, h := run.Path.At(lo)
		if along := y - a.Y; !top && (along < -1e-6 || along > a.Height.V.SI+1e-6) {
			continue
		}
		if along := x - a.X; top && (along < -1e-6 || along > a.Width.V.SI+1e-6) {
			continue
		}
		if top {
			h -= 90
		}
		oblique := math.Abs(math.Remainder(h, 180))
		sin, cos := math.Sincos(oblique * math.Pi / 180)
		f := Fold{At: lo, Edge: e, From: a.Surface, Bend: bend, Oblique: oblique, Twist: bend * sin}
		if e.Radius.Known() {
			f.Radius = e.Radius.V.SI / (cos * cos)
		}
		out = append(out, f)
	}
	return out
}
