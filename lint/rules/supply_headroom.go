package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var SupplyHeadroom = &lint.Rule{
	Name:  "supply-headroom",
	Title: "A supply has little room above its load",
	Level: lint.Warning,
	Why: `A supply that gives nearly all that it can for hours runs hot, is loud where it has a fan, and ages fast.
Room above the load is also what inrush, a warm day and one more run live on.
How much of the rating may be in use is a matter of judgement, so the policy's ` + "`load`" + ` says it: 80 % when nothing is said.`,
	Formula: "greatest current of an output over every pattern that the ceilings allow, as a share of its rating after derating",
	Do: `Take a supply of a higher rating, share the runs among several, or set a lower ceiling.
Where the load is short or rare, raise ` + "`load`" + ` in the policy.`,
	Sources: []string{"common practice, no source: 80 % for continuous load, the same share that NFPA 70 (NEC) takes for continuous loads on mains circuits"},
	Bad:     func() string { return instead(shelf, `  rating = "10 A"`, `  rating = "5 A"`) },
	Good:    func() string { return instead(shelf, `  rating = "10 A"`, `  rating = "6 A"`) },
	Check:   checkSupplyHeadroom,
}

func checkSupplyHeadroom(p *lint.Pass) {
	limit := p.Plan.Limits().Load
	for i, sup := range p.Plan.Supplies {
		w := p.Figures.WorstSupply(i)
		if _, over := overloaded(p.Figures, i); over || !w.OK || !sup.Rating.Known() {
			continue
		}
		if left, any := p.Figures.Derated(sup), p.Figures.Any.Supplies[i]; left < 1 && any.OK && any.Amps <= sup.Rating.V.SI && any.Amps > sup.Rating.V.SI*left {
			continue // that is supply-derated
		}
		share := w.Value / (sup.Rating.V.SI * p.Figures.Derated(sup))
		if share <= limit*(1+1e-9) {
			continue
		}
		f := lint.Finding{
			Subject: sup.ID(), At: sup.At(sup.Rating.At), Case: w.Case,
			Value: &lint.Value{Got: share, Limit: limit, Unit: "1"},
			Message: fmt.Sprintf("%s: up to %s are drawn from %s %s, %s of its rating of %s where the policy's load allows %s", sup.ID(),
				showAmps(w.Value), output(sup), inWorst(w), showShare(share, limit), rated(p.Figures, sup), quantity.Show(quantity.Share, limit)),
		}
		p.Report(withSupplyRemedy(p, f, sup, w))
	}
}

// rated writes a supply's rating, with what the heat leaves of it.
func rated(f *figures.Figures, s *schema.Supply) string {
	if left := f.Derated(s); left < 1 {
		return fmt.Sprintf("%s, of which %s leave %s", s.Rating.V, f.Habit.Show(quantity.Temperature, f.Plan.Ambient()), showAmps(s.Rating.V.SI*left))
	}
	return s.Rating.V.String()
}
