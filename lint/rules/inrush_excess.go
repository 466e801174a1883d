package rules

import (
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
)

var InrushExcess = &lint.Rule{
	Name:  "inrush-excess",
	Title: "More capacitance hangs on a supply than it starts into",
	Level: lint.Warning,
	Why: `At power-up empty capacitors are a short circuit until they are charged, for C x V / I: 10 mF take 24 ms at 24 V and 10 A.
A supply that waits for less than that switches off and tries again, for ever; a USB socket switches off, or the computer behind it does.
Where its sheet says how much it starts into, what hangs on it is counted. Where nothing is said, nothing is judged.`,
	Formula: "`capacitor` of the runs that a supply feeds, and `capacitance` of their strips times their pixels, against `capacitance` of the supply",
	Do: `Leave out or shrink the capacitors across the feeds, divide the runs among more supplies, or take a supply that starts into more.
A USB socket is for a board and a few pixels.`,
	Sources: []string{
		"manuals of rail supplies: 24 V ones charge 0.3 to 3 F freely, beyond that they start in fits; cheap enclosed ones say nothing, or 1 to 10 mF (from memory)",
		"USB: 10 uF beside 44 ohm without a limit of the inrush (a datasheet of a switch for it)",
	},
	Bad:   func() string { return instead(charged(), `"21 mF"`, `"19 mF"`) },
	Good:  charged,
	Check: checkInrushExcess,
}

// charged is the shelf with two capacitors of 10 mF.
func charged() string {
	return instead(shelf, "  input  = [\"230 V\"]\n", "  input  = [\"230 V\"]\n\n  capacitance = \"21 mF\"\n",
		"run \"top\" {\n", "run \"top\" {\n  capacitor = \"10 mF\"\n\n", "run \"low\" {\n", "run \"low\" {\n  capacitor = \"10 mF\"\n\n")
}

func checkInrushExcess(p *lint.Pass) {
	joined := p.Figures.Connectivity()
	for _, s := range p.Plan.Supplies {
		if !s.Capacitance.Set || s.Capacitance.Bad {
			continue
		}
		sum, most := 0.0, 0.0
		var worst *figures.Run
		for _, r := range p.Figures.Runs {
			fed := slices.ContainsFunc(joined.Plus(r.Run), func(o figures.Output) bool { return o.Supply == s })
			if c := charge(r); fed && c > 0 {
				if sum += c; c > most {
					most, worst = c, r
				}
			}
		}
		limit := s.Capacitance.V.SI
		if sum <= limit*(1+1e-9) {
			continue
		}
		p.Report(lint.Finding{
			Subject: s.ID(), At: s.At(s.Capacitance.At),
			Value: &lint.Value{Got: sum, Limit: limit, Unit: "F"},
			Message: fmt.Sprintf("%s: capacitors of %s hang on it, %s of them on %s, above the %s that it starts into; use smaller ones, or another supply for some of the runs",
				s.ID(), quantity.ShowAgainst(quantity.Capacitance, sum, limit), quantity.Show(quantity.Capacitance, most), worst.ID(), s.Capacitance.V),
			Related: []lint.Related{{At: worst.Head(), Message: "has the most"}},
		})
	}
}

// charge is the capacitance of a run as far as the plan says it, F.
func charge(r *figures.Run) (farads float64) {
	if r.Capacitor.Set && !r.Capacitor.Bad {
		farads = r.Capacitor.V.SI
	}
	if s := r.Strip.V; s != nil && r.OK && s.Capacitance.Set && !s.Capacitance.Bad {
		farads += float64(r.Pixels) * s.Capacitance.V.SI
	}
	return farads
}
