package figures

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Three rows of 1 m, 30 cm apart, each from left to right; worked by hand: the
// way back to the left is the root of 1 + 0.3^2, 1.04403 m.
const rows = `plan "rows" {}

surface "wall" {
  width  = "2 m"
  height = "2 m"
}
surface "other" {
  width  = "2 m"
  height = "2 m"
}
strip "s" { like = catalog.ws2812b_5v_60 }

run "low" {
  strip   = strip.s
  on      = surface.wall
  through = [["0 m", "0 m"], ["1 m", "0 m"]]
}
run "mid" {
  strip   = strip.s
  on      = surface.wall
  through = [["0 m", "30 cm"], ["1 m", "30 cm"]]
}
run "top" {
  strip   = strip.s
  on      = surface.wall
  through = [["0 m", "60 cm"], ["1 m", "60 cm"]]
}
run "aside" {
  strip   = strip.s
  on      = surface.other
  through = [["0 m", "0 m"], ["1 m", "0 m"]]
}
run "turned" {
  strip   = strip.s
  on      = surface.wall
  through = [["1 m", "90 cm"], ["0 m", "90 cm"]]
}
run "loose" {
  strip  = strip.s
  length = "1 m"
}
`

func TestTurns(t *testing.T) {
	back := math.Hypot(1, 0.3)
	for _, c := range []struct {
		runs            string
		written, turned []float64 // m
		fromEnd         []bool    // nil where the order cannot be judged
		raster          bool
	}{
		{"run.low, run.mid, run.top", []float64{back, back}, []float64{0.3, 0.3}, []bool{false, true, false}, true},
		{"run.low, from_end(run.mid), run.top", []float64{0.3, 0.3}, []float64{0.3, 0.3}, []bool{false, true, false}, false},
		{"from_end(run.low), from_end(run.mid), from_end(run.top)", []float64{back, back}, []float64{0.3, 0.3}, []bool{true, false, true}, true},
		{"run.low, run.mid", []float64{back}, []float64{0.3}, []bool{false, true}, false}, // of two equal turns the later run is turned
		{"run.mid, run.top, run.turned", []float64{back, 0.3}, []float64{0.3, 0.3}, []bool{true, false, false}, false},
		{"run.low", nil, nil, nil, false},
		{"run.low, run.aside", nil, nil, nil, false},
		{"run.low, run.loose", nil, nil, nil, false},
	} {
		f := figuresOf(t, decode(t, "rows", rows+"order \"o\" { runs = ["+c.runs+"] }\n"), nil)
		o := f.Orders[0]
		gaps, fromEnd, ok := o.Turns()
		if ok != (c.fromEnd != nil) || !slices.Equal(fromEnd, c.fromEnd) || len(gaps) != len(c.written) {
			t.Errorf("%s: %v turned, %v, %d gaps", c.runs, fromEnd, ok, len(gaps))
			continue
		}
		for i, g := range gaps {
			if math.Abs(g.Written-c.written[i]) > 1e-9 || math.Abs(g.Turned-c.turned[i]) > 1e-9 {
				t.Errorf("%s: gap %d is %.6f m, turned %.6f m; want %.6f and %.6f", c.runs, i, g.Written, g.Turned, c.written[i], c.turned[i])
			}
			if !strings.Contains(c.runs, g.Before.ID()) || g.Before == g.After {
				t.Errorf("%s: gap %d lies between %s and %s", c.runs, i, g.Before.ID(), g.After.ID())
			}
		}
		if o.Raster() != c.raster {
			t.Errorf("%s: a raster: %v", c.runs, !c.raster)
		}
	}
}

func TestJump(t *testing.T) {
	for _, c := range []struct {
		longest, left float64 // m
		want          bool
	}{
		{1, 0.3, true}, {1, 0.5, false}, {1, 0.49, true}, {0.1, 0, false}, {0.11, 0, true},
	} {
		if Jump(c.longest, c.left) != c.want {
			t.Errorf("%g m against %g m is a jump: %v", c.longest, c.left, !c.want)
		}
	}
}
