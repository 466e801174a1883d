package rules

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var SupplyOverload = &lint.Rule{
	Name:  "supply-overload",
	Title: "More current is drawn from a supply than it can give",
	Level: lint.Error,
	Guard: true,
	Why: `A supply that is asked for more than its rating lowers its voltage, switches off and on again, or overheats.
Each separately limited output has the rating to itself.
Under a ceiling the whole ceiling may come from one output, wherever the pixels that show a pattern hang.`,
	Formula: `The greatest current of an output over every pattern that the ceilings allow, against its rating.
Where one output feeds everything, that is at most the current of the case full.`,
	Do: `Take a supply of a higher rating, with room above the load.
Share the runs among several supplies, with their pluses apart.
Set a ceiling in the controller's firmware.`,
	Sources: []string{"the supply's own rating plate", "common practice, no source: plan with 80 % of the rating"},
	Bad:     instead(shelf, `  rating = "10 A"`, `  rating = "4 A"`),
	Good:    instead(shelf, `  rating = "10 A"`, `  rating = "6 A"`),
	Check:   checkSupplyOverload,
}

func checkSupplyOverload(p *lint.Pass) {
	s := newSearch(p)
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
		p.Report(withSupplyRemedy(p, s, f, sup, w))
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
func withSupplyRemedy(p *lint.Pass, s *search, f lint.Finding, sup *schema.Supply, w figures.Worst) lint.Finding {
	f.Message += "; share the runs among more supplies, or lower the ceiling"
	if !s.at(f.At) {
		return f
	}
	var do []string
	amps := p.Figures.RatingFor(sup, w.Value, p.Plan.Limits().Load)
	bigger := *sup
	bigger.Rating.V = sup.Rating.V.With(amps)
	if _, ok := p.Clears(sup.ID(), func(plan *schema.Plan) { swapSupply(plan, sup, &bigger) }); ok {
		do = append(do, "use a supply of at least "+bigger.Rating.V.Exact())
	}
	if c, most, ok := p.Figures.CeilingFor(sup, p.Plan.Limits().Load); ok {
		lower := *c.Controller
		lower.Ceiling.V, lower.Ceiling.Set, lower.Ceiling.Bad = quantity.Of(quantity.Current, most), true, false
		if _, ok := p.Clears(sup.ID(), func(plan *schema.Plan) { swapController(plan, c.Controller, &lower) }); ok {
			do = append(do, fmt.Sprintf("set the ceiling of %s to %s", c.ID(), lower.Ceiling.V.Exact()))
			if c.Node != nil && c.Home == schema.InPlan {
				f.Fixes = append(f.Fixes, lint.Fix{Title: "Write ceiling = \"" + lower.Ceiling.V.Exact() + "\"",
					Edits: []lint.Edit{write(c.Node, "ceiling", `"`+lower.Ceiling.V.Exact()+`"`)}})
			}
		}
	}
	if len(do) > 0 {
		f.Message = cutTail(f.Message) + strings.Join(do, ", or ")
	}
	return f
}
