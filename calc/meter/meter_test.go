package meter

import (
	"math"
	"testing"
)

func TestError(t *testing.T) {
	for _, row := range []struct {
		reading, accuracy float64
		digits            int
		step, want        float64
		source            string
	}{
		{12, 0.005, 3, 0.01, 0.09, "worked example: 0.5 % + 3 digits of 12.00 V"},
		{12, Accuracy, Digits, 0.01, 0.08, "by hand"},
		{-12, Accuracy, Digits, 0.01, 0.08, "the sign says which way the tips were"},
		{100, 0.008, 2, 0.1, 1, "3 1/2 digit meter's manual, ohm range: 0.8 % + 2 digits"},
		{5, CurrentAccuracy, CurrentDigits, 0.01, 0.125, "by hand"},
	} {
		if got := Error(row.reading, row.accuracy, row.digits, row.step); math.Abs(got-row.want) > 1e-12 {
			t.Errorf("%g: %g, want %g (%s)", row.reading, got, row.want, row.source)
		}
	}
}

func TestStep(t *testing.T) {
	for text, want := range map[string]float64{
		"11.40 V": 0.01, "11.4": 0.1, "12 V": 1, "-0.290 V": 0.001, ".5 V": 0.1, "3. V": 1, "V": 0, "": 0, ". V": 0,
	} {
		if got := Step(text); math.Abs(got-want) > 1e-15 {
			t.Errorf("%q: %g, want %g", text, got, want)
		}
	}
}

// 2000 counts: the last digit is the range over 2000.
func TestRange(t *testing.T) {
	for reading, want := range map[float64]float64{0: 0.001, 1.999: 0.001, 5: 0.01, -12: 0.01, 19.99: 0.01, 24: 0.1, 400: 1, 1e6: 1} {
		if got := Range(reading); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g: %g, want %g", reading, got, want)
		}
	}
}
