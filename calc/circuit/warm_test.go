package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// warmUp makes wires that gain 12 % at 0.5 to 6 A, as copper does over 30 K, and half of their resistance at most.
func warmUp(r *rand.Rand, c *Circuit) {
	for i := range c.Wires {
		if r.IntN(5) > 0 {
			rated := 0.5 + 5.5*r.Float64()
			c.Wires[i].Heat, c.Wires[i].Most = 0.12/(rated*rated), 2*rated
		}
	}
}

// One wire with 1 ohm when cold that gains 1 % at 1 A: at 5 A it has 1 + 0.01*25 = 1.25 ohm and loses
// 6.25 V; with no more than 3 A counted 1 + 0.01*9 = 1.09 ohm and 5.45 V.
func TestWarmByHand(t *testing.T) {
	for _, row := range []struct{ most, left float64 }{{10, 3.75}, {3, 4.55}} {
		sol := mustSolve(t, &Circuit{
			Nodes: 3, Sources: []Source{{0, 1, 10}},
			Wires: []Wire{{A: 0, B: 2, Ohms: 1, Heat: 0.01, Most: row.most}},
			Sinks: []Sink{{2, 1, 5, 3}},
		})
		near(t, "volts at the load", sol.Volts[2], row.left, 1e-9)
	}
	// The same wire behind 10 V with 3 V needed for 10 A: starved, the sink draws 10/3 A for each volt of
	// v = 10 - i - 0.01 i^3, so that i (1 + 0.3) + 0.01 i^3 = 10: i = 5.70786 A by bisection.
	sol := mustSolve(t, &Circuit{
		Nodes: 3, Sources: []Source{{0, 1, 10}},
		Wires: []Wire{{A: 0, B: 2, Ohms: 1, Heat: 0.01, Most: 10}},
		Sinks: []Sink{{2, 1, 10, 3}},
	})
	low, high := 0.0, 10.0
	for range 100 {
		if i := (low + high) / 2; 1.3*i+0.01*i*i*i > 10 {
			high = i
		} else {
			low = i
		}
	}
	near(t, "amps of a starved load", sol.WireAmps[0], low, 1e-9)
}

// Two wires of 1 ohm side by side share 6 A. One gains 1 % at 1 A, the other nothing: with i in the other,
// i = (6-i) (1 + 0.01 (6-i)^2). Cold copper would say 3 A each; the bound must not.
func TestWarmWiresSideBySide(t *testing.T) {
	law := &Law{Channels: []Channel{{Amps: 0.1, Forward: 1, Headroom: 0.1}}}
	c := &Circuit{
		Nodes: 4, Sources: []Source{{0, 1, 20}},
		Wires:  []Wire{{A: 0, B: 2, Ohms: 1, Heat: 0.01, Most: 10}, {A: 0, B: 2, Ohms: 1}, {A: 1, B: 3, Ohms: 1}},
		Strips: []Strip{{Pixels: 60, Pitch: 0.01, Rail: 0.01, Law: law, Share: []float64{1}, Taps: []Tap{{0, 2, 3}}}},
	}
	low, high := 0.0, 6.0
	for range 100 {
		if i := (low + high) / 2; i > (6-i)*(1+0.01*(6-i)*(6-i)) {
			high = i
		} else {
			low = i
		}
	}
	sol := mustSolve(t, c)
	near(t, "amps of the cold wire", sol.WireAmps[1], low, 1e-9)
	if low < 3.1 {
		t.Fatalf("%g A: not a case for this test", low)
	}
	b, err := Any(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if b.Wires[1] < low || b.Wires[1] > 3.3 {
		t.Errorf("the bound of the cold wire is %g A, it carries %g A", b.Wires[1], low)
	}
	if b.Wires[0] < 3-1e-9 || b.Wires[0] > 3+1e-9 {
		t.Errorf("the bound of the warm wire is %g A, cold it carries 3 A", b.Wires[0])
	}
	if math.Abs(b.Wires[2]-6) > 1e-9 || b.Spill[2] != 0 {
		t.Errorf("the bound of the common return is %g A, %g A of it spilled; nothing but 6 A can flow", b.Wires[2], b.Spill[2])
	}
	if got := sol.Strips[0].MinVolts; b.Strips[0].MinVolts > got || b.Strips[0].MinVolts < got-0.2 {
		t.Errorf("the bound is %g V, the strip gets %g V", b.Strips[0].MinVolts, got)
	}
}

// Wires that get so hot that the steps of cold copper take long must not be taken for settled: what flows into a node of
// wires flows out of it.
func TestHotWiresSettle(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 91))
		c := randomCircuit(r, 80)
		for i := range c.Wires {
			c.Wires[i].Heat, c.Wires[i].Most = 0.025*r.Float64(), 20 // up to MaxRise
		}
		sol := mustSolve(t, c)
		left := make([]float64, c.Nodes)
		for i, w := range c.Wires {
			left[w.A] -= sol.WireAmps[i]
			left[w.B] += sol.WireAmps[i]
			if fell := sol.WireAmps[i] * w.At(sol.WireAmps[i]); math.Abs(sol.Volts[w.A]-sol.Volts[w.B]-fell) > 1e-9 && sol.Powered[w.A] {
				t.Errorf("seed %d: wire %d lies at %g V, its resistance takes %g V", seed, i, sol.Volts[w.A]-sol.Volts[w.B], fell)
			}
		}
		for i, s := range c.Sources {
			left[s.Plus] += sol.SourceAmps[i]
			left[s.Minus] -= sol.SourceAmps[i]
		}
		for i, s := range c.Sinks {
			left[s.Plus] -= sol.SinkAmps[i]
			left[s.Minus] += sol.SinkAmps[i]
		}
		tapped := make([]bool, c.Nodes)
		for _, s := range c.Strips {
			for _, at := range s.Taps {
				for _, node := range []int{at.Plus, at.Minus} {
					if node >= 0 {
						tapped[node] = true
					}
				}
			}
		}
		for node, amps := range left {
			if !tapped[node] && math.Abs(amps) > 1e-6 {
				t.Errorf("seed %d: %g A are left at node %d", seed, amps, node)
			}
		}
	}
}
