package figures

import (
	"cmp"
	"slices"

	"ohmstead/calc/path"
	"ohmstead/schema"
)

// Meeting is a place of a surface that two runs both take.
type Meeting struct {
	Run, Other *Run    // Other stands first in the plan
	From, To   float64 // m from the start of Run; the same where they cross
	Near       float64 // m between centre lines that both have room at
}

// leastWidth is taken of a strip whose width nobody says, m: the narrowest sold
// (common practice, no source).
const leastWidth = 5e-3

// Width is how much room the run takes across, m.
func (run *Run) Width() float64 {
	if w := run.Strip.V.Width; w.Known() {
		return w.V.SI
	}
	return leastWidth
}

// Meetings finds the runs of one surface that lie in each other's way: whose
// centre lines are nearer than half of both widths together, or cross. A run
// is told once, with the first that it meets.
func (f *Figures) Meetings() []Meeting {
	type drawn struct {
		run *Run
		box path.Rect
	}
	on := map[*schema.Surface][]drawn{}
	for _, r := range f.Runs {
		if r.OK && r.Path != nil && r.On.Known() {
			on[r.On.V] = append(on[r.On.V], drawn{r, r.Path.Bounds()})
		}
	}
	var out []Meeting
	for _, runs := range on {
		wide, high, widest := 0.0, 0.0, 0.0
		for _, d := range runs {
			wide, high = wide+d.box.MaxX-d.box.MinX, high+d.box.MaxY-d.box.MinY
			widest = max(widest, d.run.Width())
		}
		if wide > high { // sorted across the way that they lie, few overlap
			for i := range runs {
				b := &runs[i].box
				b.MinX, b.MinY, b.MaxX, b.MaxY = b.MinY, b.MinX, b.MaxY, b.MaxX
			}
		}
		slices.SortStableFunc(runs, func(a, b drawn) int { return cmp.Compare(a.box.MinX, b.box.MinX) })
		first := map[*Run]Meeting{}
		for i, a := range runs {
			for _, b := range runs[i+1:] {
				if b.box.MinX > a.box.MaxX+widest {
					break
				}
				near := (a.run.Width() + b.run.Width()) / 2
				if b.box.MinY > a.box.MaxY+near || a.box.MinY > b.box.MaxY+near {
					continue
				}
				m := Meeting{Run: a.run, Other: b.run, Near: near}
				if m.Run.place < m.Other.place {
					m.Run, m.Other = m.Other, m.Run
				}
				if old, ok := first[m.Run]; ok && old.Other.place < m.Other.place {
					continue
				}
				var ok bool
				if m.From, m.To, ok = m.Run.Path.Meets(*m.Other.Path, near); ok {
					first[m.Run] = m
				}
			}
		}
		for _, m := range first {
			out = append(out, m)
		}
	}
	slices.SortFunc(out, func(a, b Meeting) int { return cmp.Compare(a.Run.place, b.Run.place) })
	return out
}

// MeetsItself finds where a run that lies beside another one comes back to itself: two
// places, m from its start, nearer than its strip is wide. What is drawn itself is meant.
func (run *Run) MeetsItself() (at, again float64, ok bool) {
	if !run.OK || run.Path == nil || !run.Beside.Known() || !run.Beside.Set {
		return 0, 0, false
	}
	return run.Path.MeetsItself(run.Width())
}

// Covers reports whether a run lies over a place of its surface, and where along
// it that is, m from its start.
func (run *Run) Covers(on *schema.Surface, at schema.XY) (along float64, ok bool) {
	if !run.OK || run.Path == nil || run.On.V != on || !run.On.Known() {
		return 0, false
	}
	half := run.Width() / 2
	b := run.Path.Bounds()
	if at.X < b.MinX-half || at.X > b.MaxX+half || at.Y < b.MinY-half || at.Y > b.MaxY+half {
		return 0, false
	}
	d, along := run.Path.Nearest(path.Point{X: at.X, Y: at.Y})
	return along, d < half-1e-9
}
