package figures

import (
	"math"

	"ohmstead/calc/thermal"
	"ohmstead/calc/wire"
)

// railOhms is the resistance of a run's rails, ohm/m, at the temperature that they are taken at in all cases
// and patterns, so that these stay comparable: the plan's ambient, and over it
//
//   - what the rail's own current makes of it (IPC-2221): that of all its pixels, half of it where the run is
//     fed in several places, but no more than its rail_current, above which a finding stands;
//   - what its light makes of it in a diffuser: 20 K at the heat_limit, as the catalogue reckons it, less in
//     proportion, all lit: a ceiling is software, and may be off. More is a finding.
func (f *Figures) railOhms(r *Run, feeds int) float64 {
	s := r.Strip.V
	amps := float64(r.Pixels) * r.PixelMax
	if feeds > 1 {
		amps /= 2
	}
	if s.RailCurrent.Set && !s.RailCurrent.Bad {
		amps = math.Min(amps, s.RailCurrent.V.SI)
	}
	const own, light = 60, 20 // K, at most
	rise := math.Min(own, thermal.FoilRise(s.Rail.V.SI, amps))
	if d := r.Diffuser.V; d != nil && d.HeatLimit.Set && !d.HeatLimit.Bad {
		watts := r.PixelMax * r.Volts / r.Pitch
		rise += light * math.Min(1, watts/d.HeatLimit.V.SI)
	}
	return s.Rail.V.SI * (1 + wire.TemperatureCoefficient*(f.Plan.Ambient()+rise-20))
}
