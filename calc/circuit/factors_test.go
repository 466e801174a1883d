package circuit

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// TestGreatestOverParts bounds installations whose runs hang from one supply's terminals by nothing but
// their own leads, as a whole and part by part.
func TestGreatestOverParts(t *testing.T) {
	binding := 0
	for seed := range uint64(100) {
		r := rand.New(rand.NewPCG(seed, 21))
		whole := &Circuit{Nodes: 2, Sources: []Source{{0, 1, 5}}}
		var parts []*Circuit
		for range 2 + r.IntN(5) {
			part := &Circuit{Nodes: 2, Sources: whole.Sources}
			first := whole.Nodes - 2 // of this part's own nodes
			shift := func(n int) int {
				if n < 2 {
					return n
				}
				return n + first
			}
			for range 1 + r.IntN(2) {
				s := Strip{Pixels: 1 + r.IntN(40), Pitch: 0.02, Rail: 0.3 * r.Float64(), Law: []*Law{lawRGB, lawStep}[r.IntN(2)]}
				for side := range 1 + r.IntN(2) {
					plus, minus := part.Nodes, part.Nodes+1
					part.Nodes += 2
					part.Wires = append(part.Wires, Wire{A: 0, B: plus, Ohms: 0.01 + 0.1*r.Float64()}, Wire{A: 1, B: minus, Ohms: 0.01 + 0.1*r.Float64()})
					s.Taps = append(s.Taps, Tap{float64(side) * float64(s.Pixels) * s.Pitch, plus, minus})
				}
				part.Strips = append(part.Strips, s)
			}
			for _, w := range part.Wires {
				whole.Wires = append(whole.Wires, Wire{A: shift(w.A), B: shift(w.B), Ohms: w.Ohms})
			}
			for _, s := range part.Strips {
				s.Taps = append([]Tap(nil), s.Taps...)
				for i := range s.Taps {
					s.Taps[i].Plus, s.Taps[i].Minus = shift(s.Taps[i].Plus), shift(s.Taps[i].Minus)
				}
				whole.Strips = append(whole.Strips, s)
			}
			whole.Nodes += part.Nodes - 2
			parts = append(parts, part)
		}
		all := randomBudgets(r, whole)
		in := make(map[int]int)
		for i, b := range all {
			for _, s := range b.Strips {
				in[s] = i
			}
		}
		var shares []Share
		first := 0
		for _, part := range parts {
			var own []Budget // those that the part has strips of, as they come
			var which []int
			for s := range part.Strips {
				i, ok := in[first+s]
				if !ok {
					continue
				}
				at := slices.Index(which, i)
				if at < 0 {
					at = len(which)
					which, own = append(which, i), append(own, Budget{})
				}
				own[at].Strips = append(own[at].Strips, s)
			}
			first += len(part.Strips)
			b, err := Any(part, own)
			if err != nil {
				t.Fatal(err)
			}
			shares = append(shares, Share{b.Factors(Term{Source: true, Times: 1}), which})
		}
		for range 3 { // the factors serve any amounts
			amps := make([]float64, len(all))
			for i := range all {
				all[i].Amps *= 2 * r.Float64()
				amps[i] = all[i].Amps
			}
			b, err := Any(whole, all)
			if err != nil {
				t.Fatal(err)
			}
			got, _ := Greatest(amps, shares...)
			near(t, "the supply by its parts", got, b.Sources[0], 1e-9)
			free := make([]float64, len(all))
			for i := range free {
				free[i] = math.Inf(1)
			}
			if most, _ := Greatest(free, shares...); got < most-1e-9 {
				binding++
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if binding < 50 {
		t.Errorf("only %d of the budgets bind", binding)
	}
}

// everyBudget is what a network that was bounded under all of some budgets has of them.
func everyBudget(budgets []Budget) []int {
	out := make([]int, len(budgets))
	for i := range out {
		out[i] = i
	}
	return out
}

// TestFactorsOfASum bounds the current into a place by the factors of all wires that lead there.
func TestFactorsOfASum(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 22))
		c := ampleCircuit(r)
		budgets := randomBudgets(r, c)
		b, err := Any(c, budgets)
		if err != nil {
			t.Fatal(err)
		}
		var amps []float64
		for _, budget := range budgets {
			amps = append(amps, budget.Amps)
		}
		// What all that ties a source's plus to the rest carries is what the source delivers.
		node := c.Sources[0].Plus
		var out []Term
		for w := range c.Wires {
			if c.Wires[w].A == node {
				out = append(out, Term{Index: w, Times: 1})
			}
			if c.Wires[w].B == node {
				out = append(out, Term{Index: w, Times: -1})
			}
		}
		drained := false
		for _, s := range c.Sinks {
			drained = drained || s.Plus == node
		}
		if drained {
			continue
		}
		got, _ := Greatest(amps, Share{b.Factors(out...), everyBudget(budgets)})
		near(t, "the wires from a supply", got, b.Sources[0], 1e-8)
		half, _ := Greatest(amps, Share{b.Factors(Term{Source: true, Times: -0.5}), everyBudget(budgets)})
		near(t, "minus half the supply", half, b.Sources[0]/2, 1e-8)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

func TestClipChangesNoBound(t *testing.T) {
	clipped := 0
	for seed := range uint64(100) {
		r := rand.New(rand.NewPCG(seed, 23))
		c := randomCircuit(r, 60)
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		budgets := randomBudgets(r, c)
		want, err := n.Any(budgets)
		if err != nil {
			t.Fatal(err)
		}
		free := c.Clip(budgets)
		got, err := n.Any(free)
		if err != nil {
			t.Fatal(err)
		}
		for i := range free {
			if free[i].Amps != budgets[i].Amps {
				clipped++
			}
		}
		for w := range want.Wires {
			near(t, "a wire", got.Wires[w], want.Wires[w], 1e-9)
		}
		for s := range want.Strips {
			near(t, "a strip", got.Strips[s].MinVolts, want.Strips[s].MinVolts, 1e-9)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if clipped == 0 {
		t.Error("no budget was lifted")
	}
}

// TestBoundAgain bounds one network under one budget after the other, each as if it were the first.
func TestBoundAgain(t *testing.T) {
	for seed := range uint64(100) {
		r := rand.New(rand.NewPCG(seed, 24))
		c := randomCircuit(r, 60)
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			budgets := randomBudgets(r, c)
			got, err := n.Any(budgets)
			if err != nil {
				t.Fatal(err)
			}
			want, err := Any(c, budgets)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got.Wires, want.Wires) || !reflect.DeepEqual(got.Sources, want.Sources) || !reflect.DeepEqual(got.Strips, want.Strips) {
				t.Fatalf("seed %d: the bound differs from that of a new network", seed)
			}
		}
	}
}
