package supply

import (
	"math"
	"testing"
)

// 350 W at 0.88 from 230 V with 0.6 take 350 / (0.88 x 230 x 0.6) = 2.882 A; with correction to 0.95 1.820 A, from
// 120 V 5.524 A without.
func TestInputAmpsByHand(t *testing.T) {
	for _, row := range []struct{ volts, factor, want float64 }{{230, PowerFactor, 2.882}, {230, 0.95, 1.820}, {120, PowerFactor, 5.524}} {
		if got := InputAmps(350, 0.88, row.volts, row.factor); math.Abs(got-row.want) > 0.001 {
			t.Errorf("%g V, %g: %.4g A, want %g A", row.volts, row.factor, got, row.want)
		}
	}
}
