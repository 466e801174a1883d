package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var SupplyDerated = &lint.Rule{
	Name:  "supply-derated",
	Title: "Heat leaves a supply too little for its load",
	Level: lint.Warning,
	Why: `The rating of a supply holds up to some air temperature; above it the maker's curve falls, often to half at 65 to 70 degC.
A supply in a closed box or a loft in summer is such a case: it shuts down, or ages quickly.
Where the plan's air is warmer than 50 degC and nothing says what the supply still gives there, that is asked for.`,
	Formula: "`rating * (1 - derate * (ambient - derate_from))` against the greatest current of an output over every pattern that the ceilings allow.",
	Do: `Give the supply air, a cooler place or a larger one.
Where the plan's ambient is a guess, measure it on the warmest evening.`,
	Sources: []string{"LS 25-150 supply instruction manual, output derating against ambient temperature"},
	Bad:     func() string { return derated("50 degC") },
	Good:    func() string { return derated("38 degC") },
	Check:   checkSupplyDerated,
}

// derated is the shelf at an air temperature, with a supply that loses half of
// its rating by 50 degC.
func derated(ambient string) string {
	return instead(shelf, `  mains = "230 V"
  rate  = "40 Hz"`, `  mains   = "230 V"
  ambient = "`+ambient+`"
  rate    = "40 Hz"`, `  output = "5 V"
  rating = "10 A"
  input  = ["230 V"]`, `  output      = "5 V"
  rating      = "8 A"
  input       = ["230 V"]
  derate_from = "40 degC"
  derate      = "5 %/degC"`)
}

func checkSupplyDerated(p *lint.Pass) {
	for i, s := range p.Plan.Supplies {
		if f, silent := underatedInHeat(p, s); silent {
			p.Report(f)
			continue
		}
		any := p.Figures.Any.Supplies[i]
		left := p.Figures.Derated(s)
		if !any.OK || left >= 1 || !s.Rating.Known() {
			continue
		}
		rating := s.Rating.V.SI
		if any.Amps <= rating*left || any.Amps > rating { // over the full rating: supply-overload says so
			continue
		}
		need := math.Ceil(any.Amps/left*2) / 2
		p.Report(lint.Finding{
			Subject: s.ID(), At: s.At(s.Derate.At), Case: schema.Any,
			Value: &lint.Value{Got: any.Amps, Limit: rating * left, Unit: "A"},
			Message: fmt.Sprintf("%s may have to give %s, but at %s it holds only %s of its %s; cool it, or take one of %s or more",
				s.ID(), quantity.ShowAgainst(quantity.Current, any.Amps, rating*left), p.Figures.Habit.Show(quantity.Temperature, p.Plan.Ambient()),
				showAmps(rating*left), s.Rating.V, showAmps(need)),
		})
	}
}

// warmest is the air temperature in degC up to which a supply is taken to give
// its rating where nothing else is said: the flat part of the curve in the LS
// 25-150 instruction manual.
const warmest = 50

// underatedInHeat asks what a supply gives in air so warm that most give less
// than their rating, where the supply does not say.
func underatedInHeat(p *lint.Pass, s *schema.Supply) (lint.Finding, bool) {
	air := p.Plan.Ambient()
	if air <= warmest || s.Broken || s.DerateFrom.Bad || s.Derate.Bad || s.DerateFrom.Set && (s.Derate.Set || s.DerateFrom.V.SI >= air) {
		return lint.Finding{}, false
	}
	return lint.Finding{
		Subject: s.ID(), At: s.At(s.Rating.At), Value: &lint.Value{Got: air, Limit: warmest, Unit: "degC"},
		Message: fmt.Sprintf("%s: the air is up to %s warm, and nothing says what is left of its %s there; write derate_from and derate from its sheet, most supplies give less above %s",
			s.ID(), p.Figures.Habit.Show(quantity.Temperature, air), s.Rating.V, p.Figures.Habit.Show(quantity.Temperature, warmest)),
	}, true
}
