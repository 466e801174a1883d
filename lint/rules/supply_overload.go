package rules

import (
	"fmt"
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var SupplyOverload = &lint.Rule{
	Name:   "supply-overload",
	Title:  "More current is drawn from a supply than it can give",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Load,
	Why: `A supply that is asked for more than its rating lowers its voltage, switches off and on again, or overheats.
Each separately limited output has the rating to itself.
Under a ceiling the whole ceiling may come from one output, wherever the pixels that show a pattern hang.`,
	Formula: `The greatest current of an output over every pattern that the ceilings allow, against its rating.
Where one output feeds everything, that is at most the current of the case full.`,
	Do: `Take a supply of a higher rating, with room above the load.
Share the runs among several supplies, with their pluses apart.
Set a ceiling in the controller's firmware.`,
	Sources: []string{"the supply's own rating plate", "common practice, no source: plan with 80 % of the rating"},
	Bad:     func() string { return instead(shelf, `  rating = "10 A"`, `  rating = "4 A"`) },
	Good:    func() string { return instead(shelf, `  rating = "10 A"`, `  rating = "6 A"`) },
	Check:   checkSupplyOverload,
}

func checkSupplyOverload(p *lint.Pass) {
	for i, sup := range p.Plan.Supplies {
		w, over := overloaded(p.Figures, i)
		if !over {
			continue
		}
		rating := sup.Rating.V.SI
		f := lint.Finding{
			Subject: sup.ID(), At: sup.At(sup.Rating.At), Case: w.Case,
			Value: &lint.Value{Got: w.Value, Limit: rating, Unit: "A"},
			Message: fmt.Sprintf("%s: up to %s are drawn from %s %s, above its rating of %s", sup.ID(),
				quantity.ShowAgainst(quantity.Current, w.Value, rating), output(sup), inWorst(w), sup.Rating.V),
		}
		p.Report(withSupplyRemedy(p, f, sup, w))
	}
}

// output is what a supply's rating counts for.
func output(s *schema.Supply) string {
	if s.Outputs.V > 1 {
		return "one of its outputs"
	}
	return "it"
}

// overloaded judges a supply's fullest output against the rating on its plate.
func overloaded(f *figures.Figures, i int) (figures.Worst, bool) {
	w := f.WorstSupply(i)
	s := f.Plan.Supplies[i]
	return w, w.OK && s.Rating.Known() && w.Value > s.Rating.V.SI*(1+1e-9)
}

// withSupplyRemedy adds what to do about too much load: a higher rating, or a
// lower ceiling where one controller drives all that hangs on the supply.
func withSupplyRemedy(p *lint.Pass, f lint.Finding, sup *schema.Supply, w figures.Worst) lint.Finding {
	load := p.Plan.Limits().Load
	rating := sup.Rating.V.With(p.Figures.RatingFor(sup, w.Value, load))
	f.Message += fmt.Sprintf("; use a supply of at least %s, share the runs among more supplies, or lower the ceiling", rating.Exact())
	f.Propose = func() [][]lint.Proposal {
		var out []lint.Proposal
		if says, _ := sup.Node.Assign("rating"); says != nil && sup.Home == schema.InPlan {
			out = append(out, proposal("Use a supply of "+rating.Exact(), schema.SetAttr(&sup.Header, "rating", strconv.Quote(rating.Exact()))))
		}
		if c, most, ok := p.Figures.CeilingFor(sup, load); ok {
			out = append(out, setCeiling(c, most))
		}
		return each(out)
	}
	return f
}
