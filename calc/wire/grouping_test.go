package wire

import "testing"

// TestGroupingFactor sets the factor beside both published tables: never above
// either, and equal to one of them where both list the number.
func TestGroupingFactor(t *testing.T) {
	const (
		iec = "IEC 60364-5-52 table B.52.17, bunched, by circuits"
		nec = "NFPA 70 (NEC) table 310.15(C)(1), by loaded conductors"
	)
	for _, row := range []struct {
		pairs     int
		published float64
		source    string
	}{
		{1, 1, iec}, {2, 0.80, iec}, {3, 0.70, iec}, {4, 0.65, iec}, {5, 0.60, iec}, {6, 0.57, iec}, {7, 0.54, iec},
		{8, 0.52, iec}, {9, 0.50, iec}, {12, 0.45, iec}, {16, 0.41, iec}, {20, 0.38, iec},
		{2, 0.80, nec}, {3, 0.80, nec}, {4, 0.70, nec}, {5, 0.50, nec}, {10, 0.50, nec}, {11, 0.45, nec}, {15, 0.45, nec},
		{16, 0.40, nec}, {20, 0.40, nec}, {21, 0.35, nec}, {100, 0.35, nec},
	} {
		sourced(t, row.source)
		got, err := GroupingFactor(row.pairs)
		if err != nil {
			t.Fatal(err)
		}
		if got > row.published {
			t.Errorf("%d pairs: %g, published %g (%s)", row.pairs, got, row.published, row.source)
		}
	}
	for pairs, want := range map[int]float64{
		1: 1, 2: 0.8, 3: 0.7, 4: 0.65, 5: 0.5, 6: 0.5, 7: 0.5, 8: 0.5, 9: 0.5, 10: 0.45, 11: 0.45, 12: 0.45,
		13: 0.41, 14: 0.41, 15: 0.41, 16: 0.4, 17: 0.38, 18: 0.38, 19: 0.38, 20: 0.38, 21: 0.35,
	} {
		if got, _ := GroupingFactor(pairs); got != want {
			t.Errorf("%d pairs: %g, want %g, the lower of the two tables", pairs, got, want)
		}
	}
	last := 1.0
	for pairs := 1; pairs < 50; pairs++ {
		got, _ := GroupingFactor(pairs)
		if got > last {
			t.Errorf("%d pairs keep %g, one fewer %g", pairs, got, last)
		}
		last = got
	}
	if _, err := GroupingFactor(0); err == nil {
		t.Error("no pairs at all: no error")
	}
}
