package circuit

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"
)

// ampleCircuit makes a random circuit whose pixels stay saturated under any pattern: the currents are small.
func ampleCircuit(r *rand.Rand) *Circuit {
	c := randomCircuit(r, 60)
	law := &Law{Idle: 0.0008, Channels: []Channel{{Amps: 0.002, Forward: 1, Headroom: 0.2}, {Amps: 0.003, Forward: 1.5, Headroom: 0.3}}}
	for i := range c.Strips {
		s := &c.Strips[i]
		s.Law, s.Each, s.Share = law, nil, []float64{1, 1}
		s.Rail = 0.05 + 0.1*r.Float64()
	}
	return c
}

// randomBudgets puts most strips into one or two budgets.
func randomBudgets(r *rand.Rand, c *Circuit) []Budget {
	budgets := make([]Budget, 1+r.IntN(2))
	for i := range c.Strips {
		if r.IntN(5) > 0 {
			b := &budgets[r.IntN(len(budgets))]
			b.Strips = append(b.Strips, i)
		}
	}
	for i := range budgets {
		full := 0.0
		for _, s := range budgets[i].Strips {
			full += capOf(c, s) * float64(c.Strips[s].Pixels)
		}
		budgets[i].Amps = full * r.Float64() * 1.2
		if r.IntN(6) == 0 {
			budgets[i].Amps = math.Inf(1)
		}
	}
	return budgets
}

// capOf is the full current of a pixel less its idle current.
func capOf(c *Circuit, strip int) float64 {
	law := c.Strips[strip].Law
	sum, most := 0.0, 0.0
	for _, ch := range law.Channels {
		sum += ch.Amps
		most = max(most, ch.Amps)
	}
	if law.Series {
		return most
	}
	return sum
}

// randomPattern lights pixels within the budgets: blocks, sprinkles or a level.
func randomPattern(r *rand.Rand, c *Circuit, budgets []Budget) Drive {
	d := make(Drive, len(c.Strips))
	scale := make([]float64, len(c.Strips))
	for i := range scale {
		scale[i] = 1
	}
	level := make([][]float64, len(c.Strips))
	for i := range c.Strips {
		n := c.Strips[i].Pixels
		level[i] = make([]float64, n)
		from, to := r.IntN(n), r.IntN(n+1)
		kind := r.IntN(4)
		for k := range n {
			switch {
			case kind == 0 && k >= from && k < to, kind == 1 && (k < to || k >= from):
				level[i][k] = 1
			case kind == 2:
				level[i][k] = r.Float64()
			}
		}
	}
	for _, b := range budgets {
		sum := 0.0
		for _, s := range b.Strips {
			for _, x := range level[s] {
				sum += x * capOf(c, s)
			}
		}
		if sum > b.Amps {
			for _, s := range b.Strips {
				scale[s] = b.Amps / sum
			}
		}
	}
	for i := range d {
		for _, x := range level[i] {
			row := make([]float64, len(c.Strips[i].Law.Channels))
			for ch := range row {
				row[ch] = x * scale[i]
			}
			d[i].Each = append(d[i].Each, row)
		}
	}
	return d
}

func least(st *StripSolution) float64 {
	low := math.Inf(1)
	for _, v := range st.Volts() {
		low = min(low, v)
	}
	return low
}

// TestAnyByHand lights the far end of one run fed at its start: the factor of pixel k on the last one is the
// loop resistance up to k.
func TestAnyByHand(t *testing.T) {
	const n, lit, pitch, rail, lead = 50, 10, 0.02, 0.15, 0.04
	law := &Law{Idle: 0.001, Channels: []Channel{{Amps: 0.02, Forward: 1, Headroom: 0.1}}}
	strip := func(plus, minus int) Strip {
		return Strip{Pixels: n, Pitch: pitch, Rail: rail, Law: law, Taps: []Tap{{0, plus, minus}}}
	}
	c := &Circuit{
		Nodes: 6, Sources: []Source{{0, 1, 5}},
		Wires:  []Wire{{A: 0, B: 2, Ohms: lead}, {A: 1, B: 3, Ohms: lead}, {A: 0, B: 4, Ohms: lead}, {A: 1, B: 5, Ohms: lead}},
		Strips: []Strip{strip(2, 3), strip(4, 5)},
	}
	b, err := Any(c, []Budget{{Amps: lit * 0.02, Strips: []int{0, 1}}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the lead of the second run", b.Wires[2], n*0.001+lit*0.02, 1e-9)
	near(t, "the supply", b.Sources[0], 2*n*0.001+lit*0.02, 1e-9)
	lost := 2 * lead * (n*0.001 + lit*0.02)
	for k := range n {
		amps := 0.001
		if k >= n-lit {
			amps += 0.02
		}
		lost += 2 * rail * (float64(k) + 0.5) * pitch * amps
	}
	near(t, "the last pixel", b.Strips[1].MinVolts, 5-lost, 1e-9)
	if b.Strips[1].MinPixel != n-1 {
		t.Errorf("the worst pixel is %d, want the last", b.Strips[1].MinPixel)
	}
	if got := b.WireLit[2]; len(got) != 1 || got[0] != 1 {
		t.Errorf("the lead of the second run is worst with strips %v lit, want only strip 1", got)
	}
	if got := b.SourceLit[0]; len(got) != 2 {
		t.Errorf("the supply is worst with strips %v lit, want both", got)
	}
	if got := b.Strips[1].Lit; len(got) != 1 || got[0] != 1 {
		t.Errorf("the second run is worst with strips %v lit, want only strip 1", got)
	}
	for k, share := range b.StripPattern(1)[1].Each {
		want := 0.0
		if k >= n-lit {
			want = 1
		}
		got := 0.0
		if share != nil {
			got = share[0]
		}
		near(t, "a pixel of the worst pattern", got, want, 1e-9)
	}
}

func TestAnyHoldsForRandomPatterns(t *testing.T) { anyHolds(t, func(*rand.Rand, *Circuit) {}) }

// TestAnyHoldsForWarmWires holds the bounds, which freeze what heat does, against solutions with wires that are
// as warm as their currents make them, rings of them among others.
func TestAnyHoldsForWarmWires(t *testing.T) { anyHolds(t, warmUp) }

func anyHolds(t *testing.T, change func(*rand.Rand, *Circuit)) {
	const circuits, patterns = 100, 50 // half of them with pixels that starve
	nearWire, nearStrip := 0.0, math.Inf(1)
	for seed := range uint64(circuits) {
		r := rand.New(rand.NewPCG(seed, 3))
		c := ampleCircuit(r)
		if seed%2 == 0 {
			c = randomCircuit(r, 60)
		}
		change(rand.New(rand.NewPCG(seed, 5)), c)
		budgets := randomBudgets(r, c)
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		b, err := n.Any(budgets)
		if err != nil {
			t.Fatal(err)
		}
		for range patterns {
			d := randomPattern(r, c, budgets)
			sol, err := n.Solve(d)
			if err != nil {
				t.Fatal(err)
			}
			for w, amps := range sol.WireAmps {
				if math.Abs(amps) > b.Wires[w]+1e-8 {
					t.Fatalf("seed %d: wire %d carries %g A, over its bound of %g A", seed, w, amps, b.Wires[w])
				}
				nearWire = max(nearWire, math.Abs(amps)/(b.Wires[w]+1e-12))
			}
			for s, amps := range sol.SourceAmps {
				if math.Abs(amps) > b.Sources[s]+1e-8 {
					t.Fatalf("seed %d: source %d gives %g A, over its bound of %g A", seed, s, amps, b.Sources[s])
				}
			}
			for s := range sol.Strips {
				v := least(&sol.Strips[s])
				if v < b.Strips[s].MinVolts-1e-8 {
					t.Fatalf("seed %d: strip %d falls to %g V, under its bound of %g V", seed, s, v, b.Strips[s].MinVolts)
				}
				nearStrip = min(nearStrip, v-b.Strips[s].MinVolts)
				if amps := sol.Strips[s].RailAmps; amps > b.Strips[s].RailAmps+1e-8 {
					t.Fatalf("seed %d: a rail of strip %d carries %g A, over its bound of %g A", seed, s, amps, b.Strips[s].RailAmps)
				}
			}
		}
	}
	t.Logf("%d patterns: the nearest wire reached %.4f of its bound, the nearest strip came to %.2g V over its bound", circuits*patterns, nearWire, nearStrip)
}

// TestAnyIsReached solves the worst patterns with the full law: where the pixels are saturated, the
// bound is what they do.
func TestAnyIsReached(t *testing.T) {
	wires, strips, rails := 0, 0, 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 4))
		c := ampleCircuit(r)
		budgets := randomBudgets(r, c)
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		b, err := n.Any(budgets)
		if err != nil {
			t.Fatal(err)
		}
		solve := func(d Drive) *Solution {
			for i, budget := range budgets {
				sum := 0.0
				for _, s := range budget.Strips {
					for _, row := range d[s].Each {
						if row != nil {
							sum += row[0] * capOf(c, s)
						}
					}
				}
				if sum > budget.Amps*(1+1e-9) {
					t.Fatalf("seed %d: the pattern spends %g A of budget %d, which is %g A", seed, sum, i, budget.Amps)
				}
			}
			sol, err := n.Solve(d)
			if err != nil {
				t.Fatal(err)
			}
			return sol
		}
		near := func(what string, i int, got, want float64) {
			t.Helper()
			if math.Abs(got-want) > 0.01*math.Abs(want)+1e-9 {
				t.Errorf("seed %d: the worst pattern of %s %d gives %.9g, its bound is %.9g", seed, what, i, got, want)
			}
		}
		for w := range c.Wires {
			sol := solve(b.WirePattern(w))
			near("wire", w, math.Abs(sol.WireAmps[w]), b.Wires[w])
			wires++
		}
		for s := range c.Sources {
			near("source", s, math.Abs(solve(b.SourcePattern(s)).SourceAmps[s]), b.Sources[s])
		}
		for s := range c.Strips {
			d := b.StripPattern(s)
			sol := solve(d)
			near("strip", s, sol.Strips[s].Volts()[b.Strips[s].MinPixel], b.Strips[s].MinVolts)
			near("strip", s, least(&sol.Strips[s]), b.Strips[s].MinVolts)
			listed := func(d Drive, strips []int) {
				t.Helper()
				lit := make(map[int]bool)
				for _, i := range strips {
					lit[i] = true
				}
				for i := range d {
					if d[i].Each != nil && !lit[i] {
						t.Errorf("seed %d: the pattern of strip %d lights strip %d, which is not listed in %v", seed, s, i, strips)
					}
				}
			}
			listed(d, b.Strips[s].Lit)
			strips++
			if d := b.RailPattern(s); d != nil {
				near("the rails of strip", s, solve(d).Strips[s].RailAmps, b.Strips[s].RailAmps)
				listed(d, b.Strips[s].RailLit)
				rails++
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	t.Logf("%d wires, %d strips and the rails of %d reach their bounds", wires, strips, rails)
}

// TestAnyAgainstSorting works every quantity out a second time from factors found by lighting one
// pixel after the other, sorted one by one.
func TestAnyAgainstSorting(t *testing.T) {
	for seed := range uint64(25) {
		r := rand.New(rand.NewPCG(seed, 5))
		c := ampleCircuit(r)
		for i := range c.Strips {
			for len(c.Strips[i].Taps) > 0 && c.Strips[i].Taps[len(c.Strips[i].Taps)-1].At > 12*c.Strips[i].Pitch {
				c.Strips[i].Taps = c.Strips[i].Taps[:len(c.Strips[i].Taps)-1]
			}
			c.Strips[i].Pixels = min(c.Strips[i].Pixels, 12)
		}
		budgets := randomBudgets(r, c)
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		b, err := n.Any(budgets)
		if err != nil {
			t.Fatal(err)
		}
		dark, err := n.Solve(make(Drive, len(c.Strips)))
		if err != nil {
			t.Fatal(err)
		}
		// What each pixel adds to each quantity at full current.
		type addition struct {
			strip int
			sol   *Solution
		}
		var all []addition
		for s := range c.Strips {
			for k := range c.Strips[s].Pixels {
				d := make(Drive, len(c.Strips))
				d[s].Each = make([][]float64, c.Strips[s].Pixels)
				d[s].Each[k] = []float64{1, 1}
				sol, err := n.Solve(d)
				if err != nil {
					t.Fatal(err)
				}
				all = append(all, addition{s, sol})
			}
		}
		knapsack := make([]int, len(c.Strips))
		amps := []float64{math.Inf(1)}
		for i, budget := range budgets {
			amps = append(amps, budget.Amps)
			for _, s := range budget.Strips {
				knapsack[s] = i + 1
			}
		}
		greatest := func(q func(*Solution) float64) float64 {
			gains := make([][][2]float64, len(amps))
			for _, a := range all {
				if g := q(a.sol) - q(dark); g > 0 {
					cap := capOf(c, a.strip)
					gains[knapsack[a.strip]] = append(gains[knapsack[a.strip]], [2]float64{g / cap, cap})
				}
			}
			sum := q(dark)
			for i, g := range gains {
				sort.Slice(g, func(a, b int) bool { return g[a][0] > g[b][0] })
				left := amps[i]
				for _, x := range g {
					take := min(left, x[1])
					sum += x[0] * take
					left -= take
				}
			}
			return sum
		}
		for w := range c.Wires {
			up := greatest(func(s *Solution) float64 { return s.WireAmps[w] })
			down := greatest(func(s *Solution) float64 { return -s.WireAmps[w] })
			if want := max(up, down); math.Abs(b.Wires[w]-want) > 1e-7 {
				t.Errorf("seed %d: wire %d is bound by %.9g A, sorting says %.9g A", seed, w, b.Wires[w], want)
			}
		}
		for i := range c.Sources {
			up := greatest(func(s *Solution) float64 { return s.SourceAmps[i] })
			down := greatest(func(s *Solution) float64 { return -s.SourceAmps[i] })
			if want := max(up, down); math.Abs(b.Sources[i]-want) > 1e-7 {
				t.Errorf("seed %d: source %d is bound by %.9g A, sorting says %.9g A", seed, i, b.Sources[i], want)
			}
		}
		for i := range c.Strips {
			want := math.Inf(1)
			for k := range c.Strips[i].Pixels {
				want = min(want, -greatest(func(s *Solution) float64 { return -s.Strips[i].Volts()[k] }))
			}
			if math.Abs(b.Strips[i].MinVolts-want) > 1e-7 {
				t.Errorf("seed %d: strip %d is bound by %.9g V, sorting says %.9g V", seed, i, b.Strips[i].MinVolts, want)
			}
		}
	}
}
