package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestDimmingByInstants: pixels at half level are on half of the time, each chip by its own clock. At a
// random instant the last pixel's voltage scatters about that of the average; it only reaches the one of full light where all are on
// together, and never goes below.
func TestDimmingByInstants(t *testing.T) {
	const pixels, instants = 60, 2000
	c := &Circuit{
		Nodes: 4, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 2, Ohms: 0.02}, {A: 1, B: 3, Ohms: 0.02}},
		Strips: []Strip{{Pixels: pixels, Pitch: 1.0 / 60, Rail: 0.082, Law: constant(0.06), Taps: []Tap{{0, 2, 3}}}},
	}
	n, err := Prepare(c)
	if err != nil {
		t.Fatal(err)
	}
	least := func(d StripDrive) float64 {
		sol, err := n.Solve(Drive{d})
		if err != nil {
			t.Fatal(err)
		}
		return sol.Strips[0].PixelVolts(pixels - 1)
	}
	full, half := least(StripDrive{Share: []float64{1}}), least(StripDrive{Share: []float64{0.5}})
	r := rand.New(rand.NewPCG(1, 97))
	sum, squares, low := 0.0, 0.0, math.Inf(1)
	for range instants {
		each := make([][]float64, pixels)
		for k := range each {
			each[k] = []float64{float64(r.IntN(2))}
		}
		v := least(StripDrive{Each: each})
		sum, squares, low = sum+v, squares+(v-half)*(v-half), math.Min(low, v)
	}
	lost := 5 - half
	near(t, "the mean of all instants, V", sum/instants, half, 0.01*lost)
	// Of pixels alike, on with probability 1/2, the sum scatters by 1/sqrt(60) = 13 %; those far out weigh more.
	if scatter := math.Sqrt(squares/instants) / lost; scatter < 0.12 || scatter > 0.17 {
		t.Errorf("instants scatter by %.3g of the average drop", scatter)
	}
	if low <= full || low >= half {
		t.Errorf("the lowest of %d instants is %.4g V, between %.4g V of full light and %.4g V of the average", instants, low, full, half)
	}
	near(t, "all on together, V", least(StripDrive{Each: slicesOf(pixels, 1)}), full, 1e-9)
}

func slicesOf(n int, level float64) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = []float64{level}
	}
	return out
}
