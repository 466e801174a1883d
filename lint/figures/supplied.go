package figures

import (
	"math"
	"slices"

	"ohmstead/calc/supply"
	"ohmstead/schema"
)

// MostVolts is the most voltage that a strip stands, V: its own max_voltage,
// else supply.OverVoltage times its nominal one. False where neither is known.
func MostVolts(s *schema.Strip) (volts float64, ok bool) {
	if s.MaxVoltage.Set && !s.MaxVoltage.Bad {
		return s.MaxVoltage.V.SI, true
	}
	return s.Voltage.V.SI * supply.OverVoltage, s.Voltage.Known()
}

// Takes reports whether a supply voltage suits one of those that a part is made for.
func Takes(made []schema.Quantity, volts float64) bool {
	return slices.ContainsFunc(made, func(q schema.Quantity) bool { return supply.Suits(q.SI, volts) })
}

// Loss is the voltage that a run's poorest pixel is short of its supply, V, in
// a case, and the most that share of the strip's nominal voltage allows. from
// is the highest set-point of the supplies that reach the run.
func (f *Figures) Loss(c *Case, r *Run, from []Output, share float64) (lost, allowed float64, ok bool) {
	rc := c.Runs[r.place]
	if !rc.OK || len(from) == 0 {
		return 0, 0, false
	}
	volts := 0.0
	for _, o := range from {
		volts = math.Max(volts, o.Supply.Volts())
	}
	return volts - rc.MinVolts, share * r.Volts, true
}
