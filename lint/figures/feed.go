package figures

import (
	"math"

	"ohmstead/schema"
)

// Ways knows which leads with plus end at each block.
type Ways map[string][]*Lead

// Ways looks the leads through.
func (f *Figures) Ways() Ways {
	at := Ways{}
	for _, l := range f.Leads {
		if l.OK && l.Plus() {
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				id := schema.HeaderOf(pt.Block()).ID()
				at[id] = append(at[id], l)
			}
		}
	}
	return at
}

// Feeds lists, for each lead that brings plus to a run, the way from the run
// to a supply: that lead first, then the leads between it and the supply, by
// the way with the fewest leads. A lead without a way to a supply has none.
func (w Ways) Feeds(r *Run) [][]*Lead {
	var out [][]*Lead
	for _, first := range w[r.ID()] {
		if way := w.from(r.ID(), first); way != nil {
			out = append(out, way)
		}
	}
	return out
}

// from searches breadth first from the far end of a lead to any supply.
func (w Ways) from(id string, first *Lead) []*Lead {
	type step struct {
		block schema.Block
		way   []*Lead
	}
	seen := map[string]bool{id: true}
	queue := []step{{far(first, id), []*Lead{first}}}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		here := schema.HeaderOf(s.block).ID()
		if _, ok := s.block.(*schema.Supply); ok {
			return s.way
		}
		if seen[here] {
			continue
		}
		seen[here] = true
		for _, l := range w[here] {
			if next := far(l, here); !seen[schema.HeaderOf(next).ID()] {
				queue = append(queue, step{next, append(s.way[:len(s.way):len(s.way)], l)})
			}
		}
	}
	return nil
}

// far is the block at the other end of a lead.
func far(l *Lead, id string) schema.Block {
	if b := l.From.V.Block(); schema.HeaderOf(b).ID() != id {
		return b
	}
	return l.To.V.Block()
}

// EndsApart is how far a wire has to reach from one end of the run to the
// other: straight across where its path is known, else along the run, m.
func (run *Run) EndsApart() float64 {
	if run.Path == nil {
		return run.Reach()
	}
	x0, y0, _ := run.Path.At(0)
	x1, y1, _ := run.Path.At(run.Reach())
	return math.Hypot(x1-x0, y1-y0)
}

// Drop is what a lead loses in the case full, V, both sides together.
func (f *Figures) Drop(l *Lead) float64 {
	return f.Cases[0].Leads[l.place].Drop
}
