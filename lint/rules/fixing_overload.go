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
Ends, corners, joints of the diffuser's pieces, and bends where they begin and end have fixings of their own; ` + "`ohmstead show`" + ` lists them all.
A magnet and an acrylic adhesive hold less the warmer they get.
One that gives way passes its share to the next, and a channel or tube that comes down can hurt someone.`,
	Formula: `weight of the diffuser per length x distance between two fixings, no further apart than spacing; of a tape along the whole run, weight per length against width / 55 cm2/kg. What a magnet holds falls by (1 - 0.0012/K x (T - 20 degC))^2, what a piece of acrylic adhesive holds to a third at 66 degC; the rule of the tape's makers has that in it. T = ambient + 20 K x power / heat_limit`,
	Do: `Write a smaller spacing in the fixing, or take one that holds more.
What a fixing holds depends on what it sits in: keep a good margin overhead and over doors.`,
	Sources: []string{"arithmetic; the fixing's own figure", "tape: 55 cm2 of acrylic foam tape a kilogram of static load, the usual rule of its makers (from memory)",
		"warm magnets and tapes: makers' tables of grades, and of static loads at 22 and 66 degC (from memory)"},
	Bad:   func() string { return instead(clipped(), "\"20 cm\"\n  holds", "\"90 cm\"\n  holds") },
	Good:  clipped,
	Check: checkFixingOverload,
}

// clipped is the tubed shelf with clips.
func clipped() string {
	return instead(tubed(),
		"surface \"wall\"", "fixing \"clip\" {\n  kind    = \"clip\"\n  spacing = \"20 cm\"\n  holds   = \"48 g\"\n}\n\nsurface \"wall\"",
		"  diffuser = diffuser.tube\n", "  diffuser = diffuser.tube\n  fixing   = fixing.clip\n")
}

func checkFixingOverload(p *lint.Pass) {
	habit := p.Figures.Habit
	for _, r := range p.Figures.Runs {
		if load, holds, ok := r.TapeLoad(); ok && load > holds*(1+1e-9) {
			p.Report(lint.Finding{
				Subject: r.ID(), At: r.At(r.Fixing.At), Value: &lint.Value{Got: load, Limit: holds, Unit: "kg/m"},
				Message: fmt.Sprintf("%s: %s carries %s of %s, more than the %s that a tape %s wide holds for good; take a wider one, or clips", r.ID(), r.Fixing.V.ID(),
					habit.ShowAgainst(quantity.MassPerLength, load, holds), r.Diffuser.V.ID(), habit.Show(quantity.MassPerLength, holds), r.Fixing.V.Width.V),
			})
		}
		most, kg, ok := r.FixingLoad()
		if !ok || !r.Fixing.V.Holds.Known() {
			continue
		}
		share, hot := p.Figures.Warm(r)
		warm := ""
		if share < 1-1e-9 {
			warm = " at " + habit.Show(quantity.Temperature, hot)
		}
		holds := r.Fixing.V.Holds.V
		holds = holds.With(holds.SI * share)
		if kg <= holds.SI*(1+1e-9) {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.At(r.Fixing.At), Value: &lint.Value{Got: kg, Limit: holds.SI, Unit: "kg"},
			Message: fmt.Sprintf("%s: %s at %s carries %s of %s, more than the %s that it holds%s", r.ID(), r.Fixing.V.ID(), habit.Show(quantity.Length, most.At),
				habit.ShowAgainst(quantity.Mass, kg, holds.SI), r.Diffuser.V.ID(), habit.Quantity(holds), warm),
		}
		if most := r.FixingSpacing(holds.SI); most > 0 {
			f.Message += fmt.Sprintf("; one each %s carries it", habit.Show(quantity.Length, most))
		}
		p.Report(f)
	}
}
