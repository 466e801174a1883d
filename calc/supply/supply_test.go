package supply

import (
	"fmt"
	"math"
	"testing"
)

const (
	table11A = "NFPA 70 (NEC) chapter 9 table 11(A), direct current"
	table11M = "NFPA 70 (NEC) chapter 9 table 11(A) (from memory)"
	table2B  = "IEC 60950-1 table 2B (IEC 62368-1 annex Q)"
)

func sourced(t *testing.T, source string) {
	t.Helper()
	if source == "" {
		t.Error("a published number has no source beside it")
	}
}

func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b)) }

func TestLimits(t *testing.T) {
	for _, row := range []struct {
		name   string
		volts  float64
		want   Limits
		source string
	}{
		{"class 2", 5, Limits{Amps: 8, VoltAmps: 25}, table11A},
		{"class 2", 12, Limits{Amps: 8, VoltAmps: 60}, table11A},
		{"class 2", 20, Limits{Amps: 8, VoltAmps: 100}, table11A},
		{"class 2", 24, Limits{Amps: 8, VoltAmps: 100}, table11A},
		{"class 2", 30, Limits{Amps: 8, VoltAmps: 100}, table11A},
		{"class 2", 48, Limits{Amps: 150.0 / 48, VoltAmps: 100}, table11M},
		{"limited power", 5, Limits{Amps: 8, VoltAmps: 25}, table2B},
		{"limited power", 20, Limits{Amps: 8, VoltAmps: 100}, table2B},
		{"limited power", 24, Limits{Amps: 8, VoltAmps: 100}, table2B},
		{"limited power", 48, Limits{Amps: 3.125, VoltAmps: 100}, table2B},
		{"limited power", 60, Limits{Amps: 2.5, VoltAmps: 100}, table2B},
	} {
		sourced(t, row.source)
		got, err := LimitedPower(row.volts)
		if err != nil {
			t.Fatal(err)
		}
		if !same(got.Amps, row.want.Amps) || !same(got.VoltAmps, row.want.VoltAmps) {
			t.Errorf("%s at %g V: got %+v, want %+v (%s)", row.name, row.volts, got, row.want, row.source)
		}
	}
	for _, volts := range []float64{0, -5, 60.1, math.NaN(), math.Inf(1)} {
		l, err := LimitedPower(volts)
		if want := fmt.Sprintf("supply: %g V is outside the range of power-limited supplies, above 0 to 60 V", volts); fmt.Sprint(err) != want {
			t.Errorf("got %v, want %s", err, want)
		}
		if l != (Limits{}) {
			t.Errorf("%g V: got %+v with an error", volts, l)
		}
	}
}

// TestClass2Usable gives the greatest rating of a Class 2 supply at the strip
// voltages; a 5 V 20 A supply is four times above it.
func TestClass2Usable(t *testing.T) {
	for _, row := range []struct{ volts, va float64 }{{5, 25}, {12, 60}, {24, 100}} { // from table 11(A)
		rating, err := LimitedRating(row.volts)
		if err != nil {
			t.Fatal(err)
		}
		if !same(row.volts*rating, row.va) {
			t.Errorf("%g V: %g VA, want %g VA (%s)", row.volts, row.volts*rating, row.va, table11A)
		}
	}
	if rating, _ := LimitedRating(5); rating >= 20 {
		t.Errorf("5 V 20 A would be Class 2 by %g A (%s)", rating, table11A)
	}
	if TouchVolts != 60 || WetTouchVolts != 30 {
		t.Errorf("touch limits %d and %d V, want 60 V (%s) and 30 V (%s, note 4)", TouchVolts, WetTouchVolts, table2B, table11A)
	}
}

func TestFaultCurrent(t *testing.T) {
	for _, row := range []struct {
		name                    string
		rating, overload, volts float64
		limited                 bool
		want                    float64
	}{
		{"1.5 times the rating", 20, 1.5, 5, false, 30},
		{"another overload", 12.5, 1.1, 12, false, 13.75},
		{"limited power source", 6, 1.5, 12, true, 8},
		{"limited power source of less", 3, 1.5, 12, true, 4.5},
		{"limited power source at 48 V", 2, 2, 48, true, 3.125},
	} {
		got, err := FaultCurrent(row.rating, row.overload, row.volts, row.limited)
		if err != nil {
			t.Fatal(err)
		}
		if !same(got, row.want) {
			t.Errorf("%s: got %g A, want %g A", row.name, got, row.want)
		}
	}
	for _, row := range []struct {
		rating, overload, volts float64
		want                    string
	}{
		{0, 1.5, 5, "supply: rating 0 A is not a positive current"},
		{math.NaN(), 1.5, 5, "supply: rating NaN A is not a positive current"},
		{20, -1, 5, "supply: overload -1 is not a positive share of the rating"},
		{20, math.Inf(1), 5, "supply: overload +Inf is not a positive share of the rating"},
		{20, 1.5, 80, "supply: 80 V is outside the range of power-limited supplies, above 0 to 60 V"},
	} {
		if _, err := FaultCurrent(row.rating, row.overload, row.volts, true); fmt.Sprint(err) != row.want {
			t.Errorf("got %v, want %s", err, row.want)
		}
	}
}

func TestShare(t *testing.T) {
	for _, row := range []struct{ ambient, from, perDegree, want float64 }{
		{25, 50, 0.025, 1},
		{50, 50, 0.025, 1},
		{60, 50, 0.025, 0.75},
		{70, 50, 0.025, 0.5},
		{90, 50, 0.025, 0},
		{120, 50, 0.025, 0},
		{120, 50, 0, 1},
	} {
		got, err := Share(row.ambient, row.from, row.perDegree)
		if err != nil {
			t.Fatal(err)
		}
		if !same(got, row.want) {
			t.Errorf("at %g degC, %g per degree above %g degC: got %g, want %g", row.ambient, row.perDegree, row.from, got, row.want)
		}
	}
	for _, row := range []struct {
		ambient, from, perDegree float64
		want                     string
	}{
		{math.NaN(), 50, 0.025, "supply: ambient temperature NaN is not finite"},
		{25, math.Inf(-1), 0.025, "supply: start of derating -Inf is not finite"},
		{25, 50, -0.1, "supply: derating of -0.1 of the rating per degree is not a share of 0 or more"},
	} {
		if _, err := Share(row.ambient, row.from, row.perDegree); fmt.Sprint(err) != row.want {
			t.Errorf("got %v, want %s", err, row.want)
		}
	}
}
