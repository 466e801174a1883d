package figures

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// worked decodes a plan without problems and works it out.
func worked(t *testing.T, text string) *Figures {
	t.Helper()
	return figuresOf(t, decode(t, "x", text), nil)
}

// figuresOf works a plan out.
func figuresOf(t testing.TB, p *schema.Plan, memo *Memo) *Figures {
	t.Helper()
	f, err := Work(t.Context(), p, memo)
	if err != nil {
		t.Error(err)
	}
	return f
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// plain is a strip of constant currents on 60 pixels a metre: 9 mA each of R, G
// and B and 1 mA idle, rails of 0.1 ohm/m.
const plain = `
strip "plain" {
  voltage         = "12 V"
  density         = "60/m"
  channels        = "RGB"
  channel_current = "9 mA"
  idle_current    = "1 mA"
  forward         = "2 V"
  rail            = "0.1 ohm/m"
}
supply "s" {
  output = "12 V"
  rating = "10 A"
}
`

func TestLeadLengthsFromPlaces(t *testing.T) {
	const places = `
surface "wall" {
  width  = "5 m"
  height = "4 m"
}
surface "ceiling" {
  width  = "5 m"
  height = "5 m"
}
supply "s" {
  output = "5 V"
  rating = "5 A"
  on     = surface.wall
  at     = ["0 m", "0 m"]
}
joint "j" {
  on = surface.wall
  at = ["3 m", "4 m"]
}
joint "same" {
  on = surface.wall
  at = ["0 m", "0 m"]
}
joint "above" {
  on = surface.ceiling
  at = ["3 m", "4 m"]
}
joint "nowhere" {}
run "r" {
  strip   = catalog.ws2812b_5v_60
  on      = surface.wall
  through = [["1 m", "0 m"], ["1 m", "2 m"]]
}
lead "x" {
  from = FROM
  to   = TO
  wire = catalog.awg_18
}
`
	for _, tc := range []struct {
		from, to, policy string
		length           float64 // m, 0 where not known
		why              string
	}{
		{"supply.s.out", "joint.j", "", 5 * 1.15, ""},
		{"joint.j", "supply.s.out", "", 5 * 1.15, ""},
		{"supply.s.out", "joint.j", "policy {\n  slack = \"0 %\"\n  tail  = \"0 cm\"\n}\n", 5, ""},
		{"supply.s.out", "joint.j", `policy { slack = "0 %" }`, 5 + 2*0.1, ""}, // the tails are left
		{"supply.s.out", "run.r.start", "", 1 + 2*0.1, ""},                     // more than 15 %
		{"supply.s.out", "run.r.start", `policy { tail = "7 cm" }`, 1 * 1.15, ""},
		{"supply.s.out", "run.r.end", "", math.Sqrt(5) * 1.15, ""},
		{"joint.j", `run.r["1.004 m"]`, "", math.Hypot(2, 3) * 1.15, ""}, // the pad at 1 m
		{"joint.j", "run.r[60]", "", math.Hypot(2, 3) * 1.15, ""},
		{"supply.s.out", "joint.nowhere", "", 0, "no length is given, and the places of its two ends are not both known"},
		{"supply.s.out", "joint.above", "", 0, "no length is given, and its two ends lie on different surfaces"},
		{"supply.s.out", "joint.same", "", 0, "no length is given, and its two ends have the same place"},
	} {
		t.Run(tc.from+" to "+tc.to, func(t *testing.T) {
			f := worked(t, `plan "x" {}`+"\n"+tc.policy+strings.NewReplacer("FROM", tc.from, "TO", tc.to).Replace(places))
			l := f.Leads[0]
			near(t, "length, m", l.Length, tc.length, 1e-9)
			if l.Why != tc.why || l.Estimated != (tc.why == "") || l.OK != (tc.why == "") {
				t.Errorf("why %q, estimated %v, ok %v", l.Why, l.Estimated, l.OK)
			}
		})
	}
}

// A place on a run snaps to the nearest pad, midway to the one nearer to the
// start, and never beyond the ends.
func TestPlacesSnapToPads(t *testing.T) {
	for _, tc := range []struct {
		strip, length, place string
		pixels               int // as counted; 0 leaves it to the length
		pad                  int // LEDs from the start
		moved                float64
	}{
		{"ws2812b_5v_60", "1 m", "start", 0, 0, 0},
		{"ws2812b_5v_60", "1 m", "end", 0, 60, 0},
		{"ws2812b_5v_60", "1 m", "[0]", 0, 0, 0},
		{"ws2812b_5v_60", "1 m", "[59]", 0, 59, 0},
		{"ws2812b_5v_60", "1 m", "[60]", 0, 60, 0},
		{"ws2812b_5v_60", "1 m", "[61]", 0, 60, -1. / 60},
		{"ws2812b_5v_60", "1 m", `["0 m"]`, 0, 0, 0},
		{"ws2812b_5v_60", "1 m", `["0.51 m"]`, 0, 31, 31./60 - 0.51},
		{"ws2812b_5v_60", "1 m", `["5 m"]`, 0, 60, -4},
		// pixels of three LEDs, a pad each 5 cm
		{"ws2811_12v_60", "1 m", "[7]", 0, 21, 0},
		{"ws2811_12v_60", "1 m", `["12 cm"]`, 0, 6, -0.02},
		{"ws2811_12v_60", "1 m", `["12.5 cm"]`, 0, 6, -0.025},
		{"ws2811_12v_60", "1 m", `["12.6 cm"]`, 0, 9, 0.024},
		{"ws2811_12v_60", "1.04 m", "end", 0, 60, 0},
		{"ws2811_12v_60", "1.04 m", `["1.04 m"]`, 0, 60, -0.04},
		// more or fewer pixels counted than fit the length
		{"ws2812b_5v_60", "1 m", "end", 65, 65, 0},
		{"ws2812b_5v_60", "1 m", "[64]", 65, 64, 0},
		{"ws2812b_5v_60", "1 m", `["1.05 m"]`, 65, 63, 0},
		{"ws2812b_5v_60", "1 m", "end", 55, 55, 0},
		{"ws2812b_5v_60", "1 m", "[58]", 55, 55, -3. / 60},
		{"ws2812b_5v_60", "1 m", `["1 m"]`, 55, 55, -5. / 60},
	} {
		t.Run(fmt.Sprint(tc.strip, " ", tc.length, " ", tc.place, " ", tc.pixels), func(t *testing.T) {
			place := "run.r" + tc.place
			if !strings.HasPrefix(tc.place, "[") {
				place = "run.r." + tc.place
			}
			pixels := ""
			if tc.pixels > 0 {
				pixels = fmt.Sprintf("  pixels = %d\n", tc.pixels)
			}
			f := worked(t, fmt.Sprintf(`plan "x" {}
joint "j" {}
run "r" {
  strip  = catalog.%s
  length = %q
%s}
lead "x" {
  from   = joint.j
  to     = %s
  wire   = catalog.awg_18
  length = "1 m"
}
`, tc.strip, tc.length, pixels, place))
			s := f.Runs[0].Snap(f.Leads[0].To.V)
			near(t, "pad, m", s.At, float64(tc.pad)/60, 1e-12)
			near(t, "moved, m", s.Moved, tc.moved, 1e-12)
			if f.Islands[0].Err != nil {
				t.Error(f.Islands[0].Err)
			}
		})
	}
}

// The end of a run and the pad behind its last pixel are one pad to the last
// digit, whatever the density and the cut, and pads reached by pixel or by
// distance are one.
func TestOnePadIsOneNode(t *testing.T) {
	for _, density := range []string{"30/m", "60/m", "74/m", "96/m", "100/m", "144/m", "18/ft", "7/in"} {
		for _, group := range []int{1, 3, 6} {
			for _, cut := range []int{1, 2, 5} {
				p := decode(t, "x", fmt.Sprintf(`plan "x" {}
strip "s" {
  voltage         = "12 V"
  density         = %q
  group           = %d
  cut             = %d
  channel_current = "5 mA"
  forward         = "2 V"
  rail            = "0.1 ohm/m"
}
run "r" {
  strip  = strip.s
  length = "1 m"
}
`, density, group, group*cut))
				r := figuresOf(t, p, nil).Runs[0]
				if !r.OK {
					continue // shorter than a cut
				}
				for n := cut; n < 400; n += cut {
					r.Pixels = n
					end := r.Snap(&schema.Point{Run: r.Run, Where: schema.AtEnd}).At
					pad := r.Snap(&schema.Point{Run: r.Run, Where: schema.AtPixel, Pixel: n}).At
					along := r.Snap(&schema.Point{Run: r.Run, Where: schema.AtDistance, Distance: schema.Quantity{SI: float64(n*group) / r.Strip.V.Density.V.SI}}).At
					if end != pad || end != along {
						t.Fatalf("%s, group %d, cut %d: %d pixels end at %v m, the pad behind them is at %v m, by distance %v m", density, group, group*cut, n, end, pad, along)
					}
				}
			}
		}
	}
	f := worked(t, `plan "x" {}`+plain+`
run "r" {
  strip  = strip.plain
  length = "1 m"
}
`+lead("a", "supply.s.out", "run.r.end", "awg_18", "1 m")+
		lead("b", "supply.s.out", "run.r[60]", "awg_18", "1 m")+
		lead("c", "supply.s.out", `run.r["99.9 cm"]`, "awg_18", "1 m")+
		lead("d", "run.r.end", "run.r[60]", "awg_18", "1 m"))
	if n := len(f.Runs[0].Rails); n != 1 {
		t.Errorf("%d rails, want 1: %+v", n, f.Runs[0].Rails)
	}
	full := f.Cases[0]
	for i, amps := range []float64{0.56, 0.56, 0.56, 0} {
		near(t, f.Leads[i].ID(), full.Leads[i].Amps, amps, 1e-9)
	}
}

func lead(name, from, to, wire, length string, more ...string) string {
	return fmt.Sprintf("lead %q {\n  from   = %s\n  to     = %s\n  wire   = catalog.%s\n  length = %q\n%s\n}\n", name, from, to, wire, length, strings.Join(more, "\n"))
}

// What each case draws: shares of 9 mA a channel and 1 mA idle for 60 pixels.
func TestOwnCases(t *testing.T) {
	const runs = `
run "a" {
  strip  = strip.plain
  length = "1 m"
}
run "b" { like = run.a }
`
	text := `plan "x" {}` + plain + runs + lead("a", "supply.s.out", "run.a.start", "awg_14", "1 m") + lead("b", "supply.s.out", "run.b.start", "awg_14", "1 m") + `
controller "c" {
  board     = catalog.esp32_devkit
  own_power = true
  ceiling   = "2 A"
  port "p" { pin = 4 }
}
signal "a" {
  from   = controller.c.port.p
  to     = run.a.start
  wire   = catalog.awg_22
  length = "1 m"
}
signal "b" {
  from   = run.a.end
  to     = run.b.end
  wire   = catalog.awg_22
  length = "1 m"
}
case "c" {
BODY
}
`
	// The run in amps: 60 * (1 mA + lit).
	amps := func(lit float64) float64 { return 60 * (1e-3 + lit) }
	// held: 2 A less 0.12 A idle are shared out by one factor.
	held := func(a, b float64) (float64, float64) {
		s := math.Min(1, (2-0.12)/(60*(a+b)))
		return amps(a * s), amps(b * s)
	}
	for _, tc := range []struct {
		body string
		a, b float64 // A lit in a pixel, before any ceiling
		held bool
	}{
		{`held = false`, 27e-3, 27e-3, false},
		{``, 27e-3, 27e-3, true},
		{`level = "50 %"`, 13.5e-3, 13.5e-3, true},
		{"color = \"#ff0000\"\n", 9e-3, 9e-3, true},
		{"color = \"#ff8000\"\nlevel = \"50 %\"\nheld = false", 9e-3 * (1 + 128./255) / 2, 9e-3 * (1 + 128./255) / 2, false},
		{`channels = { G = "30 %" }`, 2.7e-3, 2.7e-3, true},
		{"channels = { G = \"30 %\" }\ncolor = \"#ff00ff\"", 9e-3 * 2.3, 9e-3 * 2.3, true},
		{`runs = [run.b]`, 0, 27e-3, true},
		{"runs = [run.b]\nlevel = \"25 %\"\nchannels = { R = \"100 %\", B = \"20 %\" }", 0, 9e-3 * 1.2 / 4, true},
		{`level = "0 %"`, 0, 0, true},
	} {
		t.Run(tc.body, func(t *testing.T) {
			f := worked(t, strings.Replace(text, "BODY", tc.body, 1))
			c := f.Cases[2]
			a, b := amps(tc.a), amps(tc.b)
			if tc.held {
				a, b = held(tc.a, tc.b)
			}
			near(t, "run.a, A", c.Runs[0].Amps, a, 1e-9)
			near(t, "run.b, A", c.Runs[1].Amps, b, 1e-9)
			near(t, "supply, A", c.Supplies[0].Amps, a+b, 1e-9)
			near(t, "estimate, A", c.Controllers[0].Estimate, a+b, 1e-9)
			if p := f.Ports[0]; p.Pixels != 120 || f.Runs[1].First != 60 {
				t.Errorf("the port drives %d pixels, run.b from %d", p.Pixels, f.Runs[1].First)
			}
		})
	}
}

// A ceiling bounds the sum over all that a controller drives, wherever its
// supplies are; each island alone may get all of it.
func TestCeilingOverTwoIslands(t *testing.T) {
	const text = `plan "x" {}` + plain + `
supply "s2" { like = supply.s }
run "a" {
  strip  = strip.plain
  length = "1 m"
}
run "b" { like = run.a }
controller "c" {
  board     = catalog.esp32_devkit
  own_power = true
  ceiling   = "CEILING"
  port "p" { pin = 4 }
  port "q" { pin = 5 }
}
signal "a" {
  from   = controller.c.port.p
  to     = run.a.start
  wire   = catalog.awg_22
  length = "1 m"
}
signal "b" {
  from   = controller.c.port.q
  to     = run.b.start
  wire   = catalog.awg_22
  length = "1 m"
}
`
	for _, tc := range []struct {
		ceiling          string
		scale, held, any float64 // A of each run
	}{
		{"2 A", (2 - 0.12) / 3.24, 1, 1.68},          // both could take 1.88 A over idle, a run takes 1.62
		{"1 A", (1 - 0.12) / 3.24, 0.5, 0.94},        // 0.88 A over idle into one run
		{"0.1 A", 0, 0.06, 0.06},                     // below what the dark pixels draw
		{"5 A", 1, 1.68, 1.68},                       // no limit
		{"3.36 A", 1, 1.68, 1.68},                    // exactly all
		{"0.12 A", 0, 0.06, 0.06},                    // exactly nothing
		{"1.74 A", 1.62 / 3.24, 0.87, 1.68},          // exactly one run
		{"1.7399 A", 1.6199 / 3.24, 0.86995, 1.6799}, // a little less
	} {
		t.Run(tc.ceiling, func(t *testing.T) {
			f := worked(t, strings.Replace(text, "CEILING", tc.ceiling, 1)+
				lead("a", "supply.s.out", "run.a.start", "awg_14", "1 m")+lead("b", "supply.s2.out", "run.b.start", "awg_14", "1 m"))
			if len(f.Islands) != 2 {
				t.Fatalf("%d islands", len(f.Islands))
			}
			near(t, "scale", f.Cases[1].Controllers[0].Scale, tc.scale, 1e-9)
			near(t, "estimate", f.Cases[1].Controllers[0].Estimate, 2*tc.held, 1e-9)
			for i := range 2 {
				near(t, "full, A", f.Cases[0].Leads[i].Amps, 1.68, 1e-9)
				near(t, "held, A", f.Cases[1].Leads[i].Amps, tc.held, 1e-9)
				near(t, "any, A", f.Any.Leads[i].Amps, tc.any, 1e-9)
				near(t, "any, A of the supply", f.Any.Supplies[i].Amps, tc.any, 1e-9)
			}
			// One lead less and they hang together: any pattern still puts all
			// into one run, the supply sees the ceiling.
			g := worked(t, strings.Replace(text, "CEILING", tc.ceiling, 1)+
				lead("a", "supply.s.out", "run.a.start", "awg_14", "1 m")+lead("b", "supply.s.out", "run.b.start", "awg_14", "1 m"))
			near(t, "together, A of a lead", g.Any.Leads[1].Amps, tc.any, 1e-9)
			near(t, "together, A of the supply", g.Any.Supplies[0].Amps, 2*tc.held, 1e-9)
		})
	}
}

// Resistance of leads: AWG by ASTM B258 and 1/58 ohm mm2/m, 2 % more when
// stranded (NEC chapter 9 table 8); metric the greatest of IEC 60228; copper
// 0.00393/K from 20 degC (NBS Handbook 100).
func TestLeadResistance(t *testing.T) {
	awg18 := 20.948e-3 // ohm/m, NBS Handbook 100
	warm := func(c float64) float64 { return 1 + 0.00393*(c-20) }
	for _, tc := range []struct {
		name, ambient, wire, lead string
		ohms, ampacity, rise      float64 // ohm; A; K at 1.68 A: 30 K at its 6 A of the table and 40 or 60 K at a maker's 9 A, by the square
	}{
		{"solid", "20 degC", `gauge = "18 AWG"` + "\nstranded = false", ``, 2 * awg18, 6, 2.352},
		{"stranded", "20 degC", `gauge = "18 AWG"`, ``, 2 * 1.02 * awg18, 6, 2.352},
		{"the usual 25 degC", "25 degC", `gauge = "18 AWG"`, ``, 2 * 1.02 * awg18 * warm(25), 6, 2.352},
		{"warm, 70 degC insulation", "55 degC", `gauge = "18 AWG"`, ``, 2 * 1.02 * awg18 * warm(55), 6 * math.Sqrt(15./40), 2.352},
		{"cold", "-10 degC", `gauge = "18 AWG"`, ``, 2 * 1.02 * awg18 * warm(-10), 6, 2.352},
		{"three in parallel", "20 degC", `gauge = "18 AWG"`, `parallel = 3`, 2 * 1.02 * awg18 / 3, 3 * 6 * 0.7, 0.533}, // three circuits bunched, IEC 60364-5-52 table B.52.17
		{"class 5", "20 degC", `gauge = "0.75 mm2"`, ``, 2 * 26.0e-3, 6, 2.352},
		{"class 1", "20 degC", `gauge = "0.75 mm2"` + "\nstranded = false", ``, 2 * 24.5e-3, 6, 2.352},
		{"a rated wire", "20 degC", `gauge = "18 AWG"` + "\nampacity = \"9 A\"", ``, 2 * 1.02 * awg18, 9, 1.394},
		{"a rated wire in warm air", "50 degC", `gauge = "18 AWG"` + "\nampacity = \"9 A\"", ``, 2 * 1.02 * awg18 * warm(50), 9 * math.Sqrt(20./40), 1.394},                                          // 0.71 in IEC 60364-5-52 table B.52.14
		{"a rated wire of 90 degC insulation", "50 degC", `gauge = "18 AWG"` + "\nampacity = \"9 A\"\nmax_temperature = \"90 degC\"", ``, 2 * 1.02 * awg18 * warm(50), 9 * math.Sqrt(40./60), 2.091}, // 0.82 there
		{"twelve loaded cores in one jacket", "20 degC", `gauge = "18 AWG"` + "\ncores = 12\nampacity = \"9 A\"", `parallel = 6`, 2 * 1.02 * awg18 / 6, 6 * 9 * 0.5, 0.155},                          // NEC 310.15(C)(1), 10 to 20 conductors
		{"a trunk of 35 mm2", "20 degC", `gauge = "35 mm2"`, ``, 2 * 0.554e-3, 86, 0.0114},                                                                                                           // IEC 60228 class 5; IEC 60204-1 table 6, B2
		{"60 degC insulation", "45 degC", `gauge = "18 AWG"` + "\nmax_temperature = \"60 degC\"", ``, 2 * 1.02 * awg18 * warm(45), 6 * math.Sqrt(15./30), 2.352},
		{"180 degC insulation earns no more", "45 degC", `gauge = "18 AWG"` + "\nmax_temperature = \"180 degC\"", ``, 2 * 1.02 * awg18 * warm(45), 6 * math.Sqrt(25./40), 2.352},
	} {
		t.Run(tc.name, func(t *testing.T) {
			f := worked(t, fmt.Sprintf(`plan "x" { ambient = %q }
%s
wire "w" {
%s
}
run "a" {
  strip  = strip.plain
  length = "1 m"
}
lead "a" {
  from   = supply.s.out
  to     = run.a.start
  wire   = wire.w
  length = "2 m"
%s
}
`, tc.ambient, plain, tc.wire, tc.lead))
			near(t, "ohm a side", f.Leads[0].Ohms, tc.ohms, 5e-5*tc.ohms)
			near(t, "ampacity, A", f.Leads[0].Ampacity, tc.ampacity, 1e-9)
			air := f.Plan.Ambient()
			hot := tc.ohms * (1 + 0.00393*(air+tc.rise-20)) / (1 + 0.00393*(air-20))
			near(t, "drop, V", f.Cases[0].Leads[0].Drop, 2*1.68*hot, 1e-5)
			near(t, "watts", f.Cases[0].Leads[0].Watts, 2*1.68*1.68*hot, 2e-5)
		})
	}
}

// Each conductor that ends in a joint passes a contact there.
func TestContactsOfJoints(t *testing.T) {
	f := worked(t, `plan "x" { ambient = "20 degC" }`+plain+`
joint "j" { resistance = "30 mohm" }
joint "k" { resistance = "10 mohm" }
run "a" {
  strip  = strip.plain
  length = "1 m"
}
`+lead("a", "supply.s.out", "joint.j", "awg_18", "1 m")+
		lead("b", "joint.j", "joint.k", "awg_18", "1 m", "parallel = 2")+
		lead("c", "joint.k", "run.a.start", "awg_18", "1 m"))
	ohms := 1.02 * 20.948e-3
	for i, want := range []float64{ohms + 0.03, (ohms + 0.04) / 2, ohms + 0.01} {
		near(t, f.Leads[i].ID()+", ohm", f.Leads[i].Ohms, want, 1e-6)
	}
	// 1.68 A of 6 A warm the copper by 2.352 K; two conductors in one cable carry 2 * 0.8 * 6 A and warm by 0.919 K.
	two := ohms * (1 + 0.00393*0.919)
	ohms *= 1 + 0.00393*2.352
	full := f.Cases[0]
	volts := 12 - 2*1.68*(ohms+0.03)
	near(t, "joint.j, V", full.Joints[0].Volts, volts, 1e-5)
	near(t, "joint.j, A", full.Joints[0].Amps, 1.68, 1e-9)
	near(t, "joint.k, V", full.Joints[1].Volts, volts-1.68*(two+0.04), 1e-5)
	near(t, "run.a, V", full.Runs[0].StartVolts, volts-1.68*(two+0.04)-2*1.68*(ohms+0.01), 1e-5)
}

// A joint for returns alone passes all of them.
func TestJointOfReturns(t *testing.T) {
	const minus, plus = `carries = "minus"`, `carries = "plus"`
	f := worked(t, `plan "x" {}`+plain+`
joint "back" {}
run "a" {
  strip  = strip.plain
  length = "1 m"
}
run "b" { like = run.a }
`+lead("pa", "supply.s.out", "run.a.start", "awg_18", "1 m", plus)+
		lead("pb", "supply.s.out", "run.b.start", "awg_18", "1 m", plus)+
		lead("ma", "joint.back", "run.a.start", "awg_18", "1 m", minus)+
		lead("mb", "joint.back", "run.b.start", "awg_18", "1 m", minus)+
		lead("home", "supply.s.out", "joint.back", "awg_14", "1 m", minus))
	full := f.Cases[0]
	near(t, "joint, A", full.Joints[0].Amps, 3.36, 1e-9)
	near(t, "home, A", full.Leads[4].Amps, 3.36, 1e-9)
	near(t, "ma, A", full.Leads[2].Amps, 1.68, 1e-9)
}

// Outputs of one supply are sources of their own with one minus.
func TestSupplyWithOutputs(t *testing.T) {
	f := worked(t, `plan "x" {}`+strings.Replace(plain, `rating = "10 A"`, "rating = \"2 A\"\n  outputs = 3\n  trim = \"12.6 V\"", 1)+`
supply "idle" {
  output = "12 V"
  rating = "1 A"
}
run "a" {
  strip  = strip.plain
  length = "1 m"
}
run "b" {
  strip  = strip.plain
  length = "50 cm"
}
`+lead("a", "supply.s.out[1]", "run.a.start", "awg_18", "1 m")+lead("b", "supply.s.out[3]", "run.b.start", "awg_18", "1 m"))
	full := f.Cases[0]
	s := full.Supplies[0]
	if len(s.Each) != 3 {
		t.Fatalf("%d outputs", len(s.Each))
	}
	for i, amps := range []float64{1.68, 0, 0.84} {
		near(t, fmt.Sprintf("output %d, A", i+1), s.Each[i], amps, 1e-9)
	}
	near(t, "volts", s.Volts, 12.6, 1e-12)
	near(t, "all outputs, A", s.Amps, 2.52, 1e-9)
	near(t, "load of the fullest", s.Load, 0.84, 1e-9)
	near(t, "any pattern, A of the fullest", f.Any.Supplies[0].Amps, 1.68, 1e-9)
	if full.Supplies[1].OK || f.Any.Supplies[1].OK {
		t.Error("a supply without leads has figures")
	}
}

// Plus and minus may go by leads of their own, in whichever order they are written.
func TestSidesApart(t *testing.T) {
	minus := lead("m", "supply.s.out", "run.a.start", "awg_18", "1 m", `carries = "minus"`)
	plus := lead("p", "supply.s.out", "run.a.start", "awg_18", "1 m", `carries = "plus"`)
	for _, leads := range []string{minus + plus, plus + minus} {
		f := worked(t, `plan "x" {}`+plain+`
run "a" {
  strip  = strip.plain
  length = "1 m"
}
`+leads)
		for i, l := range f.Leads {
			c := f.Cases[0].Leads[i]
			near(t, l.ID(), c.Amps, 1.68, 1e-9)
			near(t, l.ID()+", back", c.Back, map[string]float64{"lead.m": 1.68}[l.ID()], 1e-9)
			near(t, l.ID()+" in any pattern", f.Any.Leads[i].Amps, 1.68, 1e-9)
		}
	}
}

// Where the way back is missing nothing flows and nothing is claimed.
func TestNoReturn(t *testing.T) {
	f := worked(t, `plan "x" {}`+plain+`
run "a" {
  strip  = strip.plain
  length = "1 m"
}
run "b" { like = run.a }
run "c" { like = run.a }
`+lead("a", "supply.s.out", "run.a.start", "awg_18", "1 m", `carries = "plus"`)+
		lead("b", "supply.s.out", "run.b.start", "awg_18", "1 m")+
		lead("c", "supply.s.out", "run.c.start", "awg_18", "1 m", `carries = "minus"`))
	full := f.Cases[0]
	for i, ok := range []bool{false, true, false} {
		if full.Runs[i].OK != ok || f.Any.Runs[i].OK != ok {
			t.Errorf("%s has figures: %v, %v", f.Runs[i].ID(), full.Runs[i].OK, f.Any.Runs[i].OK)
		}
	}
	for i, amps := range []float64{0, 1.68, 0} {
		near(t, f.Leads[i].ID(), full.Leads[i].Amps, amps, 1e-9)
		near(t, f.Leads[i].ID()+" in any pattern", f.Any.Leads[i].Amps, amps, 1e-9)
	}
	near(t, "supply, A", full.Supplies[0].Amps, 1.68, 1e-9)
}

// A controller draws what it needs, unless it has a supply of its own.
func TestControllerNeeds(t *testing.T) {
	const text = `plan "x" {}
supply "s" {
  output = "12 V"
  rating = "10 A"
}
controller "c" {
  board = catalog.esp32_devkit
  needs = "300 mA"
MORE
}
`
	for _, tc := range []struct {
		more, carries string
		amps          float64
		ok            bool
	}{
		{``, "pair", 0.3, true},
		{`own_power = true`, "minus", 0, false},
		{`own_power = true`, "pair", 0, true}, // contradicts itself, yet draws nothing
	} {
		f := worked(t, strings.Replace(text, "MORE", tc.more, 1)+lead("c", "supply.s.out", "controller.c.power", "awg_22", "1 m", `carries = "`+tc.carries+`"`))
		near(t, tc.more+tc.carries, f.Cases[0].Leads[0].Amps, tc.amps, 1e-9)
		if c := f.Cases[0].Controllers[0]; c.OK != tc.ok {
			t.Errorf("%s %s: ok %v", tc.more, tc.carries, c.OK)
		}
	}
}

// Data goes in where it enters; loops end.
func TestChains(t *testing.T) {
	const text = `plan "x" {}` + plain + `
run "a" {
  strip  = strip.plain
  length = "1 m"
}
run "b" {
  strip       = strip.plain
  length      = "50 cm"
  data_enters = "end"
}
run "c" {
  strip  = strip.plain
  length = "25 cm"
}
controller "c" {
  board = catalog.esp32_devkit
  port "p" { pin = 4 }
  port "q" { pin = 5 }
}
`
	signal := func(name, from, to string) string {
		return fmt.Sprintf("signal %q {\n  from   = %s\n  to     = %s\n  wire   = catalog.awg_22\n  length = \"1 m\"\n}\n", name, from, to)
	}
	for _, tc := range []struct {
		name, signals string
		chains        []string // of p and q
	}{
		{"through the end of a turned run", signal("1", "controller.c.port.p", "run.a.start") + signal("2", "run.a.end", "run.b.end") + signal("3", "run.b.start", "run.c.start"), []string{"a b c", ""}},
		{"a turned run left at its own entry ends the chain", signal("1", "controller.c.port.p", "run.b.end") + signal("2", "run.b.end", "run.c.start"), []string{"b", ""}},
		{"a loop", signal("1", "controller.c.port.p", "run.a.start") + signal("2", "run.a.end", "run.b.end") + signal("3", "run.b.start", "run.a.start"), []string{"a b", ""}},
		{"a run to itself", signal("1", "controller.c.port.p", "run.a.start") + signal("2", "run.a.end", "run.a.start"), []string{"a", ""}},
		{"two ports on one run", signal("1", "controller.c.port.p", "run.a.start") + signal("2", "controller.c.port.q", "run.a.start"), []string{"a", ""}},
		{"a loop that no port feeds", signal("1", "run.a.end", "run.b.end") + signal("2", "run.b.start", "run.a.start"), []string{"", ""}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			f := worked(t, text+tc.signals)
			for i, p := range f.Ports {
				var names []string
				pixels := 0
				for _, r := range p.Runs {
					names = append(names, r.Name)
					if r.First != pixels || r.Port != p {
						t.Errorf("%s begins at %d, want %d", r.ID(), r.First, pixels)
					}
					pixels += r.Pixels
				}
				if got := strings.Join(names, " "); got != tc.chains[i] || p.Pixels != pixels {
					t.Errorf("%s drives %q, %d pixels; want %q", p.ID(), got, p.Pixels, tc.chains[i])
				}
				if p.OK != (len(names) > 0) || p.Rate < 0 || math.IsNaN(p.Rate) || math.IsInf(p.Rate, 0) {
					t.Errorf("%s: ok %v, rate %v", p.ID(), p.OK, p.Rate)
				}
			}
		})
	}
}

// Where pixels are starved they draw less than the bound reckons with; it
// lies on the safe side, and the case full is nearer to the truth.
func TestStarvedRun(t *testing.T) {
	f := worked(t, `plan "x" {}
supply "s" {
  output = "5 V"
  rating = "40 A"
}
run "long" {
  strip  = catalog.ws2812b_5v_60
  length = "5 m"
}
`+lead("a", "supply.s.out", "run.long.start", "awg_18", "3 m"))
	full, bound := f.Cases[0].Runs[0], f.Any.Runs[0]
	if !full.OK || !bound.OK || !(full.MinVolts > 1 && full.MinVolts < 4) || !(bound.MinVolts < full.MinVolts) {
		t.Errorf("full %v V, bound %v V", full.MinVolts, bound.MinVolts)
	}
	if l := f.Cases[0].Leads[0].Amps; !(l < 300*0.061) || !(f.Any.Leads[0].Amps >= l) || math.Abs(f.Any.Leads[0].Amps-300*0.061) > 1e-9 {
		t.Errorf("full %v A, bound %v A, nominal %v A", l, f.Any.Leads[0].Amps, 300*0.061)
	}
	if w := f.WorstVolts(f.Runs[0], 4); w.Case != schema.Full || w.Value != full.MinVolts {
		t.Errorf("the worst told is %+v", w)
	}
}

// Until every fuse and limit can be read, nothing is said of faults; voltages
// stay.
func TestUnreadableGuards(t *testing.T) {
	text := `plan "x" {}` + plain + `
run "a" {
  strip  = strip.plain
  length = "1 m"
}
` + lead("a", "supply.s.out", "run.a.start", "awg_22", "1 m", `fuse = "FUSE"`)
	for _, tc := range []struct {
		fuse, rating string
		known        bool
	}{{"5 A", "10 A", true}, {"5", "10 A", false}, {"5 A", "10 V", false}} {
		text := strings.Replace(strings.Replace(text, "FUSE", tc.fuse, 1), `"10 A"`, `"`+tc.rating+`"`, 1)
		p := schema.Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
		f := figuresOf(t, p, nil)
		near(t, tc.fuse+" lead, A", f.Cases[0].Leads[0].Amps, 1.68, 1e-9)
		if e := f.Leads[0].Fault; e.Unguarded != tc.known || (e.Amps > 0) != tc.known {
			t.Errorf("fuse %s, rating %s: %+v", tc.fuse, tc.rating, e)
		}
	}
}

// A reading is compared with its own case, else with the case full.
func TestReadingsOfCases(t *testing.T) {
	f := worked(t, `plan "x" {}`+plain+`
run "a" {
  strip  = strip.plain
  length = "1 m"
}
`+lead("a", "supply.s.out", "run.a.start", "awg_14", "1 m")+`
case "dark" { level = "0 %" }
reading "full" {
  at   = supply.s
  amps = "1.68 A"
}
reading "own" {
  at   = supply.s
  case = case.dark
  amps = "60 mA"
}
`)
	for i, want := range []float64{1.68, 0.06} {
		near(t, f.Plan.Readings[i].ID(), f.Readings()[i].Want, want, 1e-9)
	}
}
