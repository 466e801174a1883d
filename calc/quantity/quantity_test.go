package quantity

import (
	"errors"
	"math"
	"testing"
)

func TestParseFor(t *testing.T) {
	for _, c := range []struct {
		dim   Dimension
		text  string
		si    float64
		shown string
	}{
		{Length, "3.2 m", 3.2, "3.2 m"},
		{Length, "16 ft 4 in", 4.9784, "16.33 ft"}, // 196 in * 25.4 mm, international yard and pound agreement 1959
		{Length, "5 1/2 in", 0.1397, "5.5 in"},
		{Length, "3/4 in", 0.01905, "0.75 in"},
		{Length, "-3 cm", -0.03, "-3 cm"},
		{Length, ".5m", 0.5, "0.5 m"},
		{Length, "152.4mm", 0.1524, "152.4 mm"},
		{Gauge, "18 AWG", 0.8230e-6, "18 AWG"},   // ASTM B258
		{Gauge, "1/0 AWG", 53.475e-6, "1/0 AWG"}, // ASTM B258
		{Gauge, "4/0 awg", 107.22e-6, "4/0 AWG"}, // ASTM B258
		{Gauge, "0.75 mm2", 0.75e-6, "0.75 mm2"},
		{Density, "60/m", 60, "60/m"},
		{Density, "18.3/ft", 60.04, "18.3/ft"},
		{Voltage, "5 V", 5, "5 V"},
		{Current, "450 mA", 0.45, "450 mA"},
		{ResistancePerLength, "0.1 ohm/m", 0.1, "0.1 ohm/m"},
		{Frequency, "40 Hz", 40, "40 Hz"},
		{DataRate, "800 kHz", 800e3, "800 kHz"},
		{Time, "280 us", 280e-6, "280 us"},
		{Temperature, "25 degC", 25, "25 degC"},
		{Temperature, "77 degF", 25, "77 degF"},
		{Temperature, "-4 °F", -20, "-4 °F"},
		{Share, "80 %", 0.8, "80 %"},
		{Share, "80%", 0.8, "80 %"},
		{SharePerDegree, "1 %/degF", 0.018, "1 %/degF"},
		{PowerPerLength, "9 W/m", 9, "9 W/m"},
		{Money, "21.50 EUR", 21.5, "21.5 EUR"},
		{Money, "300 ISK", 300, "300 ISK"},
	} {
		q, err := ParseFor(c.dim, c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if math.Abs(q.SI-c.si) > 2e-4*math.Abs(c.si) {
			t.Errorf("%q = %g, want %g", c.text, q.SI, c.si)
		}
		if q.String() != c.shown {
			t.Errorf("%q shows as %q, want %q", c.text, q.String(), c.shown)
		}
		back, err := ParseFor(c.dim, q.Exact())
		if err != nil || !back.Equal(q) {
			t.Errorf("%q: Exact %q does not come back: %v %v", c.text, q.Exact(), back, err)
		}
	}
}

func TestParseForRefuses(t *testing.T) {
	for _, c := range []struct {
		dim  Dimension
		text string
		kind error
		says string
	}{
		{Length, "", ErrEmpty, `empty text where a length belongs, such as "3.2 m"`},
		{Length, "3", ErrNoUnit, `3 has no unit; a length belongs here, such as "3.2 m"`},
		{Length, "3 A", ErrDimension, `"3 A" is a current where a length belongs; write one, such as "3.2 m"`},
		{Current, "2 mm", ErrDimension, `"2 mm" is a length where a current belongs; write one, such as "2.5 A"`},
		{Length, "3,2 m", ErrNumber, `"3,2" in "3,2 m" is not a number: the decimal sign is a point (3.2)`},
		{Length, "three m", ErrNumber, `"three m" is not a number with a unit, such as "3.2 m"`},
		{Length, "3 qm", ErrUnknownUnit, `unknown unit "qm" in "3 qm"; a length is written in m, cm, mm, in, ft, yd or km`},
		{Length, "1/0 m", ErrNumber, `"1/0" in "1/0 m" is not a number: a fraction needs a denominator other than 0`},
		{Length, "4 in 16 ft", ErrNumber, `"4 in 16 ft": the parts of a compound value go from the larger unit to the smaller, without signs, such as "16 ft 4 in"`},
		{Voltage, "5 V 2 mV", ErrNumber, `"5 V 2 mV" holds more than one number; only lengths and masses may be compound, such as "16 ft 4 in"`},
		{Gauge, "18.5 AWG", ErrRange, `18.5 AWG is no size; the sizes are whole numbers from 4/0 AWG, the thickest, to 56 AWG`},
		{Gauge, "57 AWG", ErrRange, `57 AWG is no size; the sizes are whole numbers from 4/0 AWG, the thickest, to 56 AWG`},
		{Gauge, "-4 AWG", ErrRange, `-4 AWG is no size; the sizes are whole numbers from 4/0 AWG, the thickest, to 56 AWG`},
		{Length, "1e300 m", ErrRange, `"1e300 m" is larger than anything a plan can hold`},
		{Length, "1e999 m", ErrNumber, `"1e999" in "1e999 m" is not a number: too large or malformed`},
		{Money, "3 ZZZ", ErrUnknownUnit, `unknown unit "ZZZ" in "3 ZZZ"; a price is written in EUR, USD, GBP, CHF, CAD, AUD, SEK, NOK, DKK, PLN, CZK or JPY`},
	} {
		_, err := ParseFor(c.dim, c.text)
		if !errors.Is(err, c.kind) || err.Error() != c.says {
			t.Errorf("%q: %v\n want %v: %s", c.text, err, c.kind, c.says)
		}
	}
}

func TestShow(t *testing.T) {
	for _, c := range []struct {
		dim  Dimension
		si   float64
		want string
	}{
		{Voltage, 3.7123, "3.71 V"}, {Voltage, 0.9163, "0.916 V"}, {Voltage, 0.0123, "12.3 mV"},
		{Current, 0.02, "20 mA"}, {Current, 12.5, "12.5 A"}, {Length, 0.0167, "1.67 cm"}, {Length, 3.6, "3.6 m"},
		{Share, 0.913, "91.3 %"}, {Time, 0.00678, "6.78 ms"}, {Length, 0.0009996, "1 mm"}, {Current, 0, "0 A"},
		{Current, 4.66e-15, "0 A"}, {Length, -5e-16, "0 m"}, {Current, 2e-6, "0.002 mA"}, {Power, 2e-4, "0.0002 W"},
	} {
		if got := Show(c.dim, c.si); got != c.want {
			t.Errorf("Show(%v, %g) = %q, want %q", c.dim, c.si, got, c.want)
		}
	}
	if got := ShowAgainst(Current, 8.0004, 8); got != "8.0004 A" {
		t.Errorf("ShowAgainst shows %q", got)
	}
}

// A limit is rounded to the side that is allowed, in every unit.
func TestBound(t *testing.T) {
	for _, c := range []struct {
		si    float64
		unit  Unit
		below bool
		want  string
	}{
		{90, unitOf(Temperature, "degC"), true, "90 degC"},
		{90, unitOf(Temperature, "degF"), true, "194 degF"},
		{-60, unitOf(Temperature, "degF"), false, "-76 degF"},
		{1, unitOf(Length, "in"), true, "39.37 in"},
		{1, unitOf(Length, "in"), false, "39.38 in"},
		{-10e3, unitOf(Length, "ft"), false, "-32808 ft"},
		{0, unitOf(Voltage, "mV"), false, "0 mV"},
		{5000, unitOf(Density, "/ft"), true, "1524/ft"},
		{500e-6, unitOf(Gauge, "AWG"), true, "4/0 AWG"},
		{0.005e-6, unitOf(Gauge, "AWG"), false, "40 AWG"},
	} {
		if got := Bound(c.si, c.unit, c.below); got != c.want {
			t.Errorf("Bound(%g, %s, %v) is %s, want %s", c.si, c.unit.Symbol, c.below, got, c.want)
		}
	}
}

func FuzzParseFor(f *testing.F) {
	f.Add("16 ft 4 in", 1)
	f.Add("1/0 AWG", 2)
	f.Fuzz(func(t *testing.T, s string, d int) {
		dim := Dimension(1 + (d%20+20)%20)
		if q, err := ParseFor(dim, s); err == nil && (math.IsNaN(q.SI) || math.IsInf(q.SI, 0) || q.Dim() != dim) {
			t.Errorf("%q gave %v", s, q)
		}
	})
}

func TestList(t *testing.T) {
	for _, c := range []struct {
		names []string
		want  string
	}{
		{nil, ""},
		{[]string{"a"}, "a"},
		{[]string{"a", "b", "c"}, "a, b, c"},
		{[]string{"a", "b", "c", "d"}, "a, b and 2 more"},
	} {
		if got := List(c.names); got != c.want {
			t.Errorf("List(%q) is %q, want %q", c.names, got, c.want)
		}
	}
}

// What is written in two units is one number, to the last bit.
func TestSameInEveryUnit(t *testing.T) {
	for _, x := range [][2]string{{"140 cm", "1.4 m"}, {"1400 mm", "1.4 m"}, {"35 mm", "3.5 cm"}, {"205 cm", "2.05 m"}} {
		a, err1 := ParseFor(Length, x[0])
		b, err2 := ParseFor(Length, x[1])
		if err1 != nil || err2 != nil || a.SI != b.SI {
			t.Errorf("%s is %v, and %s %v", x[0], a.SI, x[1], b.SI)
		}
	}
}
