package rules

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var FuseTooLarge = &lint.Rule{
	Name:   "fuse-too-large",
	Title:  "A fuse is rated above what its wire may carry",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Fault,
	Why: `A fuse protects the wire behind it, not the pixels.
Rated above the wire's ampacity it lets a fault through that the wire does not stand: the wire is the fuse then.
It is reported where nothing else, such as the limit of a small supply, keeps the current down.`,
	Formula: "load / 0.75 <= fuse <= ampacity of the wire",
	Do: `Fit the standard fuse that carries the load and is rated no higher than the wire's ampacity.
Where no fuse does both, use a thicker wire.`,
	Sources: []string{
		"IEC 60364-4-43, clause 433.1: load <= fuse <= ampacity",
		"ISO 8820-3, blade fuse-link ratings",
		"a fuse maker's application note, fuse selection: at most 75 % of the rating for long at 25 degC",
	},
	Bad:   instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+`  fuse   = "10 A"`),
	Good:  shelf,
	Check: checkFuseTooLarge,
}

func checkFuseTooLarge(p *lint.Pass) {
	faults := p.Figures.Faults()
	for _, l := range p.Figures.Leads {
		if !fuseTooLarge(faults, l) || l.Ampacity <= 0 {
			continue
		}
		if _, over := overcurrent(p.Figures, l); over {
			continue // the wire is too thin for the load already
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At), Case: schema.Full,
			Value:   &lint.Value{Got: l.Fuse.V.SI, Limit: l.Ampacity, Unit: "A"},
			Message: fmt.Sprintf("%s: its fuse of %s is rated above the %s that its %s may carry, and nothing else protects it", l.ID(), l.Fuse.V, showAmps(l.Ampacity), conductors(l)),
			Related: suppliesOf(faults.Lead(l)),
		}
		f.Message += "; use a thicker wire, or a fuse that protects this one"
		f.Propose = refit(p.Figures, l)
		p.Report(f)
	}
}

// fuseTooLarge reports whether a lead's own fuse is what leaves it without
// protection.
func fuseTooLarge(faults *figures.Faults, l *figures.Lead) bool {
	return l.OK && l.Fuse.Set && !l.Fuse.Bad && !fuse.Protects(l.Fuse.V.SI, l.Ampacity) && exposed(faults.Lead(l))
}
