package figures

import (
	"math"
	"slices"

	"ohmstead/schema"
)

// Ends lists the leads that end at a block, in the order of the plan; a lead
// with both its ends there twice.
func (f *Figures) Ends(b schema.Block) []*Lead {
	f.endsOnce.Do(func() {
		f.ends = make(map[*schema.Header][]*Lead, len(f.Leads))
		for _, l := range f.Leads {
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				if pt != nil {
					h := schema.HeaderOf(pt.Block())
					f.ends[h] = append(f.ends[h], l)
				}
			}
		}
	})
	return f.ends[schema.HeaderOf(b)]
}

// Feeds lists, for each lead that brings plus to a run, the feed path from
// the run to a supply: that lead first, then the leads between it and the supply, by
// the path with the fewest leads. A lead without a path to a supply has none.
func (f *Figures) Feeds(r *Run) [][]*Lead {
	var out [][]*Lead
	for _, first := range f.Ends(r) {
		if first.OK && first.Plus() {
			if path := f.feedPath(&r.Header, first); path != nil {
				out = append(out, path)
			}
		}
	}
	return out
}

// feedPath searches breadth first from the far end of a lead to any supply.
func (f *Figures) feedPath(at *schema.Header, first *Lead) []*Lead {
	type step struct {
		block schema.Block
		by    *Lead
		from  int // the step before it; -1 for none
	}
	seen := map[*schema.Header]bool{at: true}
	steps := []step{{far(first, at), first, -1}}
	for i := 0; i < len(steps); i++ {
		s := steps[i]
		here := schema.HeaderOf(s.block)
		if _, ok := s.block.(*schema.Supply); ok {
			var path []*Lead
			for k := i; k >= 0; k = steps[k].from {
				path = append(path, steps[k].by)
			}
			slices.Reverse(path)
			return path
		}
		if seen[here] {
			continue
		}
		seen[here] = true
		for _, l := range f.Ends(s.block) {
			if !l.OK || !l.Plus() {
				continue
			}
			if next := far(l, here); !seen[schema.HeaderOf(next)] {
				steps = append(steps, step{next, l, i})
			}
		}
	}
	return nil
}

// far is the block at the other end of a lead.
func far(l *Lead, at *schema.Header) schema.Block {
	if b := l.From.V.Block(); schema.HeaderOf(b) != at {
		return b
	}
	return l.To.V.Block()
}

// FedAt lists where the leads that Feeds begins with end on a run, m from its start.
func (f *Figures) FedAt(r *Run) (at []float64) {
	for _, path := range f.Feeds(r) {
		for _, pt := range []*schema.Point{path[0].From.V, path[0].To.V} {
			if pt.Run == r.Run {
				at = append(at, r.Snap(pt).At)
			}
		}
	}
	slices.Sort(at)
	return at
}

// Toward is the attribute by which a lead names a run, and the place at its other end.
func (l *Lead) Toward(r *schema.Run) (attr string, other *schema.Point) {
	if l.From.V.Run == r {
		return "from", l.To.V
	}
	return "to", l.From.V
}

// Apart is how far a wire has to reach from one place of the run to another, both in m from its
// start: straight across where its path is known, else along the run, m.
func (run *Run) Apart(a, b float64) float64 {
	if run.Path == nil {
		return math.Abs(a - b)
	}
	x0, y0, _ := run.Path.At(a)
	x1, y1, _ := run.Path.At(b)
	return math.Hypot(x1-x0, y1-y0)
}

// Drop is what a lead loses in the case full, V, both sides together.
func (f *Figures) Drop(l *Lead) float64 {
	return f.Cases[0].Leads[l.place].Drop
}

// AnyOf is what a lead carries over every pattern that the ceilings allow.
func (f *Figures) AnyOf(l *Lead) AnyLead { return f.Any.Leads[l.place] }
