package path

import (
	"math"
	"testing"
)

func through(t *testing.T, at ...Point) Path {
	t.Helper()
	p, err := Polyline(at)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// By hand; near is 1 cm throughout.
func TestMeets(t *testing.T) {
	row := through(t, Point{0, 0}, Point{1, 0})
	for _, tc := range []struct {
		name     string
		other    Path
		from, to float64
		ok       bool
	}{
		{"the same", row, 0, 1, true},
		{"the same, turned", through(t, Point{1, 0}, Point{0, 0}), 0, 1, true},
		{"beside, 9.5 mm", through(t, Point{0.2, 0.0095}, Point{0.7, 0.0095}), 0.2, 0.7, true},
		{"beside, 10.5 mm", through(t, Point{0.2, 0.0105}, Point{0.7, 0.0105}), 0, 0, false},
		{"end to end", through(t, Point{1, 0}, Point{2, 0}), 0, 0, false},
		{"over by 19 mm", through(t, Point{0.981, 0}, Point{2, 0}), 0, 0, false},
		{"over by 21 mm", through(t, Point{0.979, 0}, Point{2, 0}), 0.979, 1, true},
		{"across", through(t, Point{0.3, -1}, Point{0.3, 1}), 0.3, 0.3, true},
		{"across and over", through(t, Point{0.6, -1}, Point{0.6, 0.5}, Point{0.2, 0.5}, Point{0.2, -0.5}), 0.2, 0.2, true},
		{"against its side", through(t, Point{0.3, 0}, Point{0.3, 1}), 0, 0, false},
		{"round its corner", through(t, Point{1, 0}, Point{1, 1}), 0, 0, false},
		{"away", through(t, Point{0, 1}, Point{1, 1}), 0, 0, false},
	} {
		from, to, ok := row.Meets(tc.other, 0.01)
		if ok != tc.ok || ok && (math.Abs(from-tc.from) > 1e-9 || math.Abs(to-tc.to) > 1e-9) {
			t.Errorf("%s: from %g to %g, %v; want %g to %g, %v", tc.name, from, to, ok, tc.from, tc.to, tc.ok)
		}
		if _, _, back := tc.other.Meets(row, 0.01); back != tc.ok {
			t.Errorf("%s, asked the other way: %v", tc.name, back)
		}
	}
	arc, err := New(Point{0, 0}, 0, Arc{Radius: 0.2, Sweep: 180, Turn: Left})
	if err != nil {
		t.Fatal(err)
	}
	if from, to, ok := arc.Meets(arc, 0.01); !ok || from != 0 || math.Abs(to-0.2*math.Pi) > 2e-3 {
		t.Errorf("an arc and itself: from %g to %g, %v", from, to, ok)
	}
	if d, at := row.Nearest(Point{0.4, 0.03}); math.Abs(d-0.03) > 1e-12 || math.Abs(at-0.4) > 1e-12 {
		t.Errorf("nearest: %g m at %g m", d, at)
	}
	if d, at := row.Nearest(Point{1.3, 0.4}); math.Abs(d-0.5) > 1e-12 || at != 1 {
		t.Errorf("nearest to what lies beyond the end: %g m at %g m", d, at)
	}
}

// By hand: the neck of a bottle, 9 mm and 11 mm wide, and what may lie close.
func TestMeetsItself(t *testing.T) {
	bottle := func(neck float64) Path {
		return through(t, Point{0, 1}, Point{0, 0.5}, Point{-0.5, 0.5}, Point{-0.5, 0}, Point{0.5, 0}, Point{0.5, 0.5}, Point{neck, 0.5}, Point{neck, 1})
	}
	ring, err := Circle(Point{0, 0}, 0.2, 90, 359, Right)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		name      string
		path      Path
		at, again float64
		ok        bool
	}{
		{"a neck of 9 mm", bottle(0.009), 0.02, 3.951, true},
		{"a neck of 11 mm", bottle(0.011), 0, 0, false},
		{"crossing", through(t, Point{0, 0}, Point{1, 0}, Point{1, 1}, Point{0.5, 1}, Point{0.5, -1}), 0.49, 3.49, true},
		{"a hairpin", through(t, Point{0, 0}, Point{0.019, 0}, Point{0.019, 0.001}, Point{0, 0.001}), 0, 0, false},
		{"once round, with a gap", ring, 0, 0, false},
		{"straight", through(t, Point{0, 0}, Point{2, 0}), 0, 0, false},
	} {
		at, again, ok := tc.path.MeetsItself(0.01)
		if ok != tc.ok || math.Abs(at-tc.at) > 0.011 || math.Abs(again-tc.again) > 0.011 {
			t.Errorf("%s: %g and %g, %v; want %g and %g, %v", tc.name, at, again, ok, tc.at, tc.again, tc.ok)
		}
	}
}
