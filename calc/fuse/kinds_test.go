package fuse

import (
	"math"
	"slices"
	"testing"
)

func named(t *testing.T, name string) Kind {
	t.Helper()
	k, ok := Named(name)
	if !ok {
		t.Fatalf("no kind %q", name)
	}
	return k
}

// TestKindsAgainstPublished compares what the table of kinds says with rows of
// standards and makers' sheets.
func TestKindsAgainstPublished(t *testing.T) {
	const (
		iso      = "ISO 8820-3 abstract, types C, E and F: 32 or 58 V, 1000 A"
		sheet    = "maker's sheet of a regular blade fuse"
		part7    = "IEC 60127-7 sheet 1, ratings"
		gates    = "maker's datasheet of 5 x 20 mm fuses, note on IEC opening times: quick, 210 % at most 30 min"
		ptc      = "maker's datasheet of resettable fuses for 16 V: trip current 1.7 to 2 times the hold current"
		memory   = "from memory"
		computed = "I2 <= 1.45 Iz (IEC 60364-4-43 clause 433.1), recomputed"
	)
	blade, glass, bolted, reset := named(t, "blade"), named(t, "glass"), named(t, "bolted"), named(t, "resettable")
	for _, row := range []struct {
		what           string
		got, want, tol float64
		source         string
	}{
		{"voltage of the usual blade", blade.Volts, 32, 0, iso},
		{"voltage of the highest blade", blade.Most, 58, 0, iso},
		{"what a blade breaks", blade.Capacity(30), 1000, 0, iso},
		{"largest blade", blade.Largest(), 100, 0, iso},
		{"what opens a blade", blade.Opens, 1.35, 0, sheet + ": 135 % opens within 600 s"},
		{"drop of a 40 A blade", blade.Drop(40), 0.096, 0, sheet},
		{"hot resistance of a 40 A blade", blade.Ohms(40), 0.0024, 5e-5, sheet + ": 1.67 times the cold 1.44 mohm"},
		{"what opens a cartridge", glass.Opens, 2.1, 0, gates},
		{"what a 1 A glass cartridge breaks", glass.Capacity(1), 35, 0, "IEC 60127-2 sheet 2, " + memory},
		{"what a 10 A glass cartridge breaks", glass.Capacity(10), 100, 0, "IEC 60127-2 sheet 2, " + memory},
		{"cartridge on 10 A", 10 / glass.Counts(1), 6.9, 0.005, computed},
		{"resettable on 10 A", 10 / reset.Counts(1), 7.25, 0.005, computed},
		{"blade on 10 A", 10 / blade.Counts(1), 10, 0, computed},
		{"bolted on 10 A", 10 / bolted.Counts(1), 10, 0, computed},
		{"what trips a resettable fuse", reset.Opens, 2, 0, ptc},
		{"resistance of 0.75 A", reset.Ohms(0.75), 0.230, 1e-9, ptc + ", greatest after a trip"},
		{"resistance of 1.1 A", reset.Ohms(1.1), 0.140, 1e-9, ptc},
		{"resistance of 1.6 A", reset.Ohms(1.6), 0.110, 1e-9, ptc},
		{"resistance of 1.85 A", reset.Ohms(1.85), 0.090, 1e-9, ptc},
		{"resistance of 2.5 A", reset.Ohms(2.5), 0.060, 1e-9, ptc},
		{"hold at 20 degC", reset.At(20).Share, 1, 0, ptc},
		{"hold at 40 degC", reset.At(40).Share, 0.83, 0, "typical, " + memory},
		{"hold at 45 degC, between two rows", reset.At(45).Share, 0.785, 1e-9, "typical, " + memory},
		{"hold at 85 degC", reset.At(85).Share, 0.42, 0, "typical, " + memory},
		{"hold in the cold, not counted on", reset.At(-20).Share, 1, 0, "the safe side"},
		{"a blade in warm air", blade.At(60).Share, 0.75, 0, "fuse maker's note, at 25 degC"},
		{"bolted, smallest", bolted.Ratings[0], 30, 0, "ISO 8820-5 SF30, " + memory},
		{"bolted, largest", bolted.Largest(), 500, 0, "ISO 8820-5 SF51, " + memory},
	} {
		sourced(t, row.source)
		if !(math.Abs(row.got-row.want) <= row.tol+1e-12) {
			t.Errorf("%s: %g, want %g (%s)", row.what, row.got, row.want, row.source)
		}
	}
	want := []float64{1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10}
	if got := glass.Ratings[len(glass.Ratings)-len(want):]; !slices.Equal(got, want) {
		t.Errorf("cartridges: %v, want %v (%s)", got, want, part7)
	}
}

// TestHotAboveCold: a fuse is warmer at its rating than cold, so that its
// resistance there is no less than what is measured cold, and the standard's
// greatest drop is no less than the drop taken.
func TestHotAboveCold(t *testing.T) {
	const cold = "measured cold resistances of regular blades, instrument maker's list (second-hand)"
	blade, glass := named(t, "blade"), named(t, "glass")
	for _, row := range []struct{ rating, mohm float64 }{
		{2, 58}, {3, 38}, {5, 18}, {7.5, 12.2}, {10, 8.9}, {15, 5.5}, {20, 4.1}, {30, 2.8}, {40, 2.0},
	} {
		hot := 1000 * blade.Ohms(row.rating)
		if hot < row.mohm*(1-1e-9) || hot > 1.67*row.mohm {
			t.Errorf("%g A: %.3g mohm hot, %g cold: not 1 to 1.67 times it (%s)", row.rating, hot, row.mohm, cold)
		}
	}
	for _, row := range []struct{ rating, volts float64 }{{1, 0.5}, {2, 0.3}, {3.15, 0.3}, {5, 0.3}, {6.3, 0.3}, {8, 0.22}, {10, 0.22}} {
		if got := glass.Drop(row.rating); got > row.volts {
			t.Errorf("%g A: %g V, above the greatest of IEC 60127-7, %g V", row.rating, got, row.volts)
		}
	}
}

// TestLikely: of a rating alone the kind is the commonest that comes in it.
func TestLikely(t *testing.T) {
	for amps, want := range map[float64]string{1: "blade", 5: "blade", 7.5: "blade", 3.15: "glass", 6.3: "glass", 0.5: "glass", 6: "blade", 40: "blade", 125: "bolted", 500: "bolted", 120: "bolted", 2000: "bolted", 0: "blade"} {
		if got := Likely(amps).Name; got != want {
			t.Errorf("%g A: %s, want %s", amps, got, want)
		}
	}
	if Likely(math.NaN()).Name != "blade" {
		t.Error("not a number is no rating of any kind")
	}
}

// TestKindsAreWhole: each kind has what the others read of it.
func TestKindsAreWhole(t *testing.T) {
	for _, k := range Kinds() {
		if !slices.IsSorted(k.Ratings) || k.Most < k.Volts || !(k.Volts > 0 && k.Breaks > 0 && k.Opens > 1 && k.Share > 0 && k.Share <= 1) || k.Doc == "" || k.Within == "" {
			t.Errorf("%+v", k)
		}
		for _, r := range append([]float64{1e-12, 1e6}, k.Ratings...) {
			if o := k.Ohms(r); !(o > 0 && o < 10) {
				t.Errorf("%s of %g A: %g ohm", k.Name, r, o)
			}
		}
		for ampacity := 0.1; ampacity < 600; ampacity *= 1.07 {
			if r, ok := k.LargestFor(ampacity); ok && (r > ampacity*(1+1e-9) || k.Opens*r > 1.45*ampacity*(1+1e-9)) {
				t.Errorf("%s of %g A on %g A", k.Name, r, ampacity)
			}
		}
	}
}
