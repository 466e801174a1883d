package rules

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
)

var LeadOvercurrent = &lint.Rule{
	Name:   "lead-overcurrent",
	Title:  "A lead carries more current than its wire may",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Load,
	Why: `A wire that carries more than its ampacity for long gets hot enough to age and melt its insulation, most of all where it is bundled or lies behind a board.
A low voltage does not help: the heat comes from the current.
A ceiling bounds the sum and not the place, so the lead is judged with the pixels lit that put the most through it.`,
	Formula: `The greatest current over every pattern that the ceilings allow, against the wire's ` + "`ampacity`" + `, times ` + "`parallel`" + `.
Where the wire says none, a conservative table counts, lowered for air above 40 degC.`,
	Do: `Use a thicker wire, or several conductors in parallel.
Feed the run at more places, each through a lead of its own.
The code in force where the work is done may ask for more than this table.`,
	Sources: []string{
		"14 to 10 AWG: NFPA 70 (NEC) 240.4(D); 18 and 16 AWG: NFPA 70 table 402.5; thinner: NFPA 79 table 12.5.1 (from memory)",
		"1.5 to 4 mm2: IEC 60204-1 table 6, method B2 at 40 degC; thinner: the AWG size at or just below",
		"IEC 60364-4-43, clause 433.1",
	},
	Bad: func() string {
		return instead(shelf, lowLead+`  fuse   = "5 A"`, instead(lowLead, "wire.feed", "wire.data")+`  fuse   = "3 A"`)
	},
	Good:  func() string { return shelf },
	Check: checkLeadOvercurrent,
}

func checkLeadOvercurrent(p *lint.Pass) {
	load := sizing.Loads{}
	for _, l := range p.Figures.Leads {
		w, over := overcurrent(p.Figures, l)
		if !over {
			continue
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Wire.At), Case: w.Case,
			Value: &lint.Value{Got: w.Value, Limit: l.Ampacity, Unit: "A"},
			Message: fmt.Sprintf("%s: up to %s flow %s, above the %s that its %s may carry", l.ID(),
				quantity.ShowAgainst(quantity.Current, w.Value, l.Ampacity), inWorst(w), showAmps(l.Ampacity), conductors(l)),
		}
		// Whoever takes the advice is not to get the next error for the fuse.
		carries := load.Of(p.Figures, l)
		remedy := "use a thicker wire"
		if l.Fused() && !l.Device.Carries(l.Fuse.V.SI, carries) {
			remedy = sizing.FuseFor(p.Figures, l, carries).Do
		} else if g, some := sizing.Thinnest(p.Figures, l, func(ampacity float64) bool {
			return ampacity >= carries && (!l.Fused() || l.Device.Protects(l.Fuse.V.SI, ampacity))
		}); some {
			remedy += fmt.Sprintf(" (%s carries it)", g)
		}
		f.Message += "; " + remedy
		if strings.HasPrefix(remedy, "use ") {
			f.Message += ", or share the current among more leads"
		}
		f.Propose = func() [][]lint.Proposal {
			return [][]lint.Proposal{thickerAndFused(p.Figures, l, l.Fuse.Set)}
		}
		p.Report(f)
	}
}

// overcurrent judges a lead's greatest current against its ampacity. A wire
// that the air alone takes to its limit is the business of wire-overheated.
func overcurrent(f *figures.Figures, l *figures.Lead) (figures.Worst, bool) {
	if !l.OK || l.Ampacity <= 0 {
		return figures.Worst{}, false
	}
	w := f.WorstLead(l)
	return w, w.OK && w.Value > l.Ampacity*(1+1e-9)
}

// conductors writes what a side of a lead consists of: "16 AWG wire", "2 x 16
// AWG wire".
func conductors(l *figures.Lead) string {
	what := fmt.Sprintf("%s wire", l.Wire.V.Gauge.V)
	if l.Parallel.V > 1 {
		what = fmt.Sprintf("%d x %s", l.Parallel.V, what)
	}
	if l.Together > 1 {
		what += fmt.Sprintf(", %d pairs together,", l.Together)
	}
	return what
}
