package rules

import (
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// search bounds how often a rule looks for remedies, less in a large plan:
// each try works the plan out anew. Of the copies of one text only the first
// is looked at, so findings come worst first.
type search struct {
	left int
	seen map[source.Span]bool
}

func newSearch(p *lint.Pass) *search {
	s := &search{seen: map[source.Span]bool{}}
	pixels := 0
	for _, r := range p.Figures.Runs {
		pixels += r.Pixels
	}
	switch {
	case p.Trial() || pixels > 30_000:
	case pixels > 5_000:
		s.left = 1
	default:
		s.left = 4
	}
	return s
}

// at reports whether a remedy is to be looked for, for a finding at a place.
func (s *search) at(place source.Span) bool {
	if s.left == 0 || s.seen[place] {
		return false
	}
	s.left--
	s.seen[place] = true
	return true
}

// mostSizes is how many sizes thicker a wire is tried.
const mostSizes = 4

// thicker lists the sizes that are tried for a lead, each as a wire of its
// own: the rest of the wire stays.
func thicker(l *figures.Lead) []*schema.Wire {
	var out []*schema.Wire
	for g, ok := wire.Thicker(l.Gauge); ok && len(out) < mostSizes; g, ok = wire.Thicker(g) {
		q, err := quantity.ParseFor(quantity.Gauge, g.String())
		if err != nil {
			break
		}
		w := *l.Wire.V
		w.Gauge.V = q
		out = append(out, &w)
	}
	return out
}

// rewired is the change that makes a lead of another wire and, where amps is
// not 0, gives it another fuse.
func rewired(l *figures.Lead, w *schema.Wire, amps float64) func(*schema.Plan) {
	return func(p *schema.Plan) {
		c := *l.Lead
		if w != nil {
			c.Wire.V = w
		}
		if amps > 0 {
			c.Fuse.V, c.Fuse.Set, c.Fuse.Bad = fuseOf(amps), true, false
		}
		p.Leads = lint.Replace(p.Leads, l.Lead, &c)
	}
}

func fuseOf(amps float64) schema.Quantity { return quantity.Of(quantity.Current, amps) }

// fuses lists the standard ratings that carry what a lead carries at its worst
// and protect its wire, smallest first: also the copper of the runs that it
// feeds, if any does both.
func fuses(p *lint.Pass, l *figures.Lead) []float64 {
	w := p.Figures.WorstLead(l)
	if !w.OK || !l.Plus() {
		return nil
	}
	if both := fuse.Window(w.Value, min(l.Ampacity, railLimit(l))); len(both) > 0 {
		return both
	}
	return fuse.Window(w.Value, l.Ampacity)
}

// railLimit is what the copper of the runs at a lead's ends may carry, A.
func railLimit(l *figures.Lead) float64 {
	most := math.Inf(1)
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt.Run != nil && pt.Run.Strip.V != nil && pt.Run.Strip.V.RailCurrent.Set {
			most = min(most, pt.Run.Strip.V.RailCurrent.V.SI)
		}
	}
	return most
}

// clearingFuses lists those of the fuses with which the finding about the
// subject is gone.
func clearingFuses(p *lint.Pass, subject string, l *figures.Lead, ratings []float64) []float64 {
	var out []float64
	for _, a := range ratings {
		if _, ok := p.Clears(subject, rewired(l, nil, a)); ok {
			out = append(out, a)
		}
	}
	return out
}

// fuseFixes are the fixes that fit a lead with each of some fuses. One that is
// the only one that serves is safe to apply.
func fuseFixes(l *figures.Lead, ratings []float64) []lint.Fix {
	var out []lint.Fix
	if l.Node == nil || l.Home != schema.InPlan {
		return nil
	}
	for _, a := range ratings {
		q := fuseOf(a).Exact()
		title := "Fit a " + q + " fuse"
		out = append(out, lint.Fix{Title: title, Safe: len(ratings) == 1 && l.Fuse.Set, Edits: []lint.Edit{write(l.Node, "fuse", fmt.Sprintf("%q", q))}})
	}
	return out
}

// fitFuse tells in a finding about a lead's fuse which one to fit or, where
// none clears it, which thicker wire with one that carries amps.
func fitFuse(p *lint.Pass, f *lint.Finding, l *figures.Lead, amps float64) {
	if ratings := clearingFuses(p, l.ID(), l, fuses(p, l)); len(ratings) > 0 {
		f.Message = cutTail(f.Message) + "fit a fuse of " + oneOf(ratings)
		f.Fixes = fuseFixes(l, ratings)
	} else if do, ok := thickerAndFused(p, l, amps); ok {
		f.Message = cutTail(f.Message) + do
	}
}

// oneOf writes fuse ratings as a choice: "5 A", "5 A or 7.5 A".
func oneOf(ratings []float64) string {
	var names []string
	for _, a := range ratings {
		names = append(names, fuseOf(a).Exact())
	}
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	case 2:
		return names[0] + " or " + names[1]
	default:
		return names[0] + " to " + names[n-1]
	}
}

// fed is the change that feeds a run at one more place, with a copy of a lead
// that already feeds it.
type fed struct {
	by     *figures.Lead
	at     *schema.Point
	length float64 // m, of the new lead; 0 where its ends' positions say
	lead   schema.Lead
}

// with is the change that adds the lead, of another wire where w is given.
func (x fed) with(w *schema.Wire) func(*schema.Plan) {
	return func(p *schema.Plan) {
		c := x.lead
		if w != nil {
			c.Wire.V = w
		}
		p.Leads = append(slices.Clone(p.Leads), &c)
	}
}

// feedAgain plans one more feed of a run: at its other end, or where both ends
// are fed at its poorest pixel. The new lead is as long as the old one and the
// way from one end of the run to the other, the safe side.
func feedAgain(p *lint.Pass, r *figures.Run, poorest int) (fed, bool) {
	ways := p.Figures.Feeds(r)
	if len(ways) == 0 {
		return fed{}, false
	}
	at := map[float64]bool{}
	for _, way := range ways {
		for _, pt := range []*schema.Point{way[0].From.V, way[0].To.V} {
			if pt.Run == r.Run {
				at[r.Snap(pt).At] = true
			}
		}
	}
	to := &schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtEnd}
	switch {
	case !at[r.Reach()]:
	case !at[0]:
		to.Where = schema.AtStart
	default:
		to.Where, to.Pixel = schema.AtPixel, poorest
		if at[r.Snap(to).At] {
			return fed{}, false
		}
	}
	out := fed{by: ways[0][0], at: to}
	c := *out.by.Lead
	c.Rename(freeName(p.Plan, "lead", c.Name+"-more"))
	end := &c.To
	if c.From.V.Run == r.Run {
		end = &c.From
	}
	end.V = to
	if c.Length.Set {
		out.length = upTo(out.by.Length+r.EndsApart(), 0.1)
		c.Length.V = c.Length.V.With(out.length)
	}
	out.lead = c
	return out, true
}

// do says what to do for it.
func (x fed) do() string {
	where := "its other end"
	switch x.at.Where {
	case schema.AtEnd:
		where = "its end"
	case schema.AtPixel:
		where = fmt.Sprintf("it at pixel %d", x.at.Pixel)
	case schema.AtStart:
		where = "its start"
	}
	s := fmt.Sprintf("feed %s too with a second lead like %s", where, x.by.ID())
	if x.length > 0 {
		s += ", " + lengthLike(x.by.Lead.Length.V, x.length) + " long"
	}
	return s
}

// voltRemedies looks for what raises the voltage of a run enough that the
// finding about it is gone: one more feed, or a thicker wire for the lead that
// loses most on the way to it. volts reads the voltage then reached.
func voltRemedies(p *lint.Pass, r *figures.Run, poorest int, volts func(*figures.Figures, *figures.Run) float64) []string {
	var out []string
	then := func(f *figures.Figures) string {
		run, _ := f.Run(r.Run)
		return least(quantity.Voltage, volts(f, run)) + " then"
	}
	more, canFeed := feedAgain(p, r, poorest)
	if canFeed {
		if f, ok := p.Clears(r.ID(), more.with(nil)); ok {
			out = append(out, fmt.Sprintf("%s (%s)", more.do(), then(f)))
		}
	}
	l := costliest(p.Figures, r)
	if l == nil {
		return out
	}
	for _, w := range thicker(l) {
		if f, ok := p.Clears(r.ID(), rewired(l, w, 0)); ok {
			return append(out, fmt.Sprintf("use %s for %s (%s)", w.Gauge.V, l.ID(), then(f)))
		}
	}
	if len(out) > 0 || !canFeed {
		return out
	}
	for _, w := range thicker(l) {
		if more.by != l {
			break
		}
		both := func(plan *schema.Plan) {
			rewired(l, w, 0)(plan)
			more.with(w)(plan)
		}
		if f, ok := p.Clears(r.ID(), both); ok {
			return append(out, fmt.Sprintf("%s, and use %s for both (%s)", more.do(), w.Gauge.V, then(f)))
		}
	}
	return out
}

// costliest is the lead on the ways to a run that loses the most volts.
func costliest(f *figures.Figures, r *figures.Run) *figures.Lead {
	var worst *figures.Lead
	most := 0.0
	for _, way := range f.Feeds(r) {
		for _, l := range way {
			if d := f.Drop(l); d > most {
				worst, most = l, d
			}
		}
	}
	return worst
}
