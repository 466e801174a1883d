package rules

import (
	"fmt"
	"slices"
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

var WireUnprotected = &lint.Rule{
	Name:   "wire-unprotected",
	Title:  "A fault can drive more through a wire than it may carry",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Fault,
	Why: `A nail through a cable, a strand across a terminal or water in a joint makes a short circuit.
Then it is not the pixels that say how much flows, but the supply: one and a half times its rating and more, until something opens.
A wire, or the copper of a strip, that may carry less than that glows before the supply gives up, and a low voltage does not prevent it: 5 V at 30 A is 150 W in one spot.
So every conductor is judged from every source that can feed a fault in it, through every way there is, with the ceilings of the firmware ignored: a ceiling is software and protects no wire.`,
	Formula: `The greatest current that can reach a fault anywhere in the conductor: from each supply ` + "`overload`" + ` times its rating (less where it is ` + "`limited`" + `), bounded by the fuses on the way, summed over all ways.
Where leads of two supplies lie ` + "`within`" + ` one cable or conduit, the plus of the one may touch the minus of the other: what joins the two minuses then carries what the fuse of that plus lets pass.
It stays at or below the conductor's ampacity (of parallel conductors without a fuse: that of one, as the others feed a fault in it).
The copper of a strip that says its ` + "`rail_current`" + ` is judged twice. Each way in alone drives no more than that into it: one fuse and the copper behind it are a conductor and its protection like others, and without a fuse the supply counts.
What several such ways feed into one fault together it does not have to carry for good: it stays at or below what warms it to 70 degC, which its tape, film and diffuser stand (IPC-2221, its area from ` + "`rail`" + `; pixels take nothing meanwhile, as all of the current is in the fault), and so does what the fuses still let pass for seconds at 2, 3.5 and 6 times their rating, as far as the supplies give it, against 250 degC: by Onderdonk's equation, with all heat kept in the copper, or by IPC-2221 for good where that is cooler.
A ` + "`rail_current`" + ` that the plan itself says is a maker's word and may stand for pads and joints as well: together above that is a warning; a figure of the catalogue stands for the cross-section alone.
At 0.082 ohm/m in air of 25 degC that is 17 A, or 15 A behind a supply that gives more than 50 A: three feeds of 5 A, not five.`,
	Do: `Fit a fuse at the supply's end of the lead, rated no higher than the wire's ampacity and high enough for the load.
Where a thinner lead branches off, fit one there too.
A run that is fed at both ends needs a fuse in each lead, as each of them feeds a fault in the other.
The code in force where the work is done decides; mains wiring is for a qualified person.`,
	Sources: []string{
		"IEC 60364-4-43, clauses 433.1 and 434 (protection against overload and short circuit)",
		"NFPA 70 (NEC) 240.4 and 240.21 (overcurrent protection at the point where the conductor is supplied)",
		"IPC-2221, section 6.2, and Onderdonk's equation (from memory); 70 degC: the lower end of what acrylic tape stands for good (from memory); 250 degC: IEC 60364-4-43, 434.5.2, thermosetting insulation (from memory); times of fuses: sheets of ISO 8820-3 types, IEC 60127-2",
		"common practice, no source: a supply's own protection surely acts at 150 % of its rating",
		"IEC 62368-1, clause 6.2.2: a source of more than 15 W (above class PS1) can light things (from memory)",
	},
	Bad:   func() string { return instead(shelf, lowLead+"  fuse   = \"5 A\"\n", lowLead) },
	Good:  func() string { return shelf },
	Check: checkWireUnprotected,
}

func checkWireUnprotected(p *lint.Pass) {
	faults, load := p.Figures.Faults(), sizing.Loads{}
	for _, l := range p.Figures.Leads {
		if !l.OK || l.Ampacity <= 0 || fuseTooLarge(faults, l) {
			continue
		}
		fault := faults.Lead(l)
		if f, bare := oneOfMany(l); bare {
			p.Report(f)
			continue
		}
		if !exposed(fault) {
			continue
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.Head(), Case: schema.Full,
			Value: &lint.Value{Got: fault.Amps, Limit: l.Ampacity, Unit: "A"},
			Message: fmt.Sprintf("%s: %s, above the %s that its %s may carry", l.ID(), faultOf(fault, "it", l.Ampacity),
				showAmps(l.Ampacity), conductors(l)),
			Related: throughFuses(fault),
		}
		if bare := besideBare(p.Figures, faults, l); bare != nil {
			f.Level = lint.Hint
			f.Message += fmt.Sprintf("; the fuse that %s needs mends this as well", bare.ID())
			f.Related = []lint.Related{{At: bare.Head(), Message: "feeds it from its other end"}}
			p.Report(f)
			continue
		}
		if l.Fuse.Set {
			f.At = l.At(l.Fuse.At)
		}
		remedy := fmt.Sprintf("use a thicker wire, or fuses of %s or less in all before what ", showAmps(fuseFor(fault, l.Ampacity)))
		switch {
		case !l.Plus():
			remedy += "returns through it"
		case !l.Fused():
			fit := sizing.FuseFor(p.Figures, l, load.Of(p.Figures, l))
			if remedy = fit.Do; fit.Fits && !p.Figures.Backwards(l) {
				remedy += " where its wire begins"
			}
		case p.Figures.Backwards(l):
			remedy = fmt.Sprintf("make %s its from: its fuse sits at that end", l.To.V)
		default:
			remedy += "feeds its other end"
		}
		f.Message += "; " + remedy + heatCaution(fault)
		f.Propose = func() [][]lint.Proposal { return protect(p.Figures, l) }
		p.Report(f)
	}
	for _, r := range p.Figures.Runs {
		rail, bare := bareRail(faults, r)
		above := false
		if !bare {
			rail, above = aboveSheet(p, faults, r)
		}
		if !bare && !above || leadsExposed(p.Figures, faults, r) {
			continue
		}
		limit, each := rail.Limit, r.Strip.V.RailCurrent.V.SI
		may := "may carry"
		switch {
		case above:
			limit, may = each, "may carry by the plan's word (as plain foil it stands the fault)"
		case limit > each:
			may = "stands"
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.Head(), Case: schema.Full,
			Value: &lint.Value{Got: rail.Amps, Limit: limit, Unit: "A"},
			Message: fmt.Sprintf("%s: %s, above the %s that the copper of %s %s", r.ID(), faultOf(rail, "its rails", limit),
				showAmps(limit), r.Strip.V.ID(), may),
			Related: throughFuses(rail),
		}
		if above {
			f.Level = lint.Warning
		}
		remedy := fmt.Sprintf("feed it through fuses of %s or less in all", showAmps(fuseFor(rail, limit)))
		if len(rail.Through) == 1 {
			l := rail.Through[0]
			if fit := sizing.FuseFor(p.Figures, l, load.Of(p.Figures, l)); len(fit.Ratings) > 0 && fit.Kind.Protects(fit.Ratings[0], limit) {
				remedy = fmt.Sprintf("fit a %s fuse of %s in %s", fit.Kind.Name, sizing.AnyFuse(fit.Ratings), l.ID())
			}
		}
		f.Message += "; " + remedy + ", or make two runs of it with a fuse each" + heatCaution(rail)
		f.Propose = func() [][]lint.Proposal { return [][]lint.Proposal{protectRails(p.Figures, r, each)} }
		p.Report(f)
	}
}

// oneOfMany judges a fault in one of several conductors side by side that a
// supply feeds without a fuse. The others feed it from the far end too, and
// near its own end it carries nearly all: all of them together may stand what
// the supply gives, and the one glows.
func oneOfMany(l *figures.Lead) (lint.Finding, bool) {
	one := l.Ampacity / float64(l.Parallel.V)
	for _, end := range []*schema.Point{l.From.V, l.To.V} {
		s := end.Supply
		if s == nil || l.Parallel.V < 2 || l.Fuse.Set && end == l.From.V || l.Fuse.Bad || !s.Rating.Known() || !s.Overload.Known() || !s.Limited.Known() {
			continue
		}
		amps, err := supply.FaultCurrent(s.Rating.V.SI, s.Overload.V.SI, s.Volts(), s.Limited.V)
		if err != nil || amps > l.Ampacity*(1+1e-9) || amps <= one*(1+1e-9) {
			continue // above what all of them may carry, the lead as a whole is reported
		}
		fault := figures.Exposure{Amps: amps, Sources: []*schema.Supply{s}}
		return lint.Finding{
			Subject: l.ID(), At: l.At(l.Parallel.At), Case: schema.Full,
			Value: &lint.Value{Got: amps, Limit: one, Unit: "A"},
			Message: fmt.Sprintf("%s: %s, above the %s that its %s wire may carry; fit a fuse, or use one thicker conductor", l.ID(),
				faultOf(fault, fmt.Sprintf("one of its %d conductors", l.Parallel.V), one), showAmps(one), l.Wire.V.Gauge.V) + heatCaution(fault),
			Related: suppliesOf(fault),
		}, true
	}
	return lint.Finding{}, false
}

// turn proposes a lead the other way round: a fuse at the end away from the
// supply protects nothing, and all that is wrong may be the order of its ends.
func turn(l *figures.Lead) []lint.Proposal {
	from, hasFrom := l.Node.Assign("from")
	to, hasTo := l.Node.Assign("to")
	if !l.Fuse.Set || !hasFrom || !hasTo {
		return nil
	}
	return []lint.Proposal{proposal("Swap from and to: the fuse sits at the end away from the supply",
		lint.Edit{At: from.Val.At, New: string(to.Val.At.Bytes())}, lint.Edit{At: to.Val.At, New: string(from.Val.At.Bytes())})}
}

// besideBare is the lead without a fuse that feeds one that has the fuse that
// its wire needs from its other end, nil for none: a fuse there mends both.
func besideBare(f *figures.Figures, faults *figures.Faults, l *figures.Lead) *figures.Lead {
	if !l.Fused() || !l.Device.Protects(l.Fuse.V.SI, l.Ampacity) {
		return nil
	}
	for _, o := range f.Leads {
		if o == l || !o.OK || o.Fuse.Set || !o.Plus() {
			continue
		}
		if o.To.V.Block() == l.To.V.Block() && exposed(faults.Lead(o)) {
			return o
		}
	}
	return nil
}

// exposed reports whether a fault is unguarded and everything about its
// sources is known.
func exposed(e figures.Exposure) bool {
	for _, s := range e.Sources {
		if !s.Rating.Known() || !s.Overload.Known() {
			return false
		}
	}
	return e.Unguarded
}

// faultOf says who can drive how much into a fault, through which fuses.
func faultOf(e figures.Exposure, in string, limit float64) string {
	var through []string
	for _, l := range e.Through {
		text := fmt.Sprintf("the %s of %s", fuseWord(l), l.ID())
		if l.Device.Counts(1) > 1 {
			text += fmt.Sprintf(" (which surely opens only at %s, and counts as one of %s)", showAmps(l.Device.Opens*l.Fuse.V.SI), showAmps(l.Device.Counts(l.Fuse.V.SI)))
		}
		through = append(through, text)
	}
	side := ""
	if e.Minus {
		side = " on the minus side"
	}
	text := fmt.Sprintf("%s can drive %s into a fault in %s%s", named(idsOf(e.Sources)), quantity.ShowAgainst(quantity.Current, e.Amps, limit), in, side)
	if len(through) > 0 {
		text += " through " + named(through)
	}
	return text
}

// fuseFor is the largest fuse that protects what may carry limit, of the kinds
// that sit in front of it.
func fuseFor(e figures.Exposure, limit float64) float64 {
	counts := 1.0
	for _, l := range e.Through {
		counts = max(counts, l.Device.Counts(1))
	}
	return limit / counts
}

func throughFuses(e figures.Exposure) []lint.Related {
	var out []lint.Related
	for _, l := range e.Through {
		out = append(out, lint.Related{At: l.At(l.Fuse.At), Message: "this fuse lets it through"})
	}
	return append(out, suppliesOf(e)...)
}

func suppliesOf(e figures.Exposure) []lint.Related {
	var out []lint.Related
	for _, s := range e.Sources {
		if s.Limited.V {
			out = append(out, lint.Related{At: s.At(s.Rating.At), Message: "gives no more than a limited power source may"})
			continue
		}
		gives := fmt.Sprintf("gives up to %s of its rating before its own protection surely acts", s.Overload.V)
		if !s.Overload.Set {
			gives = fmt.Sprintf("is taken to give up to %s of its rating, as no overload is written", s.Overload.V)
		}
		out = append(out, lint.Related{At: s.At(s.Rating.At), Message: gives})
	}
	return out
}

// sourceWatts is the power that can make a spot glow and light what touches it:
// above it a source is no longer of class PS1 (IEC 62368-1, clause 6.2.2, from memory).
const sourceWatts = 15

// heatCaution is said where a fault is fed with so much power that the usual
// trust in low voltage is misplaced. All of it may go into one bad contact.
func heatCaution(e figures.Exposure) string {
	volts := 0.0
	for _, s := range e.Sources {
		volts = max(volts, s.Volts())
	}
	watts := e.Amps * volts
	if watts <= sourceWatts*(1+1e-9) {
		return ""
	}
	return fmt.Sprintf(" (up to %s in one spot, which glows, low voltage or not; the code in force decides)", quantity.ShowAgainst(quantity.Power, watts, sourceWatts))
}

// protect proposes what keeps a fault in a lead within what its wire may carry.
func protect(f *figures.Figures, l *figures.Lead) [][]lint.Proposal {
	out := [][]lint.Proposal{turn(l)}
	out = append(out, each(refuse(f, l))...)
	return append(out, last(thickerAndFused(f, l, true)))
}

// bareRail is the worst that a fault can drive through a run's rails, if that
// is too much.
func bareRail(faults *figures.Faults, r *figures.Run) (worst figures.Exposure, bare bool) {
	if !r.OK {
		return worst, false
	}
	for i := range r.Rails {
		if e := faults.Rail(r, i); exposed(e) && (!bare || e.Amps > worst.Amps) {
			worst, bare = e, true
		}
	}
	return worst, bare
}

// aboveSheet is the worst that a fault drives through a run's rails, if that is more than a rail_current that the plan itself
// says: a maker's word may stand for more than the cross-section, such as pads and joints.
func aboveSheet(p *lint.Pass, faults *figures.Faults, r *figures.Run) (worst figures.Exposure, above bool) {
	if !r.OK || !r.Strip.V.RailCurrent.Set {
		return worst, false
	}
	for i := range r.Rails {
		if e := faults.Rail(r, i); e.Sources != nil && e.Amps > r.Strip.V.RailCurrent.V.SI*(1+1e-9) && e.Amps > worst.Amps {
			worst, above = e, true
		}
	}
	if above {
		_, _, _, above = p.Plan.Locate(r.Strip.V.RailCurrent.At)
	}
	return worst, above
}

// leadsExposed reports whether a lead of the run is itself without protection:
// what mends it is then tried for the rails as well.
func leadsExposed(f *figures.Figures, faults *figures.Faults, r *figures.Run) bool {
	return slices.ContainsFunc(f.Ends(r), func(l *figures.Lead) bool { return l.OK && exposed(faults.Lead(l)) })
}

// protectRails proposes smaller fuses in the leads of a run, the same in all of
// them.
func protectRails(f *figures.Figures, r *figures.Run, limit float64) []lint.Proposal {
	var leads []*figures.Lead
	for _, l := range f.Leads {
		if l.OK && l.Plus() && (l.From.V.Run == r.Run || l.To.V.Run == r.Run) {
			leads = append(leads, l)
		}
	}
	if len(leads) == 0 {
		return nil
	}
	var out []lint.Proposal
	for _, amps := range leads[0].Device.Window(f.WorstLead(leads[0]).Value, min(limit, leads[0].Ampacity)) {
		var edits []lint.Edit
		q := fuseOf(amps).Exact()
		for i, l := range leads {
			if !slices.ContainsFunc(leads[:i], func(o *figures.Lead) bool { return o.Node == l.Node }) {
				edits = append(edits, schema.SetAttr(&l.Header, "fuse", strconv.Quote(q)))
			}
		}
		out = append(out, proposal(fmt.Sprintf("Fit a %s fuse in %s", q, named(idsOf(leads))), edits...))
	}
	return out
}
