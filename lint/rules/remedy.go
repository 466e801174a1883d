package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

// What may clear findings, as edits of the text. None of it is tried here.

// proposal is an untried change.
func proposal(title string, edits ...lint.Edit) lint.Proposal {
	return lint.Proposal{Fix: lint.Fix{Title: title, Edits: edits}}
}

// each makes alternatives of one proposal each: all of them are wanted.
func each(ps []lint.Proposal) [][]lint.Proposal {
	var out [][]lint.Proposal
	for _, p := range ps {
		out = append(out, []lint.Proposal{p})
	}
	return out
}

// last marks proposals that are wanted only where nothing else helps.
func last(ps []lint.Proposal) []lint.Proposal {
	for i := range ps {
		ps[i].Last = true
	}
	return ps
}

// mostSizes is how many sizes thicker a wire is tried.
const mostSizes = 4

// thicker lists the sizes above that of a lead's wire that its joints take.
func thicker(l *figures.Lead) []schema.Quantity {
	var out []schema.Quantity
	for g, ok := wire.Thicker(l.Gauge); ok && len(out) < mostSizes; g, ok = wire.Thicker(g) {
		if !sizing.Takes(l, g.Area()) {
			continue
		}
		q, err := quantity.ParseFor(quantity.Gauge, g.String())
		if err != nil {
			break
		}
		out = append(out, q)
	}
	return out
}

// wireOf is the name of a wire like a lead's of another size, with the edit
// that writes it where there is none yet. What the wire says of its ampacity is
// taken over as well: of another size nobody has said anything.
func wireOf(p *schema.Plan, l *figures.Lead, gauge schema.Quantity) (id string, edits []lint.Edit) {
	old := l.Wire.V
	if w := sizing.WireLike(p, old, wire.Of(gauge)); w != nil {
		return w.ID(), nil
	}
	name := freeName(p, "wire", sizing.WireName(old.Name, gauge))
	at := l.Node
	if old.Home == schema.InPlan {
		at = old.Node
	}
	return "wire." + name, []lint.Edit{after(at, fmt.Sprintf("wire %q {\n  like  = %s\n  gauge = %q\n}", name, old.ID(), gauge))}
}

// rewire is the proposal to make a lead of a thicker wire and, where amps is
// not 0, to give it a fuse.
func rewire(p *schema.Plan, l *figures.Lead, gauge schema.Quantity, amps float64) lint.Proposal {
	id, edits := wireOf(p, l, gauge)
	edits = append(edits, schema.SetAttr(&l.Header, "wire", id))
	title := fmt.Sprintf("Use %s wire for %s", gauge, p.Shared(&l.Header, "wire"))
	if amps > 0 {
		title += fmt.Sprintf(", with a %s fuse", fuseOf(amps).Exact())
		edits = append(edits, schema.SetAttr(&l.Header, "fuse", strconv.Quote(fuseOf(amps).Exact())))
	}
	return proposal(title, joined(edits)...)
}

// joined makes one edit of those that insert at the same place, so that their
// order is not left to whoever makes them.
func joined(edits []lint.Edit) []lint.Edit {
	var out []lint.Edit
	for _, e := range edits {
		i := slices.IndexFunc(out, func(o lint.Edit) bool { return o.At == e.At && o.At.Start == o.At.End })
		if i >= 0 {
			out[i].New += e.New
			continue
		}
		out = append(out, e)
	}
	return out
}

func fuseOf(amps float64) schema.Quantity { return quantity.Of(quantity.Current, amps) }

// refuse proposes each standard fuse that carries what a lead carries and
// protects its wire.
func refuse(f *figures.Figures, l *figures.Lead) []lint.Proposal {
	var out []lint.Proposal
	load := sizing.LoadOf(f, l)
	for _, a := range sizing.FusesFor(f, l, sizing.KindFor(l, load), load) {
		q := fuseOf(a).Exact()
		out = append(out, proposal("Fit a "+q+" fuse", schema.SetAttr(&l.Header, "fuse", strconv.Quote(q))))
	}
	return out
}

// thickerAndFused proposes thicker wire for a lead, and with each size the
// smallest fuse that carries the load where the lead has one or needs one.
func thickerAndFused(f *figures.Figures, l *figures.Lead, fused bool) []lint.Proposal {
	carries, some := l.Device.SmallestFor(f.WorstLead(l).Value)
	var out []lint.Proposal
	for _, gauge := range thicker(l) {
		out = append(out, rewire(f.Plan, l, gauge, 0))
		if fused && some && l.Plus() && l.Device.Protects(carries, l.RailLimit()) {
			out = append(out, rewire(f.Plan, l, gauge, carries))
		}
	}
	return out
}

// refit proposes what may clear a finding about a lead's fuse: another fuse, or
// thicker wire with one that carries the load.
func refit(f *figures.Figures, l *figures.Lead) func() [][]lint.Proposal {
	return func() [][]lint.Proposal { return append(each(refuse(f, l)), last(thickerAndFused(f, l, true))) }
}

// fed is one more feed of a run, with a lead like one that already feeds it.
type fed struct {
	plan   *schema.Plan
	by     *figures.Lead
	run    *figures.Run
	at     *schema.Point
	length float64 // m, of the new lead; 0 where its ends' positions say
}

// feedAgain plans one more feed of a run: at its other end, or where both ends
// are fed at its poorest pixel. The new lead is as long as the old one and the
// way from one end of the run to the other, the safe side.
func feedAgain(f *figures.Figures, r *figures.Run, poorest int) (fed, bool) {
	paths := f.Feeds(r)
	if len(paths) == 0 {
		return fed{}, false
	}
	at := f.FedAt(r)
	to := &schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtEnd}
	switch {
	case !slices.Contains(at, r.StripLength()):
	case !slices.Contains(at, 0):
		to.Where = schema.AtStart
	default:
		to.Where, to.Pixel = schema.AtPixel, poorest
		if slices.Contains(at, r.Snap(to).At) {
			return fed{}, false
		}
	}
	out := fed{plan: f.Plan, by: paths[0][0], run: r, at: to}
	if out.by.Lead.Length.Set {
		out.length = upTo(out.by.Length+r.Apart(0, r.StripLength()), 0.1)
	}
	return out, true
}

// proposal is the new lead. Where the run and its lead are copies of the same
// number, so is the new one, and all of them get theirs.
func (x fed) proposal() lint.Proposal {
	where := "its end"
	switch x.at.Where {
	case schema.AtPixel:
		where = fmt.Sprintf("it at pixel %d", x.at.Pixel)
	case schema.AtStart:
		where = "its start"
	}
	title := fmt.Sprintf("Feed %s too with a second lead like %s", where, x.by.ID())
	if x.length > 0 {
		title += ", " + lengthLike(x.by.Lead.Length.V, x.length) + " long"
	}
	out := proposal(title, x.edit())
	if x.length > 0 {
		out.Grade = schema.GradeFact // nobody has measured it
	}
	return out
}

// edit writes the new lead.
func (x fed) edit() lint.Edit {
	by, run := x.by, x.at.Run
	a := by.Another(x.run)
	var times string
	if a.Times > 0 {
		times = fmt.Sprintf("  times = %d\n", a.Times)
	}
	end, _ := by.Toward(run)
	name := strings.TrimPrefix(freeName(x.plan, "lead", a.In+a.Name+"-more"), a.In)
	text := fmt.Sprintf("lead %q {\n%s  like = %s\n  %s = %s\n", name, times, a.Like, end, a.Run+strings.TrimPrefix(x.at.String(), run.ID()))
	if x.length > 0 {
		text += fmt.Sprintf("  length = %q\n", lengthLike(by.Lead.Length.V, x.length))
	}
	if a.In != "" {
		return schema.InsertBehind(by.Node, text+"}")
	}
	return after(by.Node, text+"}")
}

// voltRemedies proposes what raises the voltage of a run: one more feed, with
// thicker wire for both where that is not enough, and thicker wire for the lead
// that loses most on the way to it. volts reads the voltage then reached.
func voltRemedies(f *figures.Figures, r *figures.Run, poorest int, volts func(*figures.Figures, *figures.Run) float64) [][]lint.Proposal {
	then := func(p lint.Proposal) lint.Proposal {
		p.Then = func(after *figures.Figures) string {
			if x, ok := after.RunNamed(r.ID()); ok {
				return least(quantity.Voltage, volts(after, x))
			}
			return ""
		}
		return p
	}
	var feeds, wires []lint.Proposal
	l := costliest(f, r)
	more, canFeed := feedAgain(f, r, poorest)
	if canFeed {
		feeds = append(feeds, then(more.proposal()))
	}
	if l != nil {
		for _, gauge := range thicker(l) {
			wires = append(wires, then(rewire(f.Plan, l, gauge, 0)))
			if canFeed && more.by == l {
				id, edits := wireOf(f.Plan, l, gauge)
				both := more.proposal()
				both.Title += fmt.Sprintf(", and use %s for both", gauge)
				both.Edits = joined(append(edits, schema.SetAttr(&l.Header, "wire", id), more.edit()))
				feeds = append(feeds, then(both))
			}
		}
	}
	return [][]lint.Proposal{feeds, wires}
}

// costliest is the lead on the feed paths of a run that loses the most volts.
func costliest(f *figures.Figures, r *figures.Run) *figures.Lead {
	var worst *figures.Lead
	most := 0.0
	for _, path := range f.Feeds(r) {
		for _, l := range path {
			if d := f.Drop(l); d > most {
				worst, most = l, d
			}
		}
	}
	return worst
}
