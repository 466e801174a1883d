package thermal

import (
	"math"
	"testing"
)

func TestFoilAmps(t *testing.T) {
	for _, row := range []struct {
		name       string
		ohms, rise float64
		want       float64 // A, the formula of IPC-2221 by hand
	}{
		{"1 oz, 100 mil wide: 137.8 square mil, 10 K", 1.72e-8 / (137.8 * 25.4e-6 * 25.4e-6), 10, 4.70},
		{"the same, 20 K", 1.72e-8 / (137.8 * 25.4e-6 * 25.4e-6), 20, 6.38},
		{"no resistance", 0, 20, 0},
		{"no rise", 0.1, 0, 0},
	} {
		if got := FoilAmps(row.ohms, row.rise); math.Abs(got-row.want) > 0.01*row.want {
			t.Errorf("%s: %.3g A, want %g A", row.name, got, row.want)
		}
		if got := FoilRise(row.ohms, row.want); row.want > 0 && math.Abs(got-row.rise) > 0.025*row.rise {
			t.Errorf("%s: %g A warm it by %.3g K, want %g K", row.name, row.want, got, row.rise)
		}
	}
}
