package wire

import (
	"math"
	"testing"
)

// T = Ta + (Tmax - Tref) (I/Iz)^2 (IEC 60364-5-52, from memory): a 70 degC wire in 40 degC air is at 47.5,
// 56.9, 70 and 83.2 degC at 0.5, 0.75, 1 and 1.2 times what it may carry.
func TestWarming(t *testing.T) {
	k, err := TableWarming(Metric(1.5e-6)) // 13 A at 40 degC, IEC 60204-1 table 6
	if err != nil {
		t.Fatal(err)
	}
	for share, want := range map[float64]float64{0.5: 47.5, 0.75: 56.875, 1: 70, 1.2: 83.2} {
		if got := 40 + k*math.Pow(13*share, 2); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g of its ampacity %g degC, want %g", share, got, want)
		}
		// The resistance that goes with that temperature is the one of Resistance.
		heat, most := Heat(k, 40)
		cold, _ := Resistance(Metric(1.5e-6), true, 40)
		hot, _ := Resistance(Metric(1.5e-6), true, want)
		if got := cold * (1 + heat*math.Pow(13*share, 2)); math.Abs(got-hot) > 1e-12 {
			t.Errorf("at %g of its ampacity %g ohm/m, want %g", share, got, hot)
		}
		if got := 40 + k*most*most; math.Abs(got-Hottest) > 1e-9 {
			t.Errorf("followed to %g degC, want %d", got, Hottest)
		}
	}
	if got := StatedWarming(20, 90); math.Abs(got-60.0/400) > 1e-12 {
		t.Errorf("20 A at 90 degC: %g K/A2, want 60 K at 20 A", got)
	}
	if got := StatedWarming(10, 30); got != 0.3 {
		t.Errorf("insulation that stands no more than the air: %g K/A2, want that of the table", got)
	}
	if _, most := Heat(0.1, 160); most != 0 {
		t.Errorf("air hotter than is followed: %g A", most)
	}
}
