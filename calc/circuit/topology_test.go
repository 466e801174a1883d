package circuit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// checkTopology solves any circuit: it is refused with an error of ours, or its currents balance.
func checkTopology(t *testing.T, c *Circuit) (conflict bool) {
	t.Helper()
	sol, err := Solve(c)
	var bad *InputError
	var fight *ConflictError
	switch {
	case errors.As(err, &fight):
		return true
	case errors.As(err, &bad):
		return false
	case err != nil:
		t.Fatalf("%v", err)
	}
	if worst, where := expand(c, sol).imbalance(sol); !(worst < 1e-8) {
		t.Fatalf("currents do not balance: %s", where)
	}
	b, err := Any(c, []Budget{{Amps: 0.1}})
	var open *UnboundedError
	if errors.As(err, &open) {
		return false
	}
	if err != nil {
		t.Fatal(err)
	}
	for w, amps := range sol.WireAmps {
		if !(math.Abs(amps) <= b.Wires[w]*(1+1e-9)+1e-6) && !starved(c, sol) {
			t.Fatalf("wire %d carries %g A, over its bound of %g A", w, amps, b.Wires[w])
		}
	}
	return false
}

// starved tells whether any pixel or sink gets less than its full current.
func starved(c *Circuit, sol *Solution) bool {
	for i := range c.Sinks {
		if sol.SinkAmps[i] < c.Sinks[i].Amps*(1-1e-9) {
			return true
		}
	}
	for i := range c.Strips {
		for k, amps := range sol.Strips[i].PixelAmps() {
			if amps < c.Strips[i].Law.Nominal(shareOf(&c.Strips[i], k))*(1-1e-9) {
				return true
			}
		}
	}
	return false
}

func TestRandomTopologies(t *testing.T) {
	conflicts := 0
	const circuits = 5000
	for seed := range uint64(circuits) {
		if checkTopology(t, randomTopology(rand.New(rand.NewPCG(seed, 9)))) {
			conflicts++
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if conflicts == 0 || conflicts > circuits/2 {
		t.Errorf("%d of %d circuits are refused for contradicting sources: too few or too many to test with", conflicts, circuits)
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), uint8(30), 5.0, 0.3, 0.02, 0.2, 0.5)
	f.Add(uint64(2), uint8(3), 12.0, 0.0, 1.0, 1e-3, 1.0)
	f.Add(uint64(3), uint8(100), 0.0, 1e-9, 1e-7, 5.0, 0.0)
	f.Fuzz(func(t *testing.T, seed uint64, pixels uint8, volts, headroom, amps, ohms, share float64) {
		r := rand.New(rand.NewPCG(seed, 10))
		checkTopology(t, randomTopology(r))

		// One installation with the given values. They are kept to what is built; what is beyond
		// belongs to the tests of bad input.
		c := randomCircuit(r, int(pixels)+1)
		law := &Law{Idle: 0.001, Channels: []Channel{{amps, 2.5, headroom}}}
		for i := range c.Sources {
			c.Sources[i].Volts = volts
		}
		for i := range c.Strips {
			c.Strips[i].Law, c.Strips[i].Each, c.Strips[i].Share = law, nil, []float64{share}
		}
		for i := range c.Wires {
			c.Wires[i].Ohms = ohms
		}
		if volts > 60 || amps > 1 || ohms > 100 || ohms < 1e-4 {
			Solve(c) // no panic is all that is asked
			return
		}
		checkTopology(t, c)
	})
}
