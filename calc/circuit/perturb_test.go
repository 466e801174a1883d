package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ohmstead/calc/thorough"
)

// Each thing that may vary on a wall, by as much as it may, in random networks: against the solution of the varied
// network. Wires that warm up gain up to six times their resistance.
func TestPerturbed(t *testing.T) {
	starved, beyond := 0, 0
	kinds := map[string]int{}
	for seed := range uint64(thorough.Or(2000, 200)) {
		r := rand.New(rand.NewPCG(seed, 91))
		c := randomCircuit(r, 80)
		hot := seed%2 == 0
		for i := range c.Wires {
			if hot {
				c.Wires[i].Heat, c.Wires[i].Most = 0.015*r.Float64(), 20
			}
		}
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		base, err := n.Solve(nil)
		if err != nil {
			t.Fatal(err)
		}
		for kind, vary := range []func(d *Circuit){
			func(d *Circuit) { d.Wires[r.IntN(len(d.Wires))].Ohms *= 1.05 + 0.15*r.Float64() },
			func(d *Circuit) { d.Strips[r.IntN(len(d.Strips))].Rail *= 1.1 },
			func(d *Circuit) {
				s := &d.Strips[r.IntN(len(d.Strips))]
				law := *s.Law
				law.Channels = slices.Clone(law.Channels)
				for i := range law.Channels {
					law.Channels[i].Amps *= 1.1
				}
				s.Law = &law
			},
			func(d *Circuit) {
				s := &d.Strips[r.IntN(len(d.Strips))]
				law := *s.Law
				law.Idle *= 1.3
				s.Law = &law
			},
			func(d *Circuit) { d.Sources[r.IntN(len(d.Sources))].Volts *= 1.01 },
		} {
			d := *c
			d.Sources, d.Wires, d.Strips = slices.Clone(c.Sources), slices.Clone(c.Wires), slices.Clone(c.Strips)
			vary(&d)
			exact, err := Solve(&d)
			if err != nil {
				continue // sources on a ring that contradict each other now
			}
			got, err := n.Perturbed(&d, nil, base)
			if err != nil {
				t.Fatal(err)
			}
			moved, off := 0.0, 0.0
			compare := func(got, exact, base float64) {
				moved, off = max(moved, math.Abs(exact-base)), max(off, math.Abs(exact-got))
			}
			for i, x := range exact.Volts {
				compare(got.Volts[i], x, base.Volts[i])
			}
			for i := range exact.Strips {
				g, b := got.Strips[i].Volts(), base.Strips[i].Volts()
				for k, x := range exact.Strips[i].Volts() {
					compare(g[k], x, b[k])
				}
			}
			allowed := 1e-9
			if hot {
				allowed = 1e-6
			}
			if got.Iterations > 1 { // pixels are starved: what is left is of second order
				allowed = max(1e-6, 0.02*moved)
				if off > 1e-6+1e-3*moved {
					beyond++
				}
				starved++
			}
			if off > allowed {
				t.Errorf("seed %d: variation %d moves %g V, worked out %g V off", seed, kind, moved, off)
			}
			kinds[fmt.Sprint(kind, hot, base.Iterations == 1, got.Iterations == 1)]++
		}
	}
	if beyond*100 > starved {
		t.Errorf("of %d variations where pixels are starved %d are off by more than a thousandth", starved, beyond)
	}
	for _, hot := range []bool{false, true} {
		for kind := range 5 {
			for _, solved := range []string{"true true", "false false"} { // in one step, and from a starved one
				if kinds[fmt.Sprint(kind, hot)+" "+solved] == 0 {
					t.Errorf("no variation %d, hot %t, %s: %v", kind, hot, solved, kinds)
				}
			}
		}
	}
}

// Where the law of pixels is nearly a step and all strips vary, the first steps lead too far.
func TestPerturbedFarFirst(t *testing.T) {
	starved := 0
	for seed := range uint64(thorough.Or(6000, 600)) {
		r := rand.New(rand.NewPCG(seed, 4091))
		c := randomCircuit(r, 80)
		if c.Strips[0].Law != lawStep {
			continue
		}
		for i := range c.Strips {
			if r.IntN(3) == 0 {
				c.Strips[i].Rail *= 10
			}
		}
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		base, err := n.Solve(nil)
		if err != nil {
			t.Fatal(err)
		}
		for kind := range 3 {
			d := *c
			d.Strips = slices.Clone(c.Strips)
			law := *lawStep
			law.Channels = slices.Clone(law.Channels)
			for i := range d.Strips {
				switch s := &d.Strips[i]; kind {
				case 0:
					s.Rail *= 1.1
				case 1:
					law.Channels[0].Amps, law.Channels[1].Amps, s.Law = 1.1*lawStep.Channels[0].Amps, 1.1*lawStep.Channels[1].Amps, &law
				case 2:
					law.Idle, s.Law = 1.3*lawStep.Idle, &law
				}
			}
			exact, err := Solve(&d)
			if err != nil {
				t.Fatal(err)
			}
			got, err := n.Perturbed(&d, nil, base)
			if err != nil {
				t.Fatal(err)
			}
			if got.Iterations > 1 {
				starved++
			}
			moved, off := 0.0, 0.0
			for i := range exact.Strips {
				g, b := got.Strips[i].Volts(), base.Strips[i].Volts()
				for k, x := range exact.Strips[i].Volts() {
					moved, off = max(moved, math.Abs(x-b[k])), max(off, math.Abs(x-g[k]))
				}
			}
			if off > 1e-6+0.03*moved {
				t.Errorf("seed %d: variation %d moves %g V, worked out %g V off", seed, kind, moved, off)
			}
		}
	}
	if starved < 100 {
		t.Errorf("pixels are starved in %d variations only", starved)
	}
}
