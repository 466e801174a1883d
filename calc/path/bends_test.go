package path

import (
	"math"
	"testing"
)

func TestBends(t *testing.T) {
	// 1 m up, a quarter to the right of 10 cm, 50 cm on, two eighths to the left of 20 cm each, a slight bend, 10 cm.
	p, err := New(Point{}, 90,
		Line{1}, Arc{Radius: 0.1, Sweep: 90, Turn: Right}, Line{0.5},
		Arc{Radius: 0.2, Sweep: 45, Turn: Left}, Arc{Radius: 0.2, Sweep: 45, Turn: Left}, Line{0.1},
		Arc{Radius: 5, Sweep: 2, Turn: Left}, Line{0.1})
	if err != nil {
		t.Fatal(err)
	}
	quarter, eighths := 0.1*math.Pi/2, 0.2*math.Pi/2
	want := []Bend{{1, 1 + quarter, -90}, {1.5 + quarter, 1.5 + quarter + eighths, 90}}
	got := p.Bends(30)
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i, w := range want {
		near(t, "from", got[i].From, w.From, 1e-12)
		near(t, "to", got[i].To, w.To, 1e-12)
		near(t, "turn", got[i].Turn, w.Turn, 1e-9)
	}
	if n := len(p.Bends(1)); n != 3 {
		t.Errorf("%d bends of a degree and more, want 3", n)
	}
	// An arch and its opposite meet where the turn changes its way.
	wave, err := Smooth([]Point{{0, 0}, {1, 1}, {2, 0}, {3, -1}, {4, 0}})
	if err != nil {
		t.Fatal(err)
	}
	b := wave.Bends(30)
	if len(b) != 2 || b[0].Turn*b[1].Turn >= 0 || math.Abs(b[0].To-wave.Length()/2) > 1e-9 {
		t.Errorf("a wave of %g m bends %v", wave.Length(), b)
	}
}
