package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/thermal"
	"ohmstead/lint"
)

var HeatExcess = &lint.Rule{
	Name:  "heat-excess",
	Title: "A run gives off more heat than its diffuser carries away",
	Level: lint.Warning,
	Why: `Nearly all the power of a strip ends as heat in its diffuser, and silicone and closed channels carry little of it away.
Hot LEDs fade and turn colour within months; adhesive lets go; near wood or cloth the heat is a danger.`,
	Formula: "Power of the run over its length, in W/m, against the diffuser's `heat_limit`. A ceiling bounds the sum over all runs and not the place, so the figure is that of the run fully lit; where a ceiling holds it lower even for this run alone, that counts.",
	Do: `Use metal channel, a strip with fewer LEDs or a lower density, or a ceiling low enough for this run.
Keep warm diffusers away from what burns, and follow the local code.`,
	Sources: []string{"common practice, no source: metal channel is advised above about 10 W/m", "strip board at most 50 degC for 50 000 h (a profile maker's note)"},
	Bad:     instead(warm, `"18 W/m"`, `"14 W/m"`),
	Good:    warm,
	Check:   checkHeatExcess,
}

var warm = instead(shelf, `wire "feed"`, `diffuser "tube" {
  like       = catalog.channel_surface
  heat_limit = "18 W/m"
}

wire "feed"`, `run "top" {
  strip  = strip.led
  length = "1 m"`, `run "top" {
  strip    = strip.led
  diffuser = diffuser.tube
  insert   = "slit"
  length   = "1 m"`)

func checkHeatExcess(p *lint.Pass) {
	full, ok := p.Figures.Case("full")
	if !ok {
		return
	}
	for i, r := range p.Figures.Runs {
		d := r.Diffuser.V
		rc := full.Runs[i]
		if !rc.OK || d == nil || !d.HeatLimit.Set || d.HeatLimit.Bad || r.Reach() <= 0 {
			continue
		}
		watts, limited := rc.Watts, ""
		for _, c := range p.Figures.Controllers {
			if r.Port == nil || c.Controller != r.Port.Controller || !c.Ceiling.Set || c.Ceiling.Bad {
				continue
			}
			// the whole ceiling in this run, at its own voltage
			if most := (c.Ceiling.V.SI - c.Idle + float64(r.Pixels)*r.Law.Idle); most < rc.Amps && rc.Amps > 0 {
				watts = rc.Watts * most / rc.Amps
				limited = ", even under the ceiling"
			}
		}
		per, err := thermal.PerMetre(watts, r.Reach())
		limit := d.HeatLimit.V.SI
		if err != nil || per <= limit {
			continue
		}
		name := "full"
		if limited != "" {
			name = "any"
		}
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(r.Diffuser.At), Case: name,
			Value: &lint.Value{Got: per, Limit: limit, Unit: "W/m"},
			Message: fmt.Sprintf("%s gives off %s in case %s%s, above the %s that %s carries away; use metal channel, a lower density, or a ceiling that keeps it at %s or less",
				r.ID(), quantity.ShowAgainst(quantity.PowerPerLength, per, limit), name, limited, quantity.Show(quantity.PowerPerLength, limit), d.ID(),
				quantity.Show(quantity.Power, limit*r.Reach())),
			Related: []lint.Related{{At: d.At(d.HeatLimit.At), Message: "what the diffuser carries away"}},
		})
	}
}
