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
		{"3 mm of 35 um, 10 K", 1.72e-8 / (3e-3 * 35e-6), 10, 5.3}, // these as computed for a sheet of trade facts
		{"3 mm of 35 um, 30 K", 1.72e-8 / (3e-3 * 35e-6), 30, 8.6},
		{"5 mm of 35 um, 20 K", 1.72e-8 / (5e-3 * 35e-6), 20, 10.4},
		{"3 mm of 70 um, 20 K", 1.72e-8 / (3e-3 * 70e-6), 20, 11.9},
		{"5 mm of 70 um, 30 K", 1.72e-8 / (5e-3 * 70e-6), 30, 20.6},
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

// The worked example is 16 AWG (2583 circular mil) in a discussion of the equation; it prints 178 A, with 234 - Ta
// for 234 + Ta.
func TestFlashAmps(t *testing.T) {
	foil := 1.72e-8 / (3e-3 * 35e-6)
	for _, row := range []struct {
		name                         string
		ohms, ambient, most, seconds float64
		want                         float64
	}{
		{"16 AWG melts in 5 s", 1.72e-8 / (2583 * math.Pi / 4 * 25.4e-6 * 25.4e-6), 25, 1083, 5, 169},
		{"3 mm of 35 um melt in 1 s", foil, 25, 1083, 1, 30},
		{"3 mm of 35 um melt in 10 s", foil, 25, 1083, 10, 9.6},
		{"no time", foil, 25, 1083, 0, 0},
		{"air as warm", foil, 1083, 1083, 1, 0},
	} {
		if got := flashAmps(row.ohms, row.ambient, row.most, row.seconds); math.Abs(got-row.want) > 0.015*row.want {
			t.Errorf("%s: %.3g A, want %g A", row.name, got, row.want)
		}
	}
	// 400 mil2 warm up by 225 K to 250 degC in half a second: 509.3 x sqrt(log10(225/259 + 1) / 16.5) = 65.3 A.
	if got := FoilFlashAmps(1.72e-8/(400*25.4e-6*25.4e-6), 25, 0.5); math.Abs(got-65.3) > 0.1 {
		t.Errorf("%.4g A", got)
	}
}
