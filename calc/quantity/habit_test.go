package quantity

import (
	"errors"
	"fmt"
	"testing"
)

func TestImperial(t *testing.T) {
	for _, row := range []struct {
		d    Dimension
		si   float64
		want string
	}{
		{Length, 16*foot + 4*inch, "16 ft 4 in"},
		{Length, 4.2, "13 ft 9 in"}, // 165.35 in
		{Length, 3 * foot, "3 ft"},
		{Length, 2.9999 * foot, "36 in"},
		{Length, 12*foot - 0.001, "12 ft"}, // inches are carried
		{Length, 0.0127, "0.5 in"},
		{Length, 0.016667, "0.656 in"},
		{Length, 0, "0 in"},
		{Length, -2, "-6 ft 7 in"},
		{Temperature, 25, "77 degF"},
		{Temperature, 0, "32 degF"},
		{ResistancePerLength, 0.0210, "6.4 ohm/kft"},
		{ResistancePerLength, 0, "0 ohm/kft"},
		{PowerPerLength, 10, "3.05 W/ft"},
		{Mass, 2, "4.41 lb"},
		{Mass, 0.1, "3.53 oz"},
		{MassPerLength, 0.05, "0.538 oz/ft"},
		{Density, 60, "18.3/ft"},
		{Voltage, 11.94, "11.9 V"},
		{Current, 0, "0 A"},
		{Frequency, 0, "0 Hz"},
	} {
		if got := Imperial.Show(row.d, row.si); got != row.want {
			t.Errorf("%v of dimension %d: %q, want %q", row.si, row.d, got, row.want)
		}
		if got, want := Metric.Show(row.d, row.si), Show(row.d, row.si); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for written, want := range map[string]string{"30 mm": "1.18 in", "2 in": "2 in"} {
		q, err := ParseFor(Length, written)
		if err != nil {
			t.Fatal(err)
		}
		if got := Imperial.Quantity(q); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := Metric.Quantity(q); got != written {
			t.Errorf("%q, want %q", got, written)
		}
	}
	if got := Imperial.ShowAgainst(Length, 5.001, 5); got != "16 ft 4.89 in" {
		t.Errorf("%q", got) // 196.89 against 196.85 in
	}
	for h, want := range map[Habit]string{Metric: "1.5 m is beyond 1 m, so 3", Imperial: "4 ft 11 in is beyond 3 ft 3 in, so 3"} {
		p := Say("%s is beyond %s, so %d", ShownAgainst(Length, 1.5, 1), Shown(Length, 1), 3)
		if got := p.In(h); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := ErrorIn(fmt.Errorf("a run: %w", p), h); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := ErrorIn(errors.New("plain"), Imperial); got != "plain" {
		t.Error(got)
	}
}

// 1 ft is 12 in of 25.4 mm (international yard and pound agreement of 1959).
func TestTape(t *testing.T) {
	for _, row := range []struct {
		si               float64
		metric, imperial string
	}{
		{1.2, "1.200 m", "3 ft 11 1/4 in"}, // 47.24 in
		{0.4047, "0.405 m", "15 15/16 in"}, // 15.933 in
		{3 * foot, "0.914 m", "3 ft"},
		{3*foot - 0.0001, "0.914 m", "3 ft"}, // 35.996 in
		{20 * foot, "6.096 m", "20 ft"},
		{12*foot + inch/2, "3.670 m", "12 ft 1/2 in"},
		{0, "0.000 m", "0 in"},
		{-2, "-2.000 m", "-6 ft 6 3/4 in"}, // 78.74 in
	} {
		if m, i := Metric.Tape(row.si), Imperial.Tape(row.si); m != row.metric || i != row.imperial {
			t.Errorf("%g m: %q and %q, want %q and %q", row.si, m, i, row.metric, row.imperial)
		}
	}
}
