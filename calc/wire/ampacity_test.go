package wire

import (
	"fmt"
	"math"
	"testing"
)

const (
	fixture  = "NFPA 70 (NEC) table 402.5, fixture wires"
	breaker  = "NFPA 70 (NEC) 240.4(D), greatest overcurrent protection of small conductors"
	cord     = "NFPA 70 (NEC) table 400.5(A), two-conductor cord"
	machine  = "NFPA 79 table 12.5.1, 60 degC column (from memory)"
	fixtM    = fixture + " (from memory)"
	b2       = "IEC 60204-1 table 6, method B2, 40 degC"
	column60 = "NFPA 70 (NEC) table 310.16, copper, 60 degC column, 30 degC"
	b2mem    = "IEC 60204-1 table 6, method B2, 40 degC (from memory)"
	b1mem    = "IEC 60204-1 table 6, method B1, 40 degC (from memory)"
	b2cool   = "IEC 60364-5-52, method B2, PVC, at 40 degC"
	chassis  = "Handbook of Electronic Tables and Formulas, chassis wiring"
	winding  = "Handbook of Electronic Tables and Formulas, 700 circular mils per ampere"
)

func base(t *testing.T, g Gauge) float64 {
	t.Helper()
	amps, err := BaseAmpacity(g)
	if err != nil {
		t.Fatal(err)
	}
	return amps
}

// TestBaseAmpacity sets the default beside published figures: equal to the one
// that it is taken from, never above the others that apply to wiring.
func TestBaseAmpacity(t *testing.T) {
	for _, row := range []struct {
		gauge     Gauge
		published float64
		equal     bool
		source    string
	}{
		{AWG(10), 30, true, breaker},
		{AWG(12), 20, true, breaker},
		{AWG(14), 15, true, breaker},
		{AWG(16), 10, false, breaker},
		{AWG(18), 7, false, breaker},
		{AWG(16), 8, true, fixture},
		{AWG(18), 6, true, fixture},
		{AWG(14), 17, false, fixtM},
		{AWG(12), 23, false, fixtM},
		{AWG(12), 25, false, cord},
		{AWG(14), 18, false, cord},
		{AWG(16), 13, false, cord},
		{AWG(18), 10, false, cord},
		{AWG(10), 30, false, machine},
		{AWG(12), 25, false, machine},
		{AWG(14), 20, false, machine},
		{AWG(16), 10, false, machine},
		{AWG(18), 7, false, machine},
		{AWG(20), 5, true, machine},
		{AWG(22), 3, true, machine},
		{AWG(24), 2, true, machine},
		{AWG(26), 1, true, machine},
		{AWG(28), 0.8, true, machine},
		{AWG(30), 0.5, true, machine},
		{AWG(20), 11, false, chassis},
		{AWG(22), 7, false, chassis},
		{AWG(24), 3.5, false, chassis},
		{AWG(26), 2.2, false, chassis},
		{AWG(28), 1.4, false, chassis},
		{AWG(30), 0.86, false, chassis},
		{Metric(0.75e-6), 8.5, false, b2},
		{Metric(1e-6), 10.1, false, b2},
		{Metric(1.5e-6), 13.1, false, b2},
		{Metric(2.5e-6), 17.4, false, b2},
		{Metric(4e-6), 23, true, b2},
		{AWG(8), 40, true, column60},
		{AWG(6), 55, true, column60},
		{AWG(4), 70, true, column60},
		{AWG(3), 85, true, column60},
		{AWG(2), 95, true, column60},
		{AWG(1), 110, true, column60},
		{AWG(0), 125, true, column60},
		{AWG(-1), 145, true, column60},
		{AWG(-2), 165, true, column60},
		{AWG(-3), 195, true, column60},
		{AWG(14), 15, true, column60},
		{AWG(12), 20, true, column60},
		{AWG(10), 30, true, column60},
		{Metric(6e-6), 30, true, b2},
		{Metric(10e-6), 40, true, b2},
		{Metric(16e-6), 54, true, b2},
		{Metric(25e-6), 70, true, b2},
		{Metric(35e-6), 86, true, b2},
		{Metric(50e-6), 103, true, b2mem},
		{Metric(70e-6), 130, true, b2mem},
		{Metric(95e-6), 156, true, b2mem},
		{Metric(120e-6), 179, true, b2mem},
		{Metric(16e-6), 59, false, b1mem},
		{Metric(120e-6), 208, false, b1mem},
		{Metric(1.5e-6), 13, true, b2cool},
		{Metric(2.5e-6), 17, true, b2cool},
		{Metric(4e-6), 23, true, b2cool},
	} {
		sourced(t, row.source)
		got := base(t, row.gauge)
		if got > row.published || row.equal && got != row.published {
			t.Errorf("%s: %g A, published %g A (%s)", row.gauge, got, row.published, row.source)
		}
	}
}

// TestSpread pins how far published figures for one size lie apart: the
// default for 18 AWG is between them, near the low end.
func TestSpread(t *testing.T) {
	const low, high = 2.3, 16 // A; winding, chassis
	if got := base(t, AWG(18)); got < low || got > high/2 {
		t.Errorf("18 AWG: %g A is not in the lower half of %g (%s) to %g A (%s)", got, low, winding, float64(high), chassis)
	}
}

func TestBaseAmpacityUnlisted(t *testing.T) {
	for _, row := range []struct {
		gauge Gauge
		want  float64
		why   string
	}{
		{AWG(11), 20, "as 12 AWG"},
		{AWG(17), 6, "as 18 AWG"},
		{AWG(9), 30, "as 10 AWG"},
		{AWG(7), 40, "as 8 AWG"},
		{Metric(0.5 * 1e-6), 5, "listed"},
		{Metric(0.75 * 1e-6), 6, "listed"},
		{Metric(1e-6), 8, "listed"},
		{Metric(0.6e-6), 5, "as 0.5 mm2"},
		{Metric(8e-6), 30, "as 6 mm2"},
		{Metric(150e-6), 179, "as 120 mm2, the thickest listed"},
		{Metric(0.34e-6), 3, "as 22 AWG, 0.326 mm2"},
		{Metric(0.25e-6), 2, "as 24 AWG, 0.205 mm2"},
		{Metric(0.14e-6), 1, "as 26 AWG, 0.129 mm2"},
	} {
		if got := base(t, row.gauge); got != row.want {
			t.Errorf("%s: %g A, want %g A (%s)", row.gauge, got, row.want, row.why)
		}
	}
	for _, g := range []Gauge{AWG(31), AWG(40), Metric(0.05e-6)} {
		_, err := BaseAmpacity(g)
		if want := fmt.Sprintf("wire: no ampacity is known for %s; the thinnest size with one is 30 AWG", g); fmt.Sprint(err) != want {
			t.Errorf("got %v, want %s", err, want)
		}
		if _, err := Ampacity(g, 20, InsulationTemperature); err == nil {
			t.Errorf("ampacity of %s: no error", g)
		}
	}
}

func TestThickerCarriesMore(t *testing.T) {
	last := 0.0
	for mm2 := 0.06; mm2 < 200; mm2 *= 1.01 {
		amps := base(t, Metric(mm2*1e-6))
		if amps < last {
			t.Errorf("%g mm2 carries %g A, thinner %g A", mm2, amps, last)
		}
		last = amps
	}
	for n := 29; n >= -3; n-- {
		if base(t, AWG(n)) < base(t, AWG(n+1)) {
			t.Errorf("%s carries less than %s", AWG(n), AWG(n+1))
		}
	}
}

func TestAmbientFactor(t *testing.T) {
	// Two-digit tables, so 0.005 and a little for the rounding of their own
	// working.
	const tol = 0.0055
	const (
		iec75 = "IEC 60204-1, ambient factors, 70 degC insulation, base 40 degC"
		nec75 = "NFPA 70 (NEC) 310.15(B)(1), 75 degC wire, base 30 degC (from memory)"
	)
	for _, row := range []struct {
		ambient, limit, base, want float64
		source                     string
	}{
		{30, 70, 40, 1.15, iec75},
		{35, 70, 40, 1.08, iec75},
		{40, 70, 40, 1.00, iec75},
		{45, 70, 40, 0.91, iec75},
		{50, 70, 40, 0.82, iec75},
		{55, 70, 40, 0.71, iec75},
		{60, 70, 40, 0.58, iec75},
		{35, 75, 30, 0.94, nec75},
		{40, 75, 30, 0.88, nec75},
		{45, 75, 30, 0.82, nec75},
		{50, 75, 30, 0.75, nec75},
		{55, 75, 30, 0.67, nec75},
		{60, 75, 30, 0.58, nec75},
	} {
		sourced(t, row.source)
		if got := heatFactor(row.ambient, row.limit, row.base); math.Abs(got-row.want) > tol {
			t.Errorf("%g degC: %.4f, want %.2f (%s)", row.ambient, got, row.want, row.source)
		}
		if row.base != 40 {
			continue
		}
		got, err := AmbientFactor(Metric(1e-6), row.ambient, InsulationTemperature)
		if err != nil {
			t.Fatal(err)
		}
		if want := math.Min(1, row.want); math.Abs(got-want) > tol {
			t.Errorf("%g degC: %.4f, want %.2f, never above 1 (%s)", row.ambient, got, want, row.source)
		}
	}
	last := 1.0
	for ambient := -40.0; ambient <= 120; ambient++ {
		f, err := AmbientFactor(AWG(12), ambient, InsulationTemperature)
		if err != nil {
			t.Fatal(err)
		}
		if f > last || f < 0 {
			t.Errorf("%g degC: %g follows %g", ambient, f, last)
		}
		last = f
	}
	if last != 0 {
		t.Errorf("beyond the insulation's limit: %g, want 0", last)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(-1), 300} {
		want := fmt.Sprintf("wire: temperature %g degC is outside -60 to 250 degC", bad)
		if _, err := AmbientFactor(AWG(12), bad, 70); fmt.Sprint(err) != want {
			t.Errorf("got %v, want %s", err, want)
		}
		if _, err := Ampacity(AWG(18), bad, InsulationTemperature); fmt.Sprint(err) != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}

func TestStatedFactor(t *testing.T) {
	const (
		pvc   = "IEC 60364-5-52 table B.52.14, PVC, 70 degC (from memory)"
		xlpe  = "code file quoting PN-HD 60364-5-52 B.52.15, 90 degC"
		nec60 = "NFPA 70 (NEC) 310.15(B)(1), 60 degC column, base 30 degC"
		nec75 = "NFPA 70 (NEC) 310.15(B)(1), 75 degC column, base 30 degC (from memory)"
	)
	for _, row := range []struct {
		ambient, limit, want float64
		source               string
	}{
		{35, 70, 0.94, pvc}, {40, 70, 0.87, pvc}, {45, 70, 0.79, pvc}, {50, 70, 0.71, pvc}, {55, 70, 0.61, pvc}, {60, 70, 0.50, pvc},
		{35, 90, 0.96, xlpe}, {40, 90, 0.91, xlpe}, {50, 90, 0.82, xlpe}, {60, 90, 0.71, xlpe}, {80, 90, 0.41, xlpe},
		{35, 60, 0.91, nec60}, {40, 60, 0.82, nec60}, {45, 60, 0.71, nec60}, {50, 60, 0.58, nec60}, {55, 60, 0.41, nec60}, {56, 60, 0, nec60 + ": no row above 55 degC"},
		{70, 75, 0.33, nec75}, {71, 75, 0, nec75 + ": no row above 70 degC"},
		{25, 70, 1, "never above the sheet"}, {-20, 90, 1, "never above the sheet"}, {70, 70, 0, "the insulation's limit"}, {35, 25, 0, "insulation below the reference"},
	} {
		sourced(t, row.source)
		got, err := StatedFactor(row.ambient, row.limit)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-row.want) > 0.0055 {
			t.Errorf("%g degC, %g degC insulation: %.4f, want %.2f (%s)", row.ambient, row.limit, got, row.want, row.source)
		}
	}
	if _, err := StatedFactor(math.NaN(), 70); err == nil {
		t.Error("no temperature: no error")
	}
}

func TestAmpacity(t *testing.T) {
	for _, row := range []struct {
		gauge   Gauge
		ambient float64
		want    float64
	}{
		{AWG(18), 25, 6},
		{AWG(18), 40, 6 * 0.8660}, // sqrt(30/40)
		{AWG(18), 50, 6 * 0.7071}, // sqrt(20/40)
		{AWG(12), 40, 20},
		{AWG(12), 50, 20 * 0.8165}, // sqrt(20/30)
		{Metric(1.5e-6), 60, 13 * 0.57735},
		{AWG(14), 70, 0},
		{AWG(14), 85, 0},
	} {
		got, err := Ampacity(row.gauge, row.ambient, InsulationTemperature)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-row.want) > 1e-3 {
			t.Errorf("%s at %g degC: %g A, want %g A", row.gauge, row.ambient, got, row.want)
		}
	}
}

// TestThickWireOfItsClass sets 1/0 AWG and thicker beside the 75 degC column of
// NFPA 70 (NEC) table 310.16 and its factors for a base of 30 degC.
func TestThickWireOfItsClass(t *testing.T) {
	for _, row := range []struct {
		gauge             Gauge
		ambient, insulant float64
		want              float64
	}{
		{AWG(-3), 30, 75, 230}, {AWG(-2), 30, 90, 200}, {AWG(-1), 25, 75, 175}, {AWG(0), 30, 75, 150},
		{AWG(0), 40, 75, 150 * 0.88}, {AWG(-3), 50, 90, 230 * 0.75},
		{AWG(-3), 30, 70, 195}, {AWG(1), 30, 75, 110},
	} {
		got, err := Ampacity(row.gauge, row.ambient, row.insulant)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-row.want) > 0.0055*230 { // two-digit factors
			t.Errorf("%s of %g degC at %g degC: %g A, want %g A", row.gauge, row.insulant, row.ambient, got, row.want)
		}
	}
}
