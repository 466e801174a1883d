package logic

import (
	"math"
	"testing"
)

func TestLevels(t *testing.T) {
	if got := Sure(3.3); math.Abs(got-2.62) > 1e-9 { // RP2040 Datasheet, table of IO characteristics: VOH at least 2.62 V of 3.3 V
		t.Errorf("3.3 V is sure of %g V", got)
	}
	if got := High(0.7, 5); math.Abs(got-3.5) > 1e-9 { // WS2812B datasheet: VIH at least 0.7 VDD
		t.Errorf("an input of 0.7 VDD at 5 V reads high from %g V", got)
	}
}

func TestReach(t *testing.T) {
	for chip, want := range map[string]float64{"WS2811": 10, "ws2811b": 10, "WS2812B": 5, "WS2815": 5, "": 5} { // their datasheets, typical application
		if got := LongestLine(chip); got != want {
			t.Errorf("%q reaches %g m, want %g m", chip, got, want)
		}
	}
}
