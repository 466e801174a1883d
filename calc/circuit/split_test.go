package circuit

import (
	"errors"
	"flag"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"ohmstead/calc/thorough"
)

var networks = flag.Int("networks", 300, "random tied networks to compare split with whole")

// tiedCircuit draws an installation as walls have them: several supplies, in parallel, in series, with
// several outputs or alone, their minuses tied through a busbar, in a row or in rings; runs fed from one or
// several of them, at both ends, through each other or on one rail only; controllers between them.
func tiedCircuit(r *rand.Rand, pixels int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	ohms := func() float64 { return 0.002 + 0.3*r.Float64()*r.Float64() }
	wire := func(a, b int) { c.Wires = append(c.Wires, Wire{A: a, B: b, Ohms: ohms()}) }
	type pair struct{ plus, minus int }
	var places []pair
	var minuses []int
	bus := node()
	for range 1 + r.IntN(5) {
		p := pair{node(), node()}
		volts := 5 * (0.97 + 0.05*r.Float64())
		c.Sources = append(c.Sources, Source{p.plus, p.minus, volts})
		places = append(places, p)
		for range r.IntN(3) { // more outputs
			out := pair{node(), p.minus}
			c.Sources = append(c.Sources, Source{out.plus, out.minus, volts})
			places = append(places, out)
		}
		if n := len(minuses); n > 0 {
			switch r.IntN(6) {
			case 0: // in parallel with another one
				other := places[r.IntN(n)]
				wire(p.plus, other.plus)
				wire(p.minus, other.minus)
			case 1: // on the same two terminals
				c.Sources = append(c.Sources, Source{p.plus, p.minus, volts})
			case 2: // in series, and a supply of both together
				wire(p.minus, places[0].plus)
				places = append(places, pair{p.plus, places[0].minus})
			case 3: // a ring of ties
				wire(p.minus, minuses[r.IntN(n)])
				wire(p.minus, bus)
			case 4: // nothing joins them but what comes
			default:
				wire(p.minus, minuses[r.IntN(n)])
			}
		}
		if r.IntN(2) == 0 {
			wire(p.minus, bus)
		}
		minuses = append(minuses, p.minus)
	}
	for range r.IntN(4) { // joints
		p, from := pair{node(), node()}, places[r.IntN(len(places))]
		wire(from.plus, p.plus)
		wire(from.minus, p.minus)
		places, minuses = append(places, p), append(minuses, p.minus)
	}
	for range 1 + r.IntN(7) {
		s := Strip{Pixels: 1 + r.IntN(pixels), Pitch: 1.0 / 60, Rail: 0.05 + 0.4*r.Float64(), Law: []*Law{lawRGB, lawRGB, lawStep}[r.IntN(3)]}
		if r.IntN(4) == 0 {
			s.Rail *= 10 // starved
		}
		from := places[r.IntN(len(places))]
		tap := func(at float64, side int) {
			t := Tap{at, node(), node()}
			if side != 1 {
				wire(from.plus, t.Plus)
			} else if r.IntN(2) == 0 {
				t.Plus = -1
			}
			if side != 2 {
				wire(from.minus, t.Minus)
			} else if r.IntN(2) == 0 {
				t.Minus = -1
			}
			s.Taps = append(s.Taps, t)
		}
		side := 0
		if r.IntN(8) == 0 {
			side = 1 + r.IntN(2)
		}
		tap(0, side)
		end := float64(s.Pixels) * s.Pitch
		if r.IntN(3) > 0 {
			if r.IntN(4) == 0 {
				from = places[r.IntN(len(places))] // of another supply
			}
			tap(end, r.IntN(3))
		}
		if last := s.Taps[len(s.Taps)-1]; last.Plus >= 0 && last.Minus >= 0 {
			if r.IntN(3) == 0 {
				places = append(places, pair{last.Plus, last.Minus})
			}
			minuses = append(minuses, last.Minus)
		}
		c.Strips = append(c.Strips, s)
	}
	for range r.IntN(4) { // controllers, their minus tied for the sake of data
		p := pair{node(), node()}
		if r.IntN(3) > 0 {
			from := places[r.IntN(len(places))]
			wire(from.plus, p.plus)
			wire(from.minus, p.minus)
		}
		for range r.IntN(3) {
			wire(p.minus, minuses[r.IntN(len(minuses))])
		}
		c.Sinks = append(c.Sinks, Sink{Plus: p.plus, Minus: p.minus, Amps: 0.3 * r.Float64()})
	}
	return c
}

// joined puts the solutions of a circuit's parts together.
type joined struct {
	*Split
	of []*Solution
}

func solveParts(s *Split, d Drive) (*joined, error) {
	out := &joined{s, make([]*Solution, len(s.Parts))}
	for i := range s.Parts {
		p := &s.Parts[i]
		n, err := Prepare(p.Circuit)
		if err != nil {
			return nil, err
		}
		own := make(Drive, len(p.Strips))
		for k, strip := range p.Strips {
			own[k] = d[strip]
		}
		if out.of[i], err = n.Solve(own); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (g *joined) source(i int) (amps float64) {
	for _, at := range g.Sources[i] {
		amps += g.of[at.Part].SourceAmps[at.Index]
	}
	return amps
}

func (g *joined) strip(i int) *StripSolution {
	return &g.of[g.Strips[i].Part].Strips[g.Strips[i].Index]
}

// differ compares the solution of a circuit with that of its parts, and returns the worst difference in
// amperes and, unless some of the voltages may float, in volts.
func (g *joined) differ(t *testing.T, n *Network, sol *Solution) (worst float64) {
	t.Helper()
	c, floats := n.c, false
	for i := range n.islands {
		floats = floats || len(n.islands[i].anchors) > 0
	}
	see := func(what string, i int, got, want float64) {
		if d := math.Abs(got - want); !(d <= worst) {
			worst = d
			if d > 1e-9 {
				t.Errorf("%s %d: %.12g from the parts, %.12g from the whole", what, i, got, want)
			}
		}
	}
	for i := range c.Wires {
		see("wire", i, g.of[g.Wires[i].Part].WireAmps[g.Wires[i].Index], sol.WireAmps[i])
	}
	for i := range c.Sinks {
		see("sink", i, g.of[g.Sinks[i].Part].SinkAmps[g.Sinks[i].Index], sol.SinkAmps[i])
	}
	for i := range c.Sources {
		see("source", i, g.source(i), sol.SourceAmps[i])
	}
	for i := range c.Strips {
		st, want := g.strip(i), &sol.Strips[i]
		if st.Powered && !want.Powered {
			t.Errorf("strip %d has power in its part alone", i)
		}
		see("rail of strip", i, st.RailAmps, want.RailAmps)
		if !floats {
			wanted := want.Volts()
			for k, v := range st.Volts() {
				see("pixel of strip", i, v, wanted[k])
			}
		}
		wanted := want.PixelAmps()
		for k, amps := range st.PixelAmps() {
			see("pixel current of strip", i, amps, wanted[k])
		}
	}
	solved := func(part int) *Solution { return g.of[part] }
	for a := range c.Nodes {
		for _, b := range []int{(a * 7) % c.Nodes, (a + 1) % c.Nodes} {
			want, known := sol.Between(a, b)
			got, ok := g.Between(a, b, solved)
			if ok != known {
				t.Errorf("nodes %d and %d: told %v by the parts, %v by the whole", a, b, ok, known)
			}
			if !floats {
				see("nodes", a, got, want)
			}
		}
	}
	return worst
}

// boundsDiffer compares the bounds likewise; ok is false where the whole has none.
func boundsDiffer(t *testing.T, c *Circuit, s *Split, budgets []Budget) (worst float64, ok bool) {
	t.Helper()
	want, err := Any(c, budgets)
	if err != nil {
		return 0, false
	}
	bounds := make([]*Bound, len(s.Parts))
	for i := range s.Parts {
		own := make([]Budget, len(budgets))
		for k, b := range budgets {
			own[k].Amps = b.Amps
			for _, strip := range b.Strips {
				if at := s.Strips[strip]; at.Part == i {
					own[k].Strips = append(own[k].Strips, at.Index)
				}
			}
		}
		if bounds[i], err = Any(s.Parts[i].Circuit, own); err != nil {
			t.Fatal(err)
		}
	}
	see := func(what string, i int, got, want float64) {
		if d := math.Abs(got - want); !(d <= worst) {
			worst = d
			if d > 1e-9 {
				t.Errorf("bound of %s %d: %.12g from the parts, %.12g from the whole", what, i, got, want)
			}
		}
	}
	// In a part without a source nothing flows. The whole does not see that where a tie between plus and minus of two
	// supplies closes a circle through its loads: there its bound is all of them alight.
	flow := func(what string, at Place, i int, got, want float64) {
		if s.Parts[at.Part].Live {
			see(what, i, got, want)
		} else if got != 0 {
			t.Errorf("bound of %s %d, which no source reaches: %g from the parts, %g from the whole", what, i, got, want)
		}
	}
	for i := range c.Wires {
		flow("wire", s.Wires[i], i, bounds[s.Wires[i].Part].Wires[s.Wires[i].Index], want.Wires[i])
	}
	for i := range c.Strips {
		b := &bounds[s.Strips[i].Part].Strips[s.Strips[i].Index]
		flow("rail of strip", s.Strips[i], i, b.RailAmps, want.Strips[i].RailAmps)
		if b.Powered {
			see("strip", i, b.MinVolts, want.Strips[i].MinVolts)
		}
	}
	var amps []float64
	for _, b := range budgets {
		amps = append(amps, b.Amps)
	}
	for i := range c.Sources {
		var shares []Share
		for _, at := range s.Sources[i] {
			shares = append(shares, Share{bounds[at.Part].Factors(Term{Source: true, Index: at.Index, Times: 1}), everyBudget(budgets)})
		}
		got, _ := Greatest(amps, shares...)
		see("source", i, got, want.Sources[i])
	}
	return worst, true
}

// TestSplitAgainstWhole solves and bounds random tied networks as a whole and part by part.
func TestSplitAgainstWhole(t *testing.T) {
	var volts, bound float64
	parts, live, elements, largest, cases, bounded := 0, 0, 0, 0, 0, 0
	for seed := range uint64(*networks) {
		r := rand.New(rand.NewPCG(seed, 31))
		c := tiedCircuit(r, 30)
		s, err := c.Split()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		n, err := Prepare(c)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		budgets := randomBudgets(r, c)
		for range 3 {
			d := randomPattern(r, c, budgets)
			whole, err := n.Solve(d)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			g, err := solveParts(s, d)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			volts = max(volts, g.differ(t, n, whole))
			cases++
		}
		d, ok := boundsDiffer(t, c, s, budgets)
		if ok {
			bounded++
		}
		bound = max(bound, d)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
		most := 0
		for i := range s.Parts {
			p := &s.Parts[i]
			if parts++; p.Live {
				live++
			}
			most = max(most, len(p.Wires)+len(p.Sinks)+len(p.Strips))
		}
		largest += most
		elements += len(c.Wires) + len(c.Sinks) + len(c.Strips)
	}
	t.Logf("%d networks with %d elements in %d parts, %d of them live, the largest with %.0f %% of its network; worst difference %.2g V or A over %d cases, %.2g V or A over the bounds of %d networks",
		*networks, elements, parts, live, 100*float64(largest)/float64(elements), volts, cases, bound, bounded)
	if bounded < *networks/3 {
		t.Errorf("only %d networks have bounds", bounded)
	}
}

// TestSplitWild splits circuits that join anything to anything: it fails where the whole fails, and else says the same.
func TestSplitWild(t *testing.T) {
	worst := 0.0
	for seed := range uint64(3000) {
		c := randomTopology(rand.New(rand.NewPCG(seed, 32)))
		n, whole := Prepare(c)
		s, err := c.Split()
		if (err == nil) != (whole == nil) || err != nil && err.Error() != whole.Error() {
			t.Fatalf("seed %d: split %v, whole %v", seed, err, whole)
		}
		if err != nil {
			continue
		}
		d := make(Drive, len(c.Strips))
		for i := range d {
			d[i].Share = c.Strips[i].Share
		}
		sol, err := n.Solve(d)
		if diverged := new(NotConvergedError); errors.As(err, &diverged) {
			continue
		}
		g, err := solveParts(s, d)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if worst = max(worst, g.differ(t, n, sol)); t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("worst difference %.2g V or A", worst)
}

// TestSplitByHand cuts a wall of two supplies whose minuses are tied: one with two outputs, a run on each
// and a third fed at both ends from one of them; the other with a run, behind a joint. A controller hangs
// on the first, and a strip has its minus alone tied.
func TestSplitByHand(t *testing.T) {
	c := &Circuit{Nodes: 22, Sources: []Source{{0, 1, 5}, {2, 1, 5}, {3, 4, 5.1}}}
	run := func(taps ...Tap) {
		c.Strips = append(c.Strips, Strip{Pixels: 20, Pitch: 0.05, Rail: 0.2, Law: lawRGB, Taps: taps})
	}
	lead := func(plus, minus, toPlus, toMinus int) {
		c.Wires = append(c.Wires, Wire{A: plus, B: toPlus, Ohms: 0.05}, Wire{A: minus, B: toMinus, Ohms: 0.05})
	}
	run(Tap{0, 5, 6})
	lead(0, 1, 5, 6) // wires 0, 1: part with strip 0
	run(Tap{0, 7, 8}, Tap{1, 9, 10})
	lead(2, 1, 7, 8) // 2, 3
	lead(2, 1, 9, 10)
	run(Tap{0, 11, 12})
	lead(3, 4, 13, 14) // 6, 7: to the joint
	lead(13, 14, 11, 12)
	c.Wires = append(c.Wires, Wire{A: 1, B: 4, Ohms: 0.01}) // 10: the tie
	c.Sinks = append(c.Sinks, Sink{Plus: 15, Minus: 16, Amps: 0.2})
	lead(0, 1, 15, 16)
	run(Tap{0, -1, 17})
	c.Wires = append(c.Wires, Wire{A: 14, B: 17, Ohms: 0.1}) // 13
	s, err := c.Split()
	if err != nil {
		t.Fatal(err)
	}
	in := func(at Place) int { return at.Part }
	same := func(what string, places ...Place) {
		for _, p := range places {
			if in(p) != in(places[0]) {
				t.Errorf("%s lie in parts %v", what, places)
				return
			}
		}
	}
	w := s.Wires
	same("the first run and its lead", s.Strips[0], w[0], w[1])
	same("the run fed at both ends", s.Strips[1], w[2], w[3], w[4], w[5])
	same("the run behind the joint", s.Strips[2], w[6], w[7], w[8], w[9])
	same("the controller and its lead", s.Sinks[0], w[11], w[12])
	kinds := map[int]bool{in(w[0]): true, in(w[2]): true, in(w[6]): true, in(w[10]): true, in(w[11]): true, in(w[13]): true, in(s.Strips[3]): true}
	if len(kinds) != 7 || len(s.Parts) != 7 {
		t.Errorf("%d parts, of which %d differ, are not 7", len(s.Parts), len(kinds))
	}
	live := 0
	for i := range s.Parts {
		if s.Parts[i].Live {
			live++
		}
	}
	if live != 4 || s.Parts[in(w[10])].Live || s.Parts[in(w[13])].Live {
		t.Errorf("%d parts are live, or the ties are", live)
	}
	for i, want := range []int{2, 1, 1} { // output 1 feeds a run and the controller
		if got := len(s.Sources[i]); got != want {
			t.Errorf("source %d is in %d parts, not %d", i, got, want)
		}
	}
	g, err := solveParts(s, make(Drive, 4))
	if err != nil {
		t.Fatal(err)
	}
	solved := func(part int) *Solution { return g.of[part] }
	// The tie carries nothing, so the minuses are level and the two supplies 0.1 V apart.
	volts, ok := s.Between(3, 0, solved)
	near(t, "supply over supply, V", volts, 0.1, 1e-12)
	if _, dangling := s.Between(20, 0, solved); dangling || !ok {
		t.Error("a node that hangs on nothing has a voltage")
	}
	// One wire of the feed at the far end comes loose: all of the run's 20 mA come by the other.
	part := &s.Parts[in(w[2])]
	sol, err := Solve(part.Without(s.Wires[4].Index))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the feed that is left, A", sol.WireAmps[s.Wires[2].Index], 0.02, 1e-12)
	if len(part.Circuit.Wires) != 4 {
		t.Error("the part has lost its wire")
	}
}

// TestSplitNgspice compares the pixels of random tied networks, solved part by part, with ngspice.
func TestSplitNgspice(t *testing.T) {
	needNgspice(t)
	const tolerance = 1e-6
	wanted := thorough.Or(60, 12)
	compared, pixels, parts, failed, worst := 0, 0, 0, 0, 0.0
	for seed := uint64(0); compared < wanted && seed < uint64(4*wanted); seed++ {
		r := rand.New(rand.NewPCG(seed, 33))
		c := tiedCircuit(r, 25)
		d := randomPattern(r, c, randomBudgets(r, c))
		for i := range c.Strips {
			if c.Strips[i].Each = d[i].Each; d[i].Each == nil {
				c.Strips[i].Share = d[i].Share
			}
		}
		s, err := c.Split()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		g, err := solveParts(s, d)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		e := expand(c, nil)
		potential, ok := runNgspice(t, e)
		if !ok {
			failed++
			continue
		}
		compared++
		parts += len(s.Parts)
		for _, p := range e.pixels {
			st := g.strip(p.strip)
			if !st.Powered {
				continue
			}
			pixels++
			want := potential[p.plus] - potential[p.minus]
			if d := math.Abs(st.PixelVolts(p.k) - want); d > tolerance {
				t.Fatalf("seed %d: strip %d pixel %d has %.9f V, ngspice says %.9f V", seed, p.strip, p.k, st.PixelVolts(p.k), want)
			} else {
				worst = max(worst, d)
			}
		}
	}
	t.Logf("%d networks of %d parts with %d pixels compared with ngspice: worst difference %.2g V; ngspice did not converge on %d more",
		compared, parts, pixels, worst, failed)
	if compared < wanted*2/3 {
		t.Errorf("only %d networks were compared, %d are the least", compared, wanted*2/3)
	}
}

// TestSplitFrom: from the split of a circuit with other values, or of another shape, comes what a split from
// nothing gives; parts in which nothing differs are shared.
func TestSplitFrom(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 11))
		c := tiedCircuit(r, 20)
		former, err := c.Split()
		if err != nil {
			continue
		}
		d := *c
		d.Wires, d.Sinks, d.Strips = slices.Clone(c.Wires), slices.Clone(c.Sinks), slices.Clone(c.Strips)
		at := former.Wires[0]
		switch d.Wires[0].Ohms *= 2; seed % 5 {
		case 0:
			for i := range d.Wires {
				d.Wires[i].Ohms *= 1.5
			}
		case 1:
			if len(d.Sinks) > 0 {
				d.Sinks[0].Amps++
			}
		case 2:
			law := *d.Strips[0].Law
			law.Idle += 1e-3
			d.Strips[0].Law = &law
		case 3:
			d.Strips[0].Rail *= 2
		case 4:
			d.Wires = append(d.Wires, Wire{A: 0, B: d.Nodes - 1, Ohms: 1})
		}
		whole := d
		got, err := d.SplitFrom(former)
		want, failed := whole.Split()
		if err != nil || failed != nil {
			t.Fatal(seed, err, failed)
		}
		want.whole = got.whole
		if !reflect.DeepEqual(got, want) {
			t.Errorf("seed %d: a split from another one differs from one from nothing", seed)
		}
		for k := range got.Parts {
			if same := got.Parts[k].Circuit == former.Parts[k].Circuit; seed%5 == 3 && same != (k != at.Part && k != former.Strips[0].Part) {
				t.Errorf("seed %d: part %d shared: %v", seed, k, same)
			}
			if seed%5 == 4 {
				break // of another shape
			}
		}
		again, err := c.SplitFrom(got)
		if err != nil || seed%5 < 4 && !reflect.DeepEqual(again, former) {
			t.Errorf("seed %d: what was changed back is split differently", seed)
		}
		d.Wires[0].Ohms = -1
		if _, err := d.SplitFrom(former); err == nil {
			t.Errorf("seed %d: a wire of -1 ohm is split", seed)
		}
	}
}
