package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestPowerBalance: what the sources of random networks give is what pixels, sinks, wires and rails take.
func TestPowerBalance(t *testing.T) {
	lost := 0.0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 71))
		c := tiedCircuit(r, 40)
		if seed%2 == 0 {
			c = randomCircuit(r, 40)
		}
		if seed%3 == 0 {
			warmUp(r, c)
		}
		sol, err := Solve(c)
		if err != nil {
			continue
		}
		given, taken := 0.0, 0.0
		for i, s := range c.Sources {
			given += s.Volts * sol.SourceAmps[i]
		}
		for i, w := range c.Wires {
			taken += sol.WireAmps[i] * sol.WireAmps[i] * w.At(sol.WireAmps[i])
		}
		for i, s := range c.Sinks {
			taken += sol.SinkAmps[i] * (sol.Volts[s.Plus] - sol.Volts[s.Minus])
		}
		for i := range sol.Strips {
			taken += sol.Strips[i].Watts + sol.Strips[i].RailWatts
			lost += sol.Strips[i].RailWatts
		}
		if math.Abs(given-taken) > 1e-6*math.Max(1, math.Abs(given)) {
			t.Errorf("seed %d: sources give %.9g W, %.9g W are taken", seed, given, taken)
		}
	}
	if lost < 1 {
		t.Errorf("%g W in rails are too few for a test", lost)
	}
}

// Two pixels of 1 A each, 1 m apart, on rails of 0.1 ohm/m that are fed at the start: the first 0.5 m carry 2 A and
// lose 2 x 4 x 0.05 = 0.4 W, the metre between them 2 x 1 x 0.1 = 0.2 W, the rest nothing.
func TestRailWattsByHand(t *testing.T) {
	c := &Circuit{
		Nodes: 2, Sources: []Source{{0, 1, 12}},
		Strips: []Strip{{Pixels: 2, Pitch: 1, Rail: 0.1, Law: constant(1), Share: []float64{1}, Taps: []Tap{{0, 0, 1}}}},
	}
	near(t, "lost in the rails, W", mustSolve(t, c).Strips[0].RailWatts, 0.6, 1e-9)
}
