package wire

import "testing"

func TestOpenAirAmpacity(t *testing.T) {
	for _, row := range []struct {
		gauge Gauge
		want  float64 // A; 0: no figure
		why   string
	}{
		{AWG(10), 55, chassis}, {AWG(12), 41, chassis}, {AWG(14), 32, chassis}, {AWG(16), 22, chassis},
		{AWG(18), 16, chassis}, {AWG(20), 11, chassis}, {AWG(22), 7, chassis}, {AWG(24), 3.5, chassis},
		{AWG(26), 2.2, chassis}, {AWG(28), 1.4, chassis}, {AWG(30), 0.86, chassis},
		{AWG(17), 22, "as 16 AWG, the next thicker"},
		{AWG(40), 0.86, "as 30 AWG, the thinnest listed"},
		{Metric(0.75e-6), 16, "0.75 mm2: as 18 AWG, 0.823 mm2"},
		{Metric(2.5e-6), 41, "2.5 mm2: as 12 AWG, 3.31 mm2"},
		{Metric(95e-6), 0, "thicker than 1/0 AWG"},
	} {
		if got, ok := OpenAirAmpacity(row.gauge); got != row.want || ok != (row.want > 0) {
			t.Errorf("%s: %g A, %v; want %g A (%s)", row.gauge, got, ok, row.want, row.why)
		}
	}
	for n := 0; n <= 30; n++ {
		base, err := BaseAmpacity(AWG(n))
		if open, ok := OpenAirAmpacity(AWG(n)); err != nil || !ok || open < base {
			t.Errorf("%d AWG: %g A in open air, %g A by default", n, open, base)
		}
	}
}
