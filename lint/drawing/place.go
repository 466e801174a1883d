package drawing

import (
	"math"

	"ohmstead/calc/path"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Place is what one elevation shows: a surface with the runs on it, the runs
// that lie on none, or those of which only the length is known.
type Place struct {
	Surface  *schema.Surface // nil where there is none
	Straight bool            // Runs have no shape: they are drawn straight, one below the other
	Runs     []*figures.Run
}

// Places are all that there is to show of a plan: its surfaces in the order of
// the text, then what lies on none.
func Places(f *figures.Figures) []Place {
	var out []Place
	loose, straight := Place{}, Place{Straight: true}
	on := map[*schema.Surface][]*figures.Run{}
	for _, r := range f.Runs {
		switch {
		case r.Path != nil && r.On.Known() && r.On.V != nil && wide(r.On.V):
			on[r.On.V] = append(on[r.On.V], r)
		case r.Path != nil:
			loose.Runs = append(loose.Runs, r)
		case r.Length > 0:
			straight.Runs = append(straight.Runs, r)
		}
	}
	for _, s := range f.Plan.Surfaces {
		if wide(s) {
			out = append(out, Place{Surface: s, Runs: on[s]})
		}
	}
	for _, p := range []Place{loose, straight} {
		if len(p.Runs) > 0 {
			out = append(out, p)
		}
	}
	return out
}

func wide(s *schema.Surface) bool {
	return s.Width.Known() && s.Height.Known() && s.Width.V.SI > 0 && s.Height.V.SI > 0
}

// name is that of the surface; of runs that lie on none, what they are, or the plan's where there is nothing else.
func (p Place) name(f *figures.Figures) string {
	switch {
	case p.Surface != nil:
		return p.Surface.Name
	case f.Plan.Head != nil && len(Places(f)) == 1:
		return f.Plan.Head.Name
	case p.Straight:
		return say("straight")
	}
	return say("loose")
}

// key is the place's part of a file name.
func (p Place) key() string {
	switch {
	case p.Surface != nil:
		return p.Surface.Name
	case p.Straight:
		return "straight"
	}
	return "loose"
}

func (p Place) of() string {
	if p.Surface != nil {
		return p.Surface.ID()
	}
	return ""
}

// layout is a place with the paths of its runs, m.
type layout struct {
	Place
	paths  []*path.Path
	bounds path.Rect // of the surface and of all runs
	edge   path.Rect // of the surface, else of the runs
}

// between of the straight runs, m, as a share of the longest one.
const rowShare = 0.08

func (p Place) layout() *layout {
	l := &layout{Place: p}
	longest := 0.0
	for _, r := range p.Runs {
		longest = math.Max(longest, r.Length)
	}
	first := true
	for i, r := range p.Runs {
		q := r.Path
		if p.Straight {
			y := -float64(i) * rowShare * longest
			row, err := path.Polyline([]path.Point{{X: 0, Y: y}, {X: r.Length, Y: y}})
			if err != nil {
				row = path.Path{}
			}
			q = &row
		}
		l.paths = append(l.paths, q)
		if b := q.Bounds(); first {
			l.edge, first = b, false
		} else {
			l.edge = unite(l.edge, b)
		}
	}
	l.bounds = l.edge
	if s := p.Surface; s != nil {
		l.edge = path.Rect{MaxX: s.Width.V.SI, MaxY: s.Height.V.SI}
		if first {
			l.bounds = l.edge
		}
		l.bounds = unite(l.bounds, l.edge)
	}
	return l
}

func unite(a, b path.Rect) path.Rect {
	return path.Rect{MinX: math.Min(a.MinX, b.MinX), MinY: math.Min(a.MinY, b.MinY), MaxX: math.Max(a.MaxX, b.MaxX), MaxY: math.Max(a.MaxY, b.MaxY)}
}

// scales are the scales of drawings (ISO 5455), with a half step of the building
// trade between 2 and 5.
var scales = func() []float64 {
	out := []float64{1}
	for k := 1.0; k <= 10000; k *= 10 {
		out = append(out, 2*k, 2.5*k, 5*k, 10*k)
	}
	return out
}()

// scaleFor is the largest scale at which a size in m fits into a room in mm.
func scaleFor(w, h, width, height float64) float64 {
	for _, s := range scales {
		if w*1000/s <= width && h*1000/s <= height {
			return s
		}
	}
	return math.Max(w*1000/width, h*1000/height)
}

func id(b schema.Block) string { return schema.HeaderOf(b).ID() }
