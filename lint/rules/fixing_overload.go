package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

var FixingOverload = &lint.Rule{
	Name:  "fixing-overload",
	Title: "A fixing carries more than it holds",
	Level: lint.Warning,
	Why: `Each fixing carries the weight of the run from halfway to one neighbour to halfway to the other.
One that gives way passes its share to the next, and a channel or tube that comes down can hurt someone.`,
	Formula: "weight of the diffuser per length x distance between two fixings, spread evenly no further apart than spacing; of a tape along the whole run, weight per length against width / 55 cm2/kg",
	Do: `Write a smaller spacing in the fixing, or take one that holds more.
What a fixing holds depends on what it sits in: keep a good margin overhead and over doors.`,
	Sources: []string{"arithmetic; the fixing's own figure", "tape: 55 cm2 of acrylic foam tape a kilogram of static load, the usual rule of its makers (from memory)"},
	Bad:     instead(clipped, "\"40 cm\"\n  holds", "\"90 cm\"\n  holds"),
	Good:    clipped,
	Check:   checkFixingOverload,
}

// clipped is the tubed shelf with clips.
var clipped = instead(tubed,
	"surface \"wall\"", "fixing \"clip\" {\n  kind    = \"clip\"\n  spacing = \"40 cm\"\n  holds   = \"80 g\"\n}\n\nsurface \"wall\"",
	"  diffuser = diffuser.tube\n", "  diffuser = diffuser.tube\n  fixing   = fixing.clip\n")

func checkFixingOverload(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if load, holds, ok := r.TapeLoad(); ok && load > holds*(1+1e-9) {
			p.Report(lint.Finding{
				Subject: r.ID(), At: r.At(r.Fixing.At), Value: &lint.Value{Got: load, Limit: holds, Unit: "kg/m"},
				Message: fmt.Sprintf("%s: %s carries %s of %s, more than the %s that a tape %s wide holds for good; take a wider one, or clips", r.ID(), r.Fixing.V.ID(),
					p.Figures.Habit.ShowAgainst(quantity.MassPerLength, load, holds), r.Diffuser.V.ID(), p.Figures.Habit.Show(quantity.MassPerLength, holds), r.Fixing.V.Width.V),
			})
		}
		kg, ok := r.FixingLoad()
		if !ok || !r.Fixing.V.Holds.Known() {
			continue
		}
		holds := r.Fixing.V.Holds.V
		if kg <= holds.SI*(1+1e-9) {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.At(r.Fixing.At), Value: &lint.Value{Got: kg, Limit: holds.SI, Unit: "kg"},
			Message: fmt.Sprintf("%s: each %s carries %s of %s, more than the %s that it holds", r.ID(), r.Fixing.V.ID(), p.Figures.Habit.ShowAgainst(quantity.Mass, kg, holds.SI), r.Diffuser.V.ID(), p.Figures.Habit.Quantity(holds)),
		}
		if most := r.FixingSpacing(); most > 0 {
			f.Message += fmt.Sprintf("; one each %s carries it", p.Figures.Habit.Show(quantity.Length, most))
		}
		p.Report(f)
	}
}
