package wire

import (
	"fmt"
	"math"
	"testing"
)

// near fails the test unless got lies within a share tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g within %g %%", what, got, want, tol*100)
	}
}

func sourced(t *testing.T, source string) {
	t.Helper()
	if source == "" {
		t.Error("a published number has no source beside it")
	}
}

const (
	b258   = "ASTM B258, standard nominal diameters of AWG sizes"
	b258M  = b258 + " (table from memory)"
	metre  = 1.0
	foot   = 0.3048 * metre // exact
	perKft = 1e3 * foot
)

func TestDiameter(t *testing.T) {
	// The standard rounds to 0.1 mil, 0.0001 in, hence half of that as
	// tolerance.
	for _, row := range []struct {
		awg    int
		mils   float64
		source string
	}{
		{-3, 460.0, b258}, // definition
		{36, 5.0, b258},   // definition
		{-2, 409.6, b258M},
		{-1, 364.8, b258M},
		{0, 324.9, b258M},
		{10, 101.9, b258M},
		{12, 80.8, b258M},
		{14, 64.1, b258M},
		{16, 50.8, b258M},
		{18, 40.3, b258M},
		{20, 32.0, b258M},
		{22, 25.3, b258M},
		{24, 20.1, b258M},
		{26, 15.9, b258M},
		{28, 12.6, b258M},
		{30, 10.0, b258M},
	} {
		sourced(t, row.source)
		if got := AWG(row.awg).Diameter() / 25.4e-6; math.Abs(got-row.mils) > 0.0501 {
			t.Errorf("%s: %.3f mil, want %.1f (%s)", AWG(row.awg), got, row.mils, row.source)
		}
	}
	// Ratio of neighbours: 92^(1/39) = 1.1229322 (ASTM B258).
	near(t, "ratio", AWG(17).Diameter()/AWG(18).Diameter(), 1.1229322, 1e-7)
	near(t, "metric", Metric(math.Pi/4*1e-6).Diameter(), 1e-3, 1e-12)
}

func TestArea(t *testing.T) {
	// Circular mils and mm2 of NEC chapter 9 table 8 (transcribed).
	for _, row := range []struct {
		awg       int
		mm2, cmil float64
		source    string
	}{
		{18, 0.823, 1620, nec8},
		{16, 1.31, 2580, nec8},
		{14, 2.08, 4110, nec8},
		{12, 3.31, 6530, nec8},
		{10, 5.261, 10380, nec8},
	} {
		sourced(t, row.source)
		g := AWG(row.awg)
		near(t, g.String()+" mm2, "+row.source, g.Area()*1e6, row.mm2, 0.002)
		mils := g.Diameter() / 25.4e-6
		near(t, g.String()+" cmil, "+row.source, mils*mils, row.cmil, 0.003)
	}
	if got := Metric(0.75e-6).Area(); got != 0.75e-6 {
		t.Errorf("0.75 mm2: got %g m2", got)
	}
}

func TestGaugeString(t *testing.T) {
	for _, row := range []struct {
		gauge Gauge
		want  string
	}{
		{AWG(18), "18 AWG"},
		{AWG(0), "1/0 AWG"},
		{AWG(-1), "2/0 AWG"},
		{AWG(-3), "4/0 AWG"},
		{Metric(0.75 * 1e-6), "0.75 mm2"},
		{Metric(2.5e-6), "2.5 mm2"},
		{Metric(0.14e-6), "0.14 mm2"},
		{Metric(10e-6), "10 mm2"},
	} {
		if got := row.gauge.String(); got != row.want {
			t.Errorf("got %q, want %q", got, row.want)
		}
	}
}

func TestThicker(t *testing.T) {
	for _, row := range []struct {
		gauge, want Gauge
		ok          bool
	}{
		{AWG(18), AWG(16), true},
		{AWG(17), AWG(16), true},
		{AWG(36), AWG(30), true},
		{AWG(4), AWG(2), true},
		{AWG(2), AWG(1), true},
		{AWG(1), AWG(0), true},
		{AWG(0), AWG(-1), true},
		{AWG(-3), Gauge{}, false},
		{Metric(0.5e-6), Metric(0.75e-6), true},
		{Metric(0.6e-6), Metric(0.75e-6), true},
		{Metric(0.75 * 1e-6), Metric(1e-6), true},
		{Metric(25e-6), Metric(35e-6), true},
		{Metric(120e-6), Gauge{}, false},
	} {
		got, ok := Thicker(row.gauge)
		if ok != row.ok || math.Abs(got.Area()-row.want.Area()) > 1e-12 {
			t.Errorf("thicker than %s: got %s, %v, want %s, %v", row.gauge, got, ok, row.want, row.ok)
		}
	}
	for _, awg := range []bool{true, false} {
		sizes := Standard(awg)
		for k := 1; k < len(sizes); k++ {
			if sizes[k].Area() <= sizes[k-1].Area() {
				t.Errorf("%s is not thicker than %s", sizes[k], sizes[k-1])
			}
			if next, ok := Thicker(sizes[k-1]); !ok || next != sizes[k] {
				t.Errorf("thicker than %s: got %s, want %s", sizes[k-1], next, sizes[k])
			}
		}
	}
}

func TestGaugeRefused(t *testing.T) {
	for _, row := range []struct {
		gauge Gauge
		want  string
	}{
		{Gauge{}, "wire: cross section 0 mm2 is outside 0.001 mm2 to 2500 mm2"},
		{AWG(-4), "wire: gauge -4 is outside 4/0 AWG to 56 AWG"},
		{AWG(57), "wire: gauge 57 is outside 4/0 AWG to 56 AWG"},
		{Metric(-1e-6), "wire: cross section -1 mm2 is outside 0.001 mm2 to 2500 mm2"},
		{Metric(1), "wire: cross section 1e+06 mm2 is outside 0.001 mm2 to 2500 mm2"},
		{Metric(math.NaN()), "wire: cross section NaN mm2 is outside 0.001 mm2 to 2500 mm2"},
		{Metric(math.Inf(1)), "wire: cross section +Inf mm2 is outside 0.001 mm2 to 2500 mm2"},
	} {
		if err := row.gauge.Check(); fmt.Sprint(err) != row.want {
			t.Errorf("got %v, want %s", err, row.want)
		}
		if _, err := Resistance(row.gauge, true, 20); fmt.Sprint(err) != row.want {
			t.Errorf("resistance: got %v, want %s", err, row.want)
		}
		if _, err := Ampacity(row.gauge, 20, InsulationTemperature); fmt.Sprint(err) != row.want {
			t.Errorf("ampacity: got %v, want %s", err, row.want)
		}
	}
}
