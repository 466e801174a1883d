package path

import (
	"math"
	"testing"
)

// A stretch begins and ends where the path is at its places, and the middle of
// an arc's stroke lies on its circle.
func TestStrokes(t *testing.T) {
	p, err := New(Point{1, 2}, 90, Line{0.4}, Arc{Radius: 0.3, Sweep: 200, Turn: Right}, Curve{[]Point{{2, 2}, {2.4, 3}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ from, to float64 }{{0, p.Length()}, {0.1, 0.3}, {0.35, 0.9}, {0.5, 0.6}, {1.2, p.Length()}, {-1, 99}} {
		s := p.Strokes(c.from, c.to)
		if len(s) == 0 {
			t.Fatalf("from %g to %g: nothing", c.from, c.to)
		}
		x, y, _ := p.At(max(c.from, 0))
		if d := s[0].From.minus(Point{x, y}).norm(); d > 1e-9 {
			t.Errorf("from %g to %g: begins %g m off", c.from, c.to, d)
		}
		x, y, _ = p.At(min(c.to, p.Length()))
		if d := s[len(s)-1].To.minus(Point{x, y}).norm(); d > 1e-9 {
			t.Errorf("from %g to %g: ends %g m off", c.from, c.to, d)
		}
		for i := 1; i < len(s); i++ {
			if s[i].From.minus(s[i-1].To).norm() > 1e-9 {
				t.Errorf("from %g to %g: a gap before stroke %d", c.from, c.to, i)
			}
		}
	}
	if s := p.Strokes(0, p.Length())[1]; math.Abs(s.Sweep+200) > 1e-9 || s.Curve {
		t.Errorf("the arc goes through %g degrees", s.Sweep)
	}
	// The middle of a cubic stretch, by its Bezier form, is a place of the path.
	s := p.Strokes(1.5, 1.8)
	for _, k := range s {
		if !k.Curve {
			t.Fatalf("%v is no curve", k)
		}
		mid := k.From.plus(k.C1.times(3)).plus(k.C2.times(3)).plus(k.To).times(1.0 / 8)
		if d, _ := p.Nearest(mid); d > 2e-5 {
			t.Errorf("the middle of a curve is %g m off", d)
		}
	}
}
