package rules

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
)

var FuseTooSmall = &lint.Rule{
	Name:   "fuse-too-small",
	Title:  "A fuse carries more than it can for long",
	Level:  lint.Error,
	Hazard: figures.FuseLoad,
	Why: `A fuse warms up with its load.
Above three quarters of its rating (four fifths for a cartridge of IEC 60127) it ages and opens one evening without a fault; above its rating it opens soon, which is an error.
A resettable fuse holds its rating at 20 degC and less in warm air.
The load is the greatest over every pattern that the ceilings allow.
Where a ceiling is all that keeps the load down and is lost, by a new firmware for example, the fuse may open: that is what it is there for, and is not reported.`,
	Formula: "load <= 0.75 x rating of a blade or bolted fuse, 0.8 x that of a cartridge, of a resettable one 1.0 x at 20 degC, 0.83 at 40, 0.66 at 60; with the greatest current of the lead over every pattern that the ceilings allow",
	Do: `Fit the next standard fuse that carries the load, if the wire stands it; else use a thicker wire with it.
Or lower the ceiling.`,
	Sources: []string{
		"a fuse maker's application note, fuse selection: at most 75 % of the rating for long at 25 degC (others plan with 80 %)",
		"ISO 8820-3, blade fuse-link ratings",
		"makers' guides: fuses of IEC 60127 carry 80 to 100 % for long (from memory)",
		"hold current of resettable fuses by air temperature: typical, from memory",
	},
	Bad:   func() string { return instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+`  fuse   = "3 A"`) },
	Good:  func() string { return shelf },
	Check: checkFuseTooSmall,
}

func checkFuseTooSmall(p *lint.Pass) {
	for _, l := range p.Figures.Leads {
		w, small := fuseTooSmall(p.Figures, l)
		if !small {
			continue
		}
		carries := l.Device.Share * l.Fuse.V.SI
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At), Case: w.Case, Level: lint.Warning,
			Value: &lint.Value{Got: w.Value, Limit: carries, Unit: "A"},
			Message: fmt.Sprintf("%s: up to %s flow %s, more than the %s that its %s carries for long (%s)", l.ID(),
				quantity.ShowAgainst(quantity.Current, w.Value, carries), inWorst(w), showAmps(carries), fuseWord(l), ofRating(p.Figures, l)),
		}
		if w.Value > l.Fuse.V.SI {
			f.Level = lint.Error
			f.Value.Limit = l.Fuse.V.SI
			does := "runs hot at that and may open in time"
			if w.Value >= l.Device.Opens*l.Fuse.V.SI {
				does = "opens at that"
			}
			f.Message = fmt.Sprintf("%s: up to %s flow %s, and its %s %s", l.ID(), quantity.ShowAgainst(quantity.Current, w.Value, l.Fuse.V.SI), inWorst(w), fuseWord(l), does)
		}
		f.Message += "; use a larger fuse and the wire that it protects, or share the current among more leads"
		f.Propose = refit(p.Figures, l)
		p.Report(f)
	}
}

// ofRating says which share of its rating a lead's fuse carries, and for what
// air where that matters.
func ofRating(f *figures.Figures, l *figures.Lead) string {
	text := quantity.Show(quantity.Share, l.Device.Share)
	if cool, _ := fuse.Named(l.Device.Name); cool.Share != l.Device.Share {
		text += " at " + f.Habit.Show(quantity.Temperature, f.Plan.Ambient())
	}
	return text
}

// fuseTooSmall judges the load of a lead's fuse. Where the load is too much for
// the wire as well, lead-overcurrent says so.
func fuseTooSmall(f *figures.Figures, l *figures.Lead) (figures.Worst, bool) {
	if !l.OK || !l.Fused() {
		return figures.Worst{}, false
	}
	w := f.WorstFuse(l)
	_, over := overcurrent(f, l)
	return w, w.OK && !over && !l.Device.Carries(l.Fuse.V.SI, w.Value)
}
