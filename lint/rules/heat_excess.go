package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/thermal"
	"ohmstead/lint"
	"ohmstead/schema"
)

var HeatExcess = &lint.Rule{
	Name:  "heat-excess",
	Title: "A run gives off more heat than its diffuser carries away",
	Level: lint.Warning,
	Why: `Nearly all the power of a strip ends as heat in its diffuser, and silicone and closed channels carry little of it away.
Hot LEDs fade and turn colour within months; adhesive lets go; near wood or cloth the heat is a danger.`,
	Formula: "Power of the run over its length, its pixels' and what is lost in its copper, in W/m, against the diffuser's `heat_limit`: in case held, where all is lit under the ceilings, and in the plan's own cases. A pattern that puts a whole ceiling into one run for a while is not judged: heat builds up over minutes.",
	Do: `Use metal channel, a strip with fewer LEDs or a lower density, or a ceiling low enough for this run.
Keep warm diffusers away from what burns, and follow the local code.`,
	Sources: []string{"common practice, no source: metal channel is advised above about 10 W/m", "strip board at most 50 degC for 50 000 h (a profile maker's note)"},
	Bad:     func() string { return instead(warm(), `"12 W/m"`, `"8 W/m"`) },
	Good:    warm,
	Follows: []string{"supply-voltage-mismatch"},
	Check:   checkHeatExcess,
}

func warm() string {
	return instead(shelf, `wire "feed"`, `diffuser "tube" {
  like       = catalog.channel_surface
  heat_limit = "12 W/m"
}

wire "feed"`, `run "top" {
  strip  = strip.led
  length = "1 m"`, `run "top" {
  strip    = strip.led
  diffuser = diffuser.tube
  insert   = "slit"
  length   = "1 m"`)
}

func checkHeatExcess(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		d := r.Diffuser.V
		if d == nil || !d.HeatLimit.Set || d.HeatLimit.Bad || r.StripLength() <= 0 {
			continue
		}
		name, worst := p.Figures.Warmest(r)
		per, err := thermal.PerMetre(worst, r.StripLength())
		limit := d.HeatLimit.V.SI
		if err != nil || per <= limit {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.At(r.Diffuser.At), Case: name,
			Value: &lint.Value{Got: per, Limit: limit, Unit: "W/m"},
			Message: fmt.Sprintf("%s gives off %s in case %s, above the %s that %s carries away; use metal channel or a lower density, or keep it at %s or less with a ceiling",
				r.ID(), p.Figures.Habit.ShowAgainst(quantity.PowerPerLength, per, limit), name, p.Figures.Habit.Show(quantity.PowerPerLength, limit), d.ID(),
				quantity.Show(quantity.Power, limit*r.StripLength())),
			Related: []lint.Related{{At: d.At(d.HeatLimit.At), Message: "what the diffuser carries away"}},
		}
		if name == schema.Held {
			f.Propose = func() [][]lint.Proposal { return [][]lint.Proposal{ceilingsThatKeep(p.Figures, r, limit/per)} }
		}
		p.Report(f)
	}
}
