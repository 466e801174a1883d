package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/timing"
	"ohmstead/lint"
	"ohmstead/schema"
)

var Flicker = &lint.Rule{
	Name:  "flicker",
	Title: "Dimmed light flickers where people stay",
	Level: lint.Hint,
	Why: `A chip dims by switching its LEDs fully on and off. Below 1250 Hz that is more than the low risk of IEEE 1789, which counts headaches and tired eyes; in a moving eye or a camera it shows as dots.
It is judged where the plan or a surface says that people stay (` + "`occupied`" + `), for chips whose rate is known; once for each kind of strip.
At full brightness nothing is switched.`,
	Formula: "100 % modulation against 0.08 % x `pwm_rate` in Hz from 90 to 1250 Hz, 0.025 % below, any above",
	Do: `For rooms to live and work in take a strip whose chip switches faster, 2 kHz and more.
Where it stays, use it bright or far from the eye.`,
	Sources: []string{"IEEE 1789-2015, recommended practice 1 (from memory); rates of chips: their datasheets, as the catalogue says"},
	Bad:     func() string { return lived("400 Hz") },
	Good:    func() string { return lived("2 kHz") },
	Check:   checkFlicker,
}

// lived is the shelf in a living room, with a chip of a rate.
func lived(rate string) string {
	return instead(shelf, "  rate  = \"40 Hz\"\n", "  rate  = \"40 Hz\"\n\n  occupied = true\n",
		"strip \"led\" { like = catalog.ws2812b_5v_60 }", "strip \"led\" {\n  like     = catalog.ws2812b_5v_60\n  pwm_rate = \""+rate+"\"\n}")
}

func checkFlicker(p *lint.Pass) {
	reported := map[*schema.Strip]bool{}
	for _, r := range p.Plan.Runs {
		s := r.Strip.V
		lived, ok := p.Plan.Occupied(r.On)
		if s == nil || !ok || !lived.V || !s.PWMRate.Known() || reported[s] {
			continue
		}
		most := timing.LowRisk(s.PWMRate.V.SI)
		if most >= 1 {
			continue
		}
		reported[s] = true
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(r.Strip.At), Related: []lint.Related{{At: lived.At, Message: "where people stay"}},
			Value: &lint.Value{Got: s.PWMRate.V.SI, Limit: timing.LowRiskRate, Unit: "Hz"},
			Message: fmt.Sprintf("%s: %s dims by switching its light fully off at %s, where %s is of low risk after IEEE 1789; take a chip of %s or more where people stay, or use it bright",
				r.ID(), s.ID(), s.PWMRate.V, quantity.Show(quantity.Share, most), quantity.Show(quantity.Frequency, timing.LowRiskRate)),
		})
	}
}
