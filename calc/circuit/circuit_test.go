package circuit

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"sync"
	"testing"
)

// constant is a pixel that draws amps at any voltage above 0.2 V.
func constant(amps float64) *Law {
	return &Law{Channels: []Channel{{Amps: amps, Forward: 0.1, Headroom: 0.1}}}
}

func mustSolve(t *testing.T, c *Circuit) *Solution {
	t.Helper()
	sol, err := Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, want %.12g within %g", what, got, want, tolerance)
	}
}

// spaced is n constant-current pixels in a row whose first sits a whole pitch from the feed: half a pitch of
// rail stands before the strip, and behind it where its end is fed too.
func spaced(n int, amps float64, begin, end []float64) *Circuit {
	const pitch = 1.0 / 60
	rail := 0.017241 / (0.035 * 3) // ohm/m; 35 um copper 3 mm wide, 0.017241 ohm mm2/m: IEC 60028
	c := &Circuit{Nodes: 4}
	s := Strip{Pixels: n, Pitch: pitch, Rail: rail, Law: constant(amps), Share: []float64{1}}
	feed := func(supply []float64, at float64, lead float64) {
		k := c.Nodes - 4
		c.Nodes += 4
		c.Sources = append(c.Sources, Source{k, k + 1, supply[0]})
		c.Wires = append(c.Wires, Wire{A: k, B: k + 2, Ohms: lead + rail*pitch/2}, Wire{A: k + 1, B: k + 3, Ohms: lead + rail*pitch/2})
		s.Taps = append(s.Taps, Tap{at, k + 2, k + 3})
	}
	lead := 0.0
	if len(begin) > 1 {
		lead = begin[1]
	}
	feed(begin, 0, lead)
	if end != nil {
		feed(end, float64(n)*pitch, 0)
	}
	c.Strips = []Strip{s}
	return c
}

// The rows are worked arithmetic series: the current in the rail falls by one pixel's at each pixel, so
// the drop is a sum of 1 to N. Their printed digits give the tolerance where want is a printed number.
func TestArithmeticSeries(t *testing.T) {
	const pitch = 1.0 / 60
	loop := 2 * 0.017241 / (0.035 * 3) // ohm/m, both rails
	t.Run("one feed", func(t *testing.T) {
		v := mustSolve(t, spaced(60, 0.05, []float64{5}, nil)).Strips[0].Volts()
		near(t, "the drop at the last pixel", 5-v[59], 0.05*loop*pitch*60*61/2, 1e-9)
		near(t, "the drop at the last pixel, printed", 5-v[59], 0.5008, 0.5e-4)
		near(t, "the last pixel, printed", v[59], 4.499, 0.5e-3)
		near(t, "the drop at the first pixel, printed", 5-v[0], 0.01642, 0.5e-5)
	})
	t.Run("half a pitch to the first pixel", func(t *testing.T) {
		c := spaced(60, 0.05, []float64{5}, nil)
		c.Strips[0].Taps = []Tap{{0, 0, 1}}
		v := mustSolve(t, c).Strips[0].Volts()
		near(t, "the drop at the last pixel", 5-v[59], 0.05*loop*pitch*60*60/2, 1e-9)
		near(t, "the drop at the last pixel, printed", 5-v[59], 0.4926, 0.5e-4)
	})
	t.Run("both ends", func(t *testing.T) {
		v := mustSolve(t, spaced(120, 0.05, []float64{5}, []float64{5})).Strips[0].Volts()
		for k := range 120 {
			n := float64(k + 1)
			near(t, "the drop", 5-v[k], 0.05*loop*pitch*n*(121-n)/2, 1e-9)
		}
		one := mustSolve(t, spaced(120, 0.05, []float64{5}, nil)).Strips[0].Volts()
		near(t, "the worst drop, printed", 5-v[59], 0.5008, 0.5e-4)
		near(t, "from one end only, printed", 5-one[119], 1.987, 0.5e-3)
		near(t, "the ratio, printed", (5-one[119])/(5-v[60]), 3.967, 0.5e-3)
	})
	t.Run("lead and strip", func(t *testing.T) {
		// 2.0 m of 18 AWG one way: 20.948 mohm/m by ASTM B258 and IEC 60028.
		sol := mustSolve(t, spaced(60, 0.05, []float64{5, 2 * 0.020948}, nil))
		v := sol.Strips[0].Volts()
		near(t, "the supply's current", sol.SourceAmps[0], 3, 1e-12)
		near(t, "the lead's drop, printed", 3*4*0.020948, 0.2514, 0.5e-4)
		near(t, "the first pixel, printed", v[0], 4.732, 0.5e-3)
		near(t, "the last pixel, printed", v[59], 4.248, 0.5e-3)
		near(t, "the last pixel", v[59], 5-3*4*0.020948-0.05*loop*pitch*60*61/2, 1e-9)
	})
	t.Run("two supplies", func(t *testing.T) {
		ohms := loop * 121 / 60
		for _, row := range []struct {
			name          string
			amps          float64
			a, b          float64 // A, printed
			tolA, tolB    float64
			lowest, pixel float64
		}{
			{"lit", 0.02, 1.351, 1.049, 0.5e-3, 0.5e-3, 4.747, 68},
			{"dark: the weaker is back-fed", 0.001, 0.2110, -0.09100, 0.5e-4, 0.5e-5, 0, 0},
		} {
			sol := mustSolve(t, spaced(120, row.amps, []float64{5}, []float64{4.9}))
			near(t, row.name+": supply A, printed", sol.SourceAmps[0], row.a, row.tolA)
			near(t, row.name+": supply B, printed", sol.SourceAmps[1], row.b, row.tolB)
			near(t, row.name+": supply A", sol.SourceAmps[0], 120*row.amps/2+0.1/ohms, 1e-9)
			if row.pixel > 0 {
				low, at := math.Inf(1), 0
				for k, v := range sol.Strips[0].Volts() {
					if v < low {
						low, at = v, k
					}
				}
				near(t, row.name+": the lowest voltage, printed", low, row.lowest, 0.5e-3)
				near(t, row.name+": where, counted from 1", float64(at+1), row.pixel, 0)
			}
		}
	})
}

func TestOhm(t *testing.T) {
	sol := mustSolve(t, &Circuit{Nodes: 2, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 1, Ohms: 2.5}}})
	near(t, "the source", sol.SourceAmps[0], 2, 1e-15)
	near(t, "the wire", sol.WireAmps[0], 2, 1e-15)

	// A bridge in balance: no current across, whatever the bridge.
	sol = mustSolve(t, &Circuit{Nodes: 4, Sources: []Source{{0, 1, 6}}, Wires: []Wire{
		{A: 0, B: 2, Ohms: 1}, {A: 2, B: 1, Ohms: 2}, {A: 0, B: 3, Ohms: 10}, {A: 3, B: 1, Ohms: 20}, {A: 2, B: 3, Ohms: 0.123},
	}})
	near(t, "the bridge", sol.WireAmps[4], 0, 1e-12)
	near(t, "the middle", sol.Volts[2]-sol.Volts[1], 4, 1e-12)
}

func TestSupplies(t *testing.T) {
	t.Run("stacked", func(t *testing.T) {
		c := &Circuit{Nodes: 3, Sources: []Source{{0, 1, 5}, {1, 2, 7}}, Sinks: []Sink{{0, 2, 0.5, 0}}}
		sol := mustSolve(t, c)
		near(t, "the sum", sol.Volts[0]-sol.Volts[2], 12, 1e-12)
		near(t, "the reference", sol.Volts[1], 0, 0)
		near(t, "the second", sol.SourceAmps[1], 0.5, 1e-12)
	})
	t.Run("equal in parallel share", func(t *testing.T) {
		c := &Circuit{Nodes: 2, Sources: []Source{{0, 1, 5}, {0, 1, 5}}, Sinks: []Sink{{0, 1, 3, 0}}}
		sol := mustSolve(t, c)
		near(t, "the first", sol.SourceAmps[0], 1.5, 1e-12)
		near(t, "the second", sol.SourceAmps[1], 1.5, 1e-12)
		b, err := Any(c, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "the bound", b.Sources[1], 1.5, 1e-12)
	})
	t.Run("apart", func(t *testing.T) {
		c := &Circuit{Nodes: 4, Sources: []Source{{0, 1, 5}, {2, 3, 12}}, Sinks: []Sink{{0, 1, 1, 0}, {2, 3, 2, 0}, {0, 3, 9, 0}}}
		sol := mustSolve(t, c)
		near(t, "the second reference", sol.Volts[3], 0, 0)
		near(t, "the first", sol.SourceAmps[0], 1, 1e-12)
		near(t, "the second", sol.SourceAmps[1], 2, 1e-12)
		near(t, "a load between both without a way back", sol.SinkAmps[2], 0, 0)
	})
	t.Run("a load between both with a way back", func(t *testing.T) {
		c := &Circuit{
			Nodes: 4, Sources: []Source{{0, 1, 5}, {2, 3, 5}},
			Sinks: []Sink{{0, 3, 1, 0}, {2, 1, 2, 0}}, // 10 V over two loads in series; the larger is starved
		}
		sol := mustSolve(t, c)
		near(t, "the first load", sol.SinkAmps[0], 1, 1e-9)
		near(t, "the second load", sol.SinkAmps[1], 1, 1e-9)
		near(t, "the second load's voltage", sol.Volts[2]-sol.Volts[1], 1.5, 1e-8)
		var open *UnboundedError
		if _, err := Any(c, nil); !errors.As(err, &open) || open.Load != "Sinks[0]" {
			t.Errorf("Any says %v, want an UnboundedError for Sinks[0]", err)
		}
	})
	t.Run("back-fed through a rail of plus only", func(t *testing.T) {
		// The strip has no minus; its plus rail still joins two supplies with a common minus.
		c := &Circuit{
			Nodes: 3, Sources: []Source{{0, 1, 5}, {2, 1, 4}},
			Strips: []Strip{{Pixels: 10, Pitch: 0.1, Rail: 0.5, Law: lawRGB, Taps: []Tap{{0, 0, -1}, {1, 2, -1}}}},
		}
		sol := mustSolve(t, c)
		near(t, "the rail", sol.Strips[0].RailAmps, 2, 1e-12)
		near(t, "the weaker supply", sol.SourceAmps[1], -2, 1e-12)
		if sol.Strips[0].Powered {
			t.Error("the strip counts as powered")
		}
	})
}

func TestUnpowered(t *testing.T) {
	strip := func(taps ...Tap) Strip {
		return Strip{Pixels: 5, Pitch: 0.02, Rail: 0.2, Law: lawRGB, Share: []float64{1, 1, 1}, Taps: taps}
	}
	for _, row := range []struct {
		name        string
		plus, minus float64 // potentials of nodes 2 and 3
		c           *Circuit
	}{
		{"no source", 0, 0, &Circuit{Nodes: 4, Wires: []Wire{{A: 0, B: 2, Ohms: 1}, {A: 1, B: 3, Ohms: 1}}, Strips: []Strip{strip(Tap{0, 2, 3})}}},
		{"no tap", 0, 0, &Circuit{Nodes: 2, Sources: []Source{{0, 1, 5}}, Strips: []Strip{strip()}}},
		{"plus only", 5, 0, &Circuit{Nodes: 4, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 2, Ohms: 1}}, Strips: []Strip{strip(Tap{0, 2, -1})}}},
		{"minus without a lead", 5, 5, &Circuit{Nodes: 4, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 2, Ohms: 1}}, Strips: []Strip{strip(Tap{0, 2, 3})}}},
		{"plus without a lead", 0, 0, &Circuit{Nodes: 4, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 1, B: 3, Ohms: 1}}, Strips: []Strip{strip(Tap{0, 2, 3})}}},
		{"nothing at all", 0, 0, &Circuit{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			sol := mustSolve(t, row.c)
			for _, s := range sol.Strips {
				if s.Powered {
					t.Error("the strip counts as powered")
				}
				for k := range s.Volts() {
					near(t, "a pixel's voltage", s.Volts()[k], 0, 0)
					near(t, "a pixel's current", s.PixelAmps()[k], 0, 0)
				}
				near(t, "a pad", s.PadVolts(0.05), 0, 0)
			}
			if row.c.Nodes == 4 {
				near(t, "plus at the tap", sol.Volts[2], row.plus, 0)
				near(t, "minus at the tap", sol.Volts[3], row.minus, 0)
			}
			b, err := Any(row.c, nil)
			if err != nil {
				t.Fatal(err)
			}
			for s, x := range b.Strips {
				if x.Powered || b.StripPattern(s) != nil {
					t.Error("the bound counts the strip as powered")
				}
			}
		})
	}
}

func TestConflicts(t *testing.T) {
	for _, row := range []struct {
		name          string
		c             *Circuit
		source        int
		volts, others float64
	}{
		{"two across one pair", &Circuit{Nodes: 2, Sources: []Source{{0, 1, 5}, {0, 1, 5.1}}}, 1, 5.1, 5},
		{"turned round", &Circuit{Nodes: 2, Sources: []Source{{0, 1, 5}, {1, 0, 5}}}, 1, 5, -5},
		{"shorted", &Circuit{Nodes: 1, Sources: []Source{{0, 0, 5}}}, 0, 5, 0},
		{"ring of three", &Circuit{Nodes: 3, Sources: []Source{{0, 1, 5}, {1, 2, 5}, {0, 2, 12}}}, 2, 12, 10},
		{"shorted by taps", &Circuit{Nodes: 3, Sources: []Source{{0, 1, 5}}, Strips: []Strip{{
			Pixels: 3, Pitch: 0.1, Rail: 1, Law: lawRGB, Taps: []Tap{{0.1, 0, 2}, {0.1, 1, -1}},
		}}}, 0, 5, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Solve(row.c)
			var e *ConflictError
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want a ConflictError", err)
			}
			if e.Source != row.source || e.Volts != row.volts || e.Others != row.others {
				t.Errorf("got %+v, want source %d with %g V against %g V", *e, row.source, row.volts, row.others)
			}
		})
	}
}

func TestBadInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := func() *Circuit {
		law := &Law{Idle: 0.001, Channels: []Channel{{0.02, 3, 0.3}, {0.02, 2, 0.3}}}
		return &Circuit{
			Nodes: 4, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 2, Ohms: 1}, {A: 1, B: 3, Ohms: 1}}, Sinks: []Sink{{0, 1, 1, 3}},
			Strips: []Strip{{Pixels: 10, Pitch: 0.1, Rail: 0.2, Law: law, Share: []float64{1, 1}, Taps: []Tap{{0, 2, 3}, {0.5, 2, -1}}}},
		}
	}
	if _, err := Solve(good()); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		field string
		spoil func(*Circuit)
	}{
		{"Nodes", func(c *Circuit) { c.Nodes = -1 }},
		{"Sources[0].Plus", func(c *Circuit) { c.Sources[0].Plus = 4 }},
		{"Sources[0].Minus", func(c *Circuit) { c.Sources[0].Minus = -1 }},
		{"Sources[0].Volts", func(c *Circuit) { c.Sources[0].Volts = -5 }},
		{"Sources[0].Volts", func(c *Circuit) { c.Sources[0].Volts = inf }},
		{"Wires[1].A", func(c *Circuit) { c.Wires[1].A = 99 }},
		{"Wires[1].B", func(c *Circuit) { c.Wires[1].B = -1 }},
		{"Wires[1].Ohms", func(c *Circuit) { c.Wires[1].Ohms = 0 }},
		{"Wires[1].Ohms", func(c *Circuit) { c.Wires[1].Ohms = nan }},
		{"Sinks[0].Plus", func(c *Circuit) { c.Sinks[0].Plus = -1 }},
		{"Sinks[0].Minus", func(c *Circuit) { c.Sinks[0].Minus = 17 }},
		{"Sinks[0].Amps", func(c *Circuit) { c.Sinks[0].Amps = -1 }},
		{"Sinks[0].Knee", func(c *Circuit) { c.Sinks[0].Knee = nan }},
		{"Strips[0].Pixels", func(c *Circuit) { c.Strips[0].Pixels = 0 }},
		{"Strips[0].Pixels", func(c *Circuit) { c.Strips[0].Pixels = MaxPixels + 1 }},
		{"Strips[0].Pitch", func(c *Circuit) { c.Strips[0].Pitch = 0 }},
		{"Strips[0].Pitch", func(c *Circuit) { c.Strips[0].Pitch = nan }},
		{"Strips[0].Rail", func(c *Circuit) { c.Strips[0].Rail = -0.2 }},
		{"Strips[0].Rail", func(c *Circuit) { c.Strips[0].Rail = inf }},
		{"Strips[0].Law", func(c *Circuit) { c.Strips[0].Law = nil }},
		{"Strips[0].Law.Idle", func(c *Circuit) { c.Strips[0].Law.Idle = -1 }},
		{"Strips[0].Law.Channels[1].Amps", func(c *Circuit) { c.Strips[0].Law.Channels[1].Amps = nan }},
		{"Strips[0].Law.Channels[1].Forward", func(c *Circuit) { c.Strips[0].Law.Channels[1].Forward = -2 }},
		{"Strips[0].Law.Channels[1].Headroom", func(c *Circuit) { c.Strips[0].Law.Channels[1].Headroom = inf }},
		{"the length of Strips[0].Share", func(c *Circuit) { c.Strips[0].Share = []float64{1} }},
		{"Strips[0].Share[1]", func(c *Circuit) { c.Strips[0].Share[1] = 1.01 }},
		{"the length of Strips[0].Each", func(c *Circuit) { c.Strips[0].Each = make([][]float64, 9) }},
		{"the length of Strips[0].Each[3]", func(c *Circuit) { c.Strips[0].Each = make([][]float64, 10); c.Strips[0].Each[3] = []float64{1} }},
		{"Strips[0].Each[3][0]", func(c *Circuit) { c.Strips[0].Each = make([][]float64, 10); c.Strips[0].Each[3] = []float64{nan, 1} }},
		{"Strips[0].Taps[0].At", func(c *Circuit) { c.Strips[0].Taps[0].At = -0.1 }},
		{"Strips[0].Taps[1].At", func(c *Circuit) { c.Strips[0].Taps[1].At = 1.01 }},
		{"Strips[0].Taps[1].At", func(c *Circuit) { c.Strips[0].Taps[0].At = 0.6 }},
		{"Strips[0].Taps[1].Plus", func(c *Circuit) { c.Strips[0].Taps[1].Plus = 4 }},
		{"Strips[0].Taps[1].Minus", func(c *Circuit) { c.Strips[0].Taps[1].Minus = -2 }},
	} {
		t.Run(row.field, func(t *testing.T) {
			c := good()
			row.spoil(c)
			_, err := Solve(c)
			var e *InputError
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want an InputError", err)
			}
			if e.Field != row.field {
				t.Errorf("the error names %s: %v", e.Field, err)
			}
			if !strings.Contains(err.Error(), "it must be ") {
				t.Errorf("no limit in %q", err)
			}
		})
	}

	n, err := Prepare(good())
	if err != nil {
		t.Fatal(err)
	}
	for field, d := range map[string]Drive{
		"the length of the drive":      make(Drive, 2),
		"the length of Drive[0].Share": {{Share: []float64{1, 1, 1}}},
		"Drive[0].Share[0]":            {{Share: []float64{nan, 1}}},
		"the length of Drive[0].Each":  {{Each: [][]float64{}}},
	} {
		var e *InputError
		if _, err := n.Solve(d); !errors.As(err, &e) || e.Field != field {
			t.Errorf("got %v, want an InputError for %s", err, field)
		}
	}
	for field, b := range map[string][]Budget{
		"Budgets[0].Amps":      {{Amps: nan}},
		"Budgets[1].Amps":      {{}, {Amps: -1}},
		"Budgets[0].Strips[0]": {{Amps: 1, Strips: []int{1}}},
		"Budgets[1].Strips[0]": {{Amps: 1, Strips: []int{0}}, {Amps: 1, Strips: []int{0}}},
	} {
		var e *InputError
		if _, err := n.Any(b); !errors.As(err, &e) || e.Field != field {
			t.Errorf("got %v, want an InputError for %s", err, field)
		}
	}
}

func TestLaw(t *testing.T) {
	rgb := &Law{Idle: 0.003, Channels: []Channel{{0.02, 2, 0.5}, {0.01, 3, 0.2}}}
	series := &Law{Idle: 0.003, Series: true, Channels: []Channel{{0.02, 2, 0.5}, {0.01, 3, 0.2}}}
	step := &Law{Channels: []Channel{{0.02, 2, 0}}}
	for _, row := range []struct {
		name        string
		law         *Law
		v           float64
		share       []float64
		amps, slope float64
	}{
		{"below 0", rgb, -1, []float64{1, 1}, 0, 0},
		{"idle only", rgb, 1.5, []float64{1, 1}, 0.0015, 0.001},
		{"in the first headroom", rgb, 2.25, []float64{1, 1}, 0.00225 + 0.01, 0.001 + 0.04},
		{"first at half share", rgb, 2.75, []float64{0.5, 1}, 0.00275 + 0.01, 0.001},
		{"in the second headroom", rgb, 3.1, []float64{1, 1}, 0.003 + 0.02 + 0.005, 0.05},
		{"ample", rgb, 5, []float64{1, 0.5}, 0.003 + 0.02 + 0.005, 0},
		{"dark", rgb, 5, nil, 0.003, 0},
		{"series, in the headroom", series, 5.25, []float64{1, 1}, 0.003 + 0.01, 0.04},
		{"series, largest share", series, 6, []float64{0.25, 1}, 0.003 + 0.01, 0},
		{"step, half way", step, 2 + MinHeadroom/2, []float64{1}, 0.01, 0.02 / MinHeadroom},
		{"step, above", step, 2 + 2*MinHeadroom, []float64{1}, 0.02, 0},
		{"step, below", step, 2 - 1e-9, []float64{1}, 0, 0},
	} {
		near(t, row.name+": the current", row.law.Current(row.v, row.share), row.amps, 1e-12)
		near(t, row.name+": the slope", row.law.Slope(row.v, row.share), row.slope, 1e-9)
	}
	near(t, "nominal", rgb.Nominal([]float64{1, 0.5}), 0.028, 1e-15)
}

// A step of current in a load line: the pixel sits on the step. By hand: (5-V)/100 = 0.02*(V-3.3)/w.
func TestStepLaw(t *testing.T) {
	for _, headroom := range []float64{0, 1e-12, MinHeadroom, 0.01} {
		c := &Circuit{
			Nodes: 4, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 2, Ohms: 50}, {A: 1, B: 3, Ohms: 50}},
			Strips: []Strip{{
				Pixels: 1, Pitch: 0.1, Rail: 0.1, Law: &Law{Channels: []Channel{{0.02, 3.3, headroom}}},
				Share: []float64{1}, Taps: []Tap{{0.05, 2, 3}},
			}},
		}
		w := max(headroom, MinHeadroom)
		sol := mustSolve(t, c)
		near(t, "the pixel", sol.Strips[0].Volts()[0], (0.05+0.02*3.3/w)/(0.01+0.02/w), 1e-9)
		near(t, "a pad", sol.Strips[0].PadVolts(0.08), sol.Strips[0].Volts()[0], 1e-12)
		checkBalance(t, c, sol)
	}
	// A long run on the step: many pixels hover at one voltage.
	c := spaced(2000, 0.02, []float64{5}, []float64{5})
	c.Strips[0].Law = &Law{Channels: []Channel{{0.02, 3.3, 0}}}
	checkBalance(t, c, mustSolve(t, c))
}

func TestRandomBalance(t *testing.T) {
	most := 0
	for seed := range uint64(400) {
		c := randomCircuit(rand.New(rand.NewPCG(seed, 1)), 150)
		sol := mustSolve(t, c)
		most = max(most, sol.Iterations)
		checkBalance(t, c, sol)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("at most %d iterations", most)
}

// More volts at the only supply never take any from a pixel.
func TestMoreVoltsNeverLowerAPixel(t *testing.T) {
	tried := 0
	for seed := range uint64(200) {
		c := randomCircuit(rand.New(rand.NewPCG(seed, 11)), 80)
		if len(c.Sources) > 1 {
			continue
		}
		tried++
		before := mustSolve(t, c)
		c.Sources[0].Volts *= 1.05
		after := mustSolve(t, c)
		for s := range c.Strips {
			for k, v := range before.Strips[s].Volts() {
				if after.Strips[s].Volts()[k] < v-1e-9 {
					t.Fatalf("seed %d: strip %d pixel %d falls from %.9f to %.9f V", seed, s, k, v, after.Strips[s].Volts()[k])
				}
			}
		}
	}
	if tried < 20 {
		t.Errorf("only %d circuits have one supply", tried)
	}
}

func TestReversal(t *testing.T) {
	for seed := range uint64(100) {
		c := randomCircuit(rand.New(rand.NewPCG(seed, 12)), 80)
		before := mustSolve(t, c)
		for i := range c.Strips {
			s := &c.Strips[i]
			s.Taps, s.Each = append([]Tap(nil), s.Taps...), append([][]float64(nil), s.Each...)
			if len(s.Each) == 0 {
				s.Each = nil
			}
			reverse(s.Taps)
			reverse(s.Each)
			for j := range s.Taps {
				s.Taps[j].At = float64(s.Pixels)*s.Pitch - s.Taps[j].At
			}
		}
		after := mustSolve(t, c)
		for i := range c.Strips {
			n := c.Strips[i].Pixels
			for k := range n {
				near(t, "a pixel of the strip turned round", after.Strips[i].Volts()[n-1-k], before.Strips[i].Volts()[k], 1e-9)
			}
			near(t, "its greatest rail current", after.Strips[i].RailAmps, before.Strips[i].RailAmps, 1e-7)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

func reverse[T any](s []T) {
	for i, j := 0, len(s)-1; i < j; i, j = i+1, j-1 {
		s[i], s[j] = s[j], s[i]
	}
}

func TestPads(t *testing.T) {
	c := &Circuit{
		Nodes: 5, Sources: []Source{{0, 1, 5}}, Wires: []Wire{{A: 0, B: 2, Ohms: 0.1}, {A: 1, B: 3, Ohms: 0.3}, {A: 0, B: 4, Ohms: 0.05}},
		Strips: []Strip{{
			Pixels: 10, Pitch: 0.1, Rail: 0.4, Law: constant(0.1), Share: []float64{1},
			Taps: []Tap{{0.3, 2, 3}, {0.75, 4, -1}},
		}},
	}
	sol := mustSolve(t, c)
	checkBalance(t, c, sol)
	s := &sol.Strips[0]
	plus, minus := s.Pad(0.3)
	near(t, "plus at the feed", plus, sol.Volts[2], 1e-12)
	near(t, "minus at the feed", minus, sol.Volts[3], 1e-12)
	plus, _ = s.Pad(0.75)
	near(t, "plus at the feed of plus only", plus, sol.Volts[4], 1e-12)
	for k, v := range s.Volts() {
		near(t, "a pixel's pad", s.PadVolts((float64(k)+0.5)*0.1), v, 1e-12)
	}
	near(t, "the start", s.PadVolts(0), s.Volts()[0], 1e-12)
	near(t, "before the start", s.PadVolts(-1), s.Volts()[0], 1e-12)
	near(t, "past the end", s.PadVolts(2), s.Volts()[9], 1e-12)
	near(t, "between two pixels", s.PadVolts(0.2), (s.Volts()[1]+s.Volts()[2])/2, 1e-12)
	// All minus current leaves at 0.3 m: that of the seven pixels on its right is the greatest.
	near(t, "the greatest rail current", s.RailAmps, 0.7, 1e-12)
	near(t, "its place", s.RailAt, 0.3, 0)
}

func TestNetworkSolvesDrives(t *testing.T) {
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 13))
		c := randomCircuit(r, 80)
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		var d Drive
		for i := range c.Strips {
			one := make([]float64, len(c.Strips[i].Law.Channels))
			for ch := range one {
				one[ch] = r.Float64()
			}
			if r.IntN(3) == 0 {
				one = nil // dark
			}
			d = append(d, StripDrive{Share: one})
		}
		var wait sync.WaitGroup
		got := make([]*Solution, 4)
		for i := range got {
			wait.Go(func() { got[i], _ = n.Solve(d) })
		}
		wait.Wait()
		other := *c
		other.Strips = append([]Strip(nil), c.Strips...)
		for i := range d {
			other.Strips[i].Share, other.Strips[i].Each = d[i].Share, nil
		}
		want := mustSolve(t, &other)
		for _, g := range got {
			if !reflect.DeepEqual(g, want) {
				t.Fatalf("seed %d: the network's solution differs from that of the circuit", seed)
			}
		}
	}
}
