package figures

import (
	"math"
	"testing"
)

const room = `plan "room" { mains = "230 V" }
strip "led" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = "16 AWG" }
surface "wall" {
  width  = "3 m"
  height = "2 m"
  edge {
    side   = "right"
    to     = surface.next
    radius = "10 cm"
  }
  edge {
    side = "top"
    to   = surface.ceiling
  }
}
surface "next" {
  width  = "4 m"
  height = "2 m"
}
surface "ceiling" {
  width  = "3 m"
  height = "4 m"
}
run "round" {
  strip   = strip.led
  on      = surface.wall
  through = [["2 m", "1 m"], ["4 m", "2 m"]]
}
run "up" {
  strip   = strip.led
  on      = surface.wall
  through = [["1 m", "1 m"], ["1 m", "4 m"]]
}
run "back" {
  strip   = strip.led
  on      = surface.next
  through = [["1 m", "1 m"], ["-1 m", "1 m"]]
}
joint "here" {
  on = surface.wall
  at = ["2 m", "1 m"]
}
joint "there" {
  on = surface.next
  at = ["2 m", "5 m"]
}
lead "on" {
  from = joint.here
  to   = joint.there
  wire = wire.feed
}
`

// Places along runs that pass the edges of a room, worked out by hand: the next
// wall comes forward at a square angle from the right edge of the first, the
// ceiling from its upper one.
func TestPlacesInARoom(t *testing.T) {
	f := Prepare(decode(t, "room", room), NewMemo())
	for _, tt := range []struct {
		run  int
		at   float64
		want [3]float64
	}{
		{0, 0, [3]float64{2, 1, 0}},
		{0, math.Hypot(1, 0.5), [3]float64{3, 1.5, 0}},
		{0, math.Hypot(2, 1), [3]float64{3, 2, 1}},
		{1, 0.5, [3]float64{1, 1.5, 0}},
		{1, 3, [3]float64{1, 2, 2}},
		{2, 0, [3]float64{1, 1, 0}},
		{2, 2, [3]float64{0, 1, 1}}, // seen from the next wall, the first one comes forward on its left
	} {
		r := f.Runs[tt.run]
		x, y, z, ok := r.XYZ(tt.at)
		if got := [3]float64{x, y, z}; !ok || math.Abs(got[0]-tt.want[0])+math.Abs(got[1]-tt.want[1])+math.Abs(got[2]-tt.want[2]) > 1e-9 {
			t.Errorf("%s at %g m: %v, want %v", r.ID(), tt.at, got, tt.want)
		}
		if by := r.Outside(); by != 0 {
			t.Errorf("%s lies %g m outside", r.ID(), by)
		}
	}
	folds := f.Runs[0].Folds()
	if len(folds) != 1 {
		t.Fatalf("%d folds, want 1", len(folds))
	}
	x, a := folds[0], math.Atan(0.5)
	for _, n := range []struct {
		what      string
		got, want float64
	}{
		{"its place", x.At, math.Hypot(1, 0.5)}, {"fold", x.Bend, 90}, {"off the square", x.Oblique, a * 180 / math.Pi},
		{"radius", x.Radius, 0.1 / (0.8)}, {"twist", x.Twist, 90 / math.Sqrt(5)}, // tan a = 1/2: cos² a = 4/5, sin a = 1/sqrt 5
	} {
		if math.Abs(n.got-n.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", n.what, n.got, n.want)
		}
	}
	if up := f.Runs[1].Folds(); len(up) != 1 || up[0].Radius != 0 || up[0].Twist > 1e-9 {
		t.Errorf("to the ceiling: %+v", up)
	}
	if back := f.Runs[2].Folds(); len(back) != 1 || math.Abs(back[0].At-1) > 1e-9 {
		t.Errorf("from the next wall: %+v", back)
	}
	// The lead goes 1 m to the corner, 2 m on and 4 m up: 5 m along the walls, a twentieth more.
	if l := f.Leads[0]; !l.Estimated || l.Length < 5 || l.Length > 6 {
		t.Errorf("lead: %g m, estimated %v", l.Length, l.Estimated)
	}
}

// On a helix the bend and twist of a strip round a corner, by the radius of curvature and the turn of the strip's normal
// about it, stepped along numerically.
func TestTwistOfAHelix(t *testing.T) {
	for _, oblique := range []float64{0, 10, 30, 45} {
		const r, n = 0.1, 200000
		sin, cos := math.Sincos(oblique * math.Pi / 180)
		// Over a fold of 90 degrees the strip goes r π/2 across the edge, in a length of that over cos; its normal points
		// away from the axis, and turns about the tangent by (t × dn) · … at each step.
		twist, last := 0.0, vector{}
		for i := range n + 1 {
			phi := math.Pi / 2 * float64(i) / n
			s, c := math.Sincos(phi)
			normal := vector{c, s, 0}
			tangent := vector{-s * cos, c * cos, sin}
			if i > 0 {
				d := normal.plus(last, -1)
				side := vector{tangent[1]*normal[2] - tangent[2]*normal[1], tangent[2]*normal[0] - tangent[0]*normal[2], tangent[0]*normal[1] - tangent[1]*normal[0]}
				twist += d[0]*side[0] + d[1]*side[1] + d[2]*side[2]
			}
			last = normal
		}
		if got, want := math.Abs(twist)*180/math.Pi, 90*sin; math.Abs(got-want) > 0.01 {
			t.Errorf("off the square by %g deg: twisted by %g deg, want %g", oblique, got, want)
		}
	}
}
