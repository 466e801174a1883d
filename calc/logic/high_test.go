package logic

import "testing"

func TestTooHigh(t *testing.T) {
	const source = "WS2812B datasheet, absolute maximum ratings: VI at most VDD + 0.5 V (from memory)"
	for _, row := range []struct {
		level, supply float64
		want          bool
	}{
		{5, 5, false}, {5.5, 5, false}, {5.51, 5, true}, {12, 5, true}, {3.3, 5, false}, {5, 4.5, false}, {5, 4.4, true}, {5, 12, false},
	} {
		if got := TooHigh(row.level, row.supply); got != row.want {
			t.Errorf("%g V into an input at %g V: %v, want %v (%s)", row.level, row.supply, got, row.want, source)
		}
	}
}
