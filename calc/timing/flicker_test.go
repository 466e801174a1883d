package timing

import (
	"math"
	"testing"
)

func TestLowRisk(t *testing.T) {
	const ieee = "IEEE 1789-2015, recommended practice 1"
	for _, row := range []struct {
		hertz, want float64
		source      string
	}{
		{50, 0.0125, ieee + ": 0.025 f"},
		{100, 0.08, "8 % at 100 Hz, a lamp maker's help text quoting IEEE 1789-2015"},
		{400, 0.32, ieee + ": 0.08 f"},
		{1200, 0.96, ieee + ": 0.08 f"},
		{1250, 1, ieee + ": no limit above"},
		{2000, 1, ieee + ": no limit above"},
	} {
		if got := LowRisk(row.hertz); math.Abs(got-row.want) > 1e-12 {
			t.Errorf("%g Hz: %g, want %g (%s)", row.hertz, got, row.want, row.source)
		}
	}
}
