package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// byPixel is c with its shares written out pixel by pixel, which the solver walks one by one.
func byPixel(c *Circuit) Drive {
	d := make(Drive, len(c.Strips))
	for i := range c.Strips {
		s := &c.Strips[i]
		if d[i].Each = s.Each; s.Each == nil {
			d[i].Each = make([][]float64, s.Pixels)
			for k := range d[i].Each {
				d[i].Each[k] = s.Share
			}
		}
	}
	return d
}

// same compares all that two solutions say.
func same(t *testing.T, got, want *Solution, tolerance float64) {
	t.Helper()
	for n := range want.Volts {
		near(t, "a node", got.Volts[n], want.Volts[n], tolerance)
	}
	for w := range want.WireAmps {
		near(t, "a wire", got.WireAmps[w], want.WireAmps[w], 100*tolerance) // over wires of some milliohms
	}
	for s := range want.SourceAmps {
		near(t, "a source", got.SourceAmps[s], want.SourceAmps[s], 100*tolerance)
	}
	for i := range want.Strips {
		g, w := &got.Strips[i], &want.Strips[i]
		volts, amps := g.Volts(), g.PixelAmps()
		sum, watts, low := 0.0, 0.0, math.Inf(1)
		for k, v := range w.Volts() {
			near(t, "a pixel", volts[k], v, tolerance)
			near(t, "a pixel by itself", g.PixelVolts(k), volts[k], 0)
			near(t, "a pixel's pad", g.PadVolts((float64(k)+0.5)*g.pitch), v, tolerance)
			sum += amps[k]
			watts += amps[k] * volts[k]
			low = min(low, volts[k])
		}
		if g.Powered {
			near(t, "the sum of currents", g.Amps, sum, 1e-9)
			near(t, "the sum of powers", g.Watts, watts, 1e-8)
			near(t, "the least voltage", g.MinVolts, low, 1e-12)
			near(t, "its pixel's voltage", volts[g.MinPixel], low, 1e-9)
		}
		near(t, "a rail", g.RailAmps, w.RailAmps, 100*tolerance)
	}
}

// TestClosedFormAgainstWalk solves random circuits with like pixels in closed form and pixel by pixel.
func TestClosedFormAgainstWalk(t *testing.T) {
	sound := 0
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 31))
		c := randomCircuit(r, []int{1, 3, 40, 400}[seed%4])
		if seed%2 == 0 {
			c = ampleCircuit(r)
		}
		for i := range c.Strips {
			c.Strips[i].Each = nil
		}
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		got, err := n.Solve(nil)
		if err != nil {
			t.Fatal(err)
		}
		want, err := n.Solve(byPixel(c))
		if err != nil {
			t.Fatal(err)
		}
		same(t, got, want, 1e-9)
		if got.Iterations == 1 {
			sound++
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if sound < 100 || sound > 450 {
		t.Errorf("%d of 500 circuits are sound: too few or too many to test with", sound)
	}
}

// TestNearSaturation turns the supplies so that the least voltage of some pixel comes to lie right at the
// edge of its full current.
func TestNearSaturation(t *testing.T) {
	tried := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 32))
		c := randomCircuit(r, 60)
		for i := range c.Strips {
			c.Strips[i].Each = nil
			if c.Strips[i].Share == nil {
				c.Strips[i].Share = make([]float64, len(c.Strips[i].Law.Channels))
			}
		}
		volts := make([]float64, len(c.Sources))
		for i := range volts {
			volts[i] = c.Sources[i].Volts
		}
		over := func(scale float64) (least float64, sol *Solution, n *Network) {
			for i := range volts {
				c.Sources[i].Volts = volts[i] * scale
			}
			n, err := Prepare(c)
			if err != nil {
				t.Fatal(err)
			}
			if sol, err = n.Solve(nil); err != nil {
				t.Fatal(err)
			}
			least = math.Inf(1)
			for i := range sol.Strips {
				if sol.Strips[i].Powered {
					least = min(least, sol.Strips[i].MinVolts-n.loads[i].top)
				}
			}
			return least, sol, n
		}
		for _, edge := range []float64{-1e-6, -1e-9, 0, 1e-9, 1e-6} {
			low, high := 0.5, 64.0
			if least, _, _ := over(high); least < edge {
				continue // far too thin
			}
			for range 60 {
				mid := (low + high) / 2
				if least, _, _ := over(mid); least < edge {
					low = mid
				} else {
					high = mid
				}
			}
			least, got, n := over(high)
			if math.Abs(least-edge) > 1e-7 {
				continue // several supplies may part before
			}
			tried++
			want, err := n.Solve(byPixel(c))
			if err != nil {
				t.Fatal(err)
			}
			same(t, got, want, 1e-9)
			checkBalance(t, c, got)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if tried < 100 {
		t.Errorf("only %d solutions lie at the edge", tried)
	}
}

// change alters a circuit as an edit of a plan would, its shape stays.
func change(r *rand.Rand, c *Circuit) *Circuit {
	out := *c
	out.Wires = append([]Wire(nil), c.Wires...)
	out.Sources = append([]Source(nil), c.Sources...)
	out.Strips = append([]Strip(nil), c.Strips...)
	s := &out.Strips[r.IntN(len(c.Strips))]
	switch r.IntN(5) {
	case 0:
		out.Wires[r.IntN(len(c.Wires))].Ohms *= 0.3 + 2*r.Float64()
	case 1:
		s.Each, s.Share = nil, make([]float64, len(s.Law.Channels))
		for ch := range s.Share {
			s.Share[ch] = r.Float64()
		}
	case 2:
		for i := range out.Sources {
			out.Sources[i].Volts *= 1.1
		}
	case 3:
		s.Rail *= 0.5 + r.Float64()
	default:
		if s.Each == nil { // a longer run
			s.Pixels += 1 + r.IntN(3)
		}
	}
	return &out
}

// TestWarmAgainstCold changes random circuits and starts from the solution before the change.
func TestWarmAgainstCold(t *testing.T) {
	starved, warmSteps, coldSteps := 0, 0, 0
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 33))
		c := randomCircuit(r, 80)
		before := mustSolve(t, c)
		next := change(r, c)
		n, err := Prepare(next)
		if err != nil {
			t.Fatal(err)
		}
		cold, err := n.Solve(nil)
		if err != nil {
			t.Fatal(err)
		}
		warm, err := n.SolveFrom(nil, before)
		if err != nil {
			t.Fatal(err)
		}
		same(t, warm, cold, 1e-9)
		again, err := n.SolveFrom(nil, cold)
		if err != nil {
			t.Fatal(err)
		}
		same(t, again, cold, 1e-9)
		if cold.Iterations > 1 {
			starved++
			warmSteps += warm.Iterations
			coldSteps += cold.Iterations
			if again.Iterations > 3 {
				t.Errorf("seed %d: %d iterations from the solution itself", seed, again.Iterations)
			}
		}
		other, err := n.SolveFrom(nil, mustSolve(t, randomCircuit(r, 20)))
		if err != nil {
			t.Fatal(err)
		}
		same(t, other, cold, 1e-9)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d starved circuits: %d iterations from the solution before, %d without", starved, warmSteps, coldSteps)
	if warmSteps > coldSteps*3/4 {
		t.Error("a warm start hardly helps")
	}
}
