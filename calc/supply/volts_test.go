package supply

import "testing"

func TestLimitedRating(t *testing.T) {
	for volts, want := range map[float64]float64{5: 5, 12: 5, 12.5: 5, 20: 5, 24: 100.0 / 24, 48: 100.0 / 48} {
		if got, err := LimitedRating(volts); err != nil || !same(got, want) {
			t.Errorf("%g V: %g A, %v, want %g A (%s)", volts, got, err, want, table2B)
		}
	}
	if _, err := LimitedRating(80); err == nil {
		t.Error("80 V counts as limited")
	}
}

func TestSuits(t *testing.T) {
	for _, c := range []struct {
		nominal, volts float64
		want           bool
	}{{5, 5, true}, {5, 5.5, true}, {5, 5.6, false}, {5, 4.5, true}, {5, 4.4, false}, {12, 5, false}} { // 90 to 110 %: common practice, no source
		if got := Suits(c.nominal, c.volts); got != c.want {
			t.Errorf("%g V on a part for %g V: %v", c.volts, c.nominal, got)
		}
	}
}

func TestRatingFor(t *testing.T) {
	for _, c := range []struct{ load, share, left, want float64 }{
		{8, 0.8, 1, 10}, // 8 A at 80 % of 10 A
		{8.1, 0.8, 1, 11},
		{8, 0.8, 0.5, 20},
	} {
		if got := RatingFor(c.load, c.share, c.left); got != c.want {
			t.Errorf("%g A at %g of %g: %g A, want %g A", c.load, c.share, c.left, got, c.want)
		}
	}
}
