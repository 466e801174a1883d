package ide

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

// mostFuses is how many fuses, each in a holder, are tried for a lead: the whole plan is judged with each.
const mostFuses = 4

// fuseLead gives a lead without a fuse the smallest standard one that carries its load and protects its wire, and the copper
// of the strip behind it where one does both; rather one that carries also what flows without the ceilings. It is offered where from is the supply's end in all that share the text, as it
// protects nothing at the other, and where the plan bears it.
func (v *View) fuseLead(h *hit) []Action {
	if len(h.nodes) == 0 || h.nodes[0].Type != "lead" || !touches(h.nodes[0].Head, h.at) || len(h.nodes[0].Piece().Problems()) > 0 {
		return nil
	}
	n := h.nodes[0]
	blocks := v.copies(n)
	if len(blocks) == 0 || v.Figures == nil || v.Bears == nil {
		return nil
	}
	for _, b := range blocks {
		l := b.(*schema.Lead)
		if x, solved := v.Figures.Lead(l); !solved || !x.OK || l.Fuse.Set || !l.Plus() || l.Home != schema.InPlan || !v.fusable(l) {
			return nil
		}
	}
	l, _ := v.Figures.Lead(blocks[0].(*schema.Lead))
	load := sizing.LoadOf(v.Figures, l)
	most := load // what it carries should the ceilings fail
	for _, c := range v.Figures.Cases {
		for _, b := range blocks {
			if x, ok := v.leadCase(b.(*schema.Lead), c); ok {
				most = max(most, math.Abs(x.Amps))
			}
		}
	}
	tried := 0
	for _, holder := range v.holdersFor(l, len(blocks)) {
		kind := l.Device
		if holder != nil {
			named, ok := fuse.Named(holder.Kind.V)
			if !ok {
				continue
			}
			named = named.At(v.Plan.Ambient())
			kind = &named
		}
		ratings := sizing.FusesFor(v.Figures, l, kind, load)
		if i := slices.IndexFunc(ratings, func(a float64) bool { return kind.Carries(a, most) }); i > 0 {
			ratings = slices.Concat(ratings[i:], ratings[:i])
		}
		for _, amps := range ratings {
			rating := quantity.Of(quantity.Current, amps).Exact()
			value := strconv.Quote(rating)
			if holder != nil {
				value += "\nholder = " + holder.ID()
			}
			if tried++; tried > mostFuses {
				return nil
			}
			edits := []schema.Edit{schema.InsertAttr(n, "fuse", value)}
			fig, ok := v.bears(edits, nil)
			if !ok {
				continue
			}
			others := v.fusedToo(fig, len(blocks))
			if others < 0 {
				continue
			}
			flows := quantity.Show(quantity.Current, most) + " flow"
			if !kind.Carries(amps, most) {
				flows = quantity.Show(quantity.Current, load) + " flow under the ceiling"
			}
			in := ""
			if holder != nil {
				in = " in " + holder.ID()
			}
			title := fmt.Sprintf("Give lead.%s a fuse of %s%s: %s, and %s may carry %s", n.Label(), rating,
				in, flows, l.Wire.V.Gauge.V, quantity.Show(quantity.Current, l.Ampacity))
			if others > 0 {
				title += fmt.Sprintf(", and %s like it", quantity.Count(others, "lead"))
			}
			return v.offer(Action{Title: title, Kind: RefactorRewrite}, edits)
		}
	}
	return nil
}

// fusable reports whether a lead is of one conductor for each side, and its current comes from its from alone.
func (v *View) fusable(l *schema.Lead) bool {
	flow, ok := v.flow(l)
	return ok && flow > 0 && l.Parallel.V <= 1 && !v.Figures.SuppliedAt(l.To.V, l)
}

// holdersFor lists what the fuse of a lead may sit in, the likeliest first: what other leads from the same place have, then what
// others have, where there is room for so many; nil, for none said, only where no lead of the plan says one.
func (v *View) holdersFor(l *figures.Lead, count int) (out []*schema.Holder) {
	used := map[*schema.Holder]int{}
	for _, o := range v.Plan.Leads {
		if h := o.Holder.V; h != nil && o.Fuse.Set {
			used[h]++
		}
	}
	if len(used) == 0 {
		return []*schema.Holder{nil}
	}
	for _, beside := range []bool{true, false} {
		for _, o := range v.Plan.Leads {
			h := o.Holder.V
			if h == nil || !o.Fuse.Set || slices.Contains(out, h) || h.Ways.Set && used[h]+count > h.Ways.V {
				continue
			}
			// The ways of one have an input in common: they are of one place.
			if same := o.From.V != nil && o.From.V.Block() == l.From.V.Block(); same == beside && (same || h.Ways.V < 2) {
				out = append(out, h)
			}
		}
	}
	return out
}

// fusedToo counts the leads beyond those of the text that have a fuse then and had none; less than 0 where it is not fit
// for one, or from is not the supply's end there.
func (v *View) fusedToo(after *figures.Figures, own int) int {
	out := -own
	for i, l := range after.Leads {
		if was := v.Figures.Leads[i]; l.Fuse.Set && !was.Fuse.Set {
			if out++; !v.fusable(was.Lead) || !l.Device.Carries(l.Fuse.V.SI, after.WorstLead(l).Value) || !l.Device.Protects(l.Fuse.V.SI, l.Ampacity) {
				return -1
			}
		}
	}
	return out
}
