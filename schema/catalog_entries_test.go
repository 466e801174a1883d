package schema_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2/hclwrite"

	"ohmstead/schema"
	"ohmstead/schema/catalog"
)

// entry finds a catalogue entry of type T.
func entry[T schema.Block](t *testing.T, name string) T {
	t.Helper()
	b, ok := new(schema.Plan).Find("catalog." + name)
	if !ok {
		t.Fatalf("catalog.%s does not exist", name)
	}
	e, ok := b.(T)
	if !ok {
		t.Fatalf("catalog.%s is a %s", name, schema.HeaderOf(b).Type.Name)
	}
	return e
}

func entries[T schema.Block](blockType string) []T {
	var out []T
	for _, b := range schema.Catalogue().Entries(blockType) {
		out = append(out, b.(T))
	}
	return out
}

// si is a value's SI number, or NaN where the entry does not say.
func si(v schema.Value[schema.Quantity]) float64 {
	if !v.Known() {
		return math.NaN()
	}
	return v.V.SI
}

func TestCatalogueHasNoProblems(t *testing.T) {
	for _, b := range schema.Catalogue().Entries() {
		if h := schema.HeaderOf(b); h.Broken {
			t.Errorf("%s is broken", h.ID())
		}
	}
	for _, p := range schema.Catalogue().Problems {
		t.Errorf("%s: %s", p.Rule, p.Message)
	}
}

func TestCatalogueFilesAreFormatted(t *testing.T) {
	files, err := catalog.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := catalog.Files.ReadFile(f.Name())
		if err != nil {
			t.Fatal(err)
		}
		if string(hclwrite.Format(text)) != string(text) {
			t.Errorf("%s is not in canonical layout; run ohmstead fmt", f.Name())
		}
	}
}

// TestCatalogueSources demands of every entry that it says where its values
// come from: a published sheet or standard, or plainly that there is none.
func TestCatalogueSources(t *testing.T) {
	for _, b := range schema.Catalogue().Entries() {
		var source schema.Value[string]
		switch e := b.(type) {
		case *schema.Strip:
			source = e.Source
		case *schema.Diffuser:
			source = e.Source
		case *schema.Wire:
			source = e.Source
		case *schema.Fixing:
			source = e.Source
		case *schema.Joint:
			source = e.Source
		case *schema.Holder:
			source = e.Source
		case *schema.Board:
			source = e.Source
		default:
			t.Errorf("%s: a %s in the catalogue", schema.HeaderOf(b).ID(), schema.HeaderOf(b).Type.Name)
			continue
		}
		if len(source.V) < 10 {
			t.Errorf("%s: source %q says nothing", schema.HeaderOf(b).ID(), source.V)
		}
	}
}

func TestCatalogueHasTheUsualParts(t *testing.T) {
	for blockType, names := range map[string]string{
		"strip": "ws2811_12v_30 ws2811_12v_60 ws2811_24v_60 ws2812b_5v_30 ws2812b_5v_60 ws2812b_5v_96 ws2812b_5v_144 " +
			"ws2813_5v_30 ws2813_5v_60 ws2815_12v_30 ws2815_12v_60 ws2815_12v_144 sk6812_5v_30 sk6812_5v_60 sk6812_5v_144 " +
			"sk6812_rgbw_5v_30 sk6812_rgbw_5v_60 sk6812_rgbw_5v_144 sk6805_5v_60 apa102_5v_30 apa102_5v_60 apa102_5v_144 " +
			"sk9822_5v_60 sk9822_5v_144 gs8208_12v_60",
		"diffuser": "silicone_tube_side_bend silicone_tube_top_bend channel_surface channel_corner channel_recessed",
		"wire":     "awg_10 awg_12 awg_14 awg_16 awg_18 awg_20 awg_22 awg_24 awg_26 awg_22_solid mm2_0_5 mm2_0_75 mm2_1_0 mm2_1_5 mm2_2_5 mm2_4 flex_2x0_75",
		"fixing":   "tube_clip channel_clip adhesive_tape channel_screw cable_tie",
		"joint":    "lever_joint_2 lever_joint_3 lever_joint_5 screw_terminal_2 screw_terminal_12 barrier_terminal_6 bus_bar_4 crimp_splice_blue barrel_plug_2_1 pigtail_plug_3",
		"holder":   "inline_blade blade_block_4 blade_block_6 blade_block_12 inline_glass bolted_small resettable_16v",
		"board":    "esp32_devkit esp8266_board esp32_c3_board esp32_s3_board rp2040_board avr_328p_5v_board",
	} {
		for _, name := range strings.Fields(names) {
			b, ok := new(schema.Plan).Find("catalog." + name)
			if !ok || schema.HeaderOf(b).Type.Name != blockType {
				t.Errorf("no %s catalog.%s", blockType, name)
			}
		}
	}
}

// TestCatalogueStripsAgainstSheets compares single values with what was
// published, each within its row's tolerance (absolute).
func TestCatalogueStripsAgainstSheets(t *testing.T) {
	letter := func(b schema.ByLetter, l string) float64 {
		q, ok := b.For(l)
		if !ok {
			return math.NaN()
		}
		return q.SI
	}
	current := func(l string) func(*schema.Strip) float64 {
		return func(s *schema.Strip) float64 { return letter(s.ChannelCurrent.V, l) }
	}
	forward := func(l string) func(*schema.Strip) float64 {
		return func(s *schema.Strip) float64 { return letter(s.Forward.V, l) }
	}
	type of = func(*schema.Strip) float64
	var (
		idle       of = func(s *schema.Strip) float64 { return si(s.IdleCurrent) }
		least      of = func(s *schema.Strip) float64 { return si(s.MinVoltage) }
		most       of = func(s *schema.Strip) float64 { return si(s.MaxVoltage) }
		latch      of = func(s *schema.Strip) float64 { return si(s.Latch) }
		rate       of = func(s *schema.Strip) float64 { return si(s.BitRate) }
		bits       of = func(s *schema.Strip) float64 { return float64(s.Bits.V) }
		high       of = func(s *schema.Strip) float64 { return si(s.LogicHigh) * si(s.Voltage) }
		highVolts  of = func(s *schema.Strip) float64 { return si(s.LogicVoltage) }
		pixelWhite of = func(s *schema.Strip) float64 { return wholePixel(s) }
	)
	for _, c := range []struct {
		name, strip string
		got         of
		want, tol   float64
		source      string
	}{
		{"red die", "ws2812b_5v_60", forward("R"), 2.1, 0.1, "WS2812B datasheet, LED characteristics: 2.0-2.2 V"},
		{"green die", "ws2812b_5v_60", forward("G"), 3.2, 0.2, "WS2812B datasheet, LED characteristics: 3.0-3.4 V"},
		{"blue die", "ws2812b_5v_60", forward("B"), 3.2, 0.2, "WS2812B datasheet, LED characteristics: 3.0-3.4 V"},
		{"channel", "ws2812b_5v_60", current("G"), 0.020, 0, "WS2812B datasheet: 20 mA nominal"},
		{"white", "ws2812b_5v_60", pixelWhite, 0.0525, 0.0085, "How Much Current Do WS2812 LEDs Really Use?: 52.5 mA measured; 60 mA nominal"},
		{"dark", "ws2812b_5v_60", idle, 0.001, 0.0003, "bench logs of a strip tester: 1.0-1.3 mA"},
		{"most", "ws2812b_5v_60", most, 5.3, 0, "WS2812B datasheet, absolute maximum ratings: 3.5-5.3 V"},
		{"data one", "ws2812b_5v_60", high, 3.5, 1e-9, "WS2812B datasheet: 0.7 VDD"},
		{"bit rate", "ws2812b_5v_60", rate, 800e3, 0, "WS2812B datasheet: 800 kbit/s"},
		{"latch", "ws2812b_5v_60", latch, 290e-6, 10.1e-6, "WS2812B later datasheet: at least 280 us; 300 us as for WS2815"},
		{"channel", "ws2812b_v5_5v_60", current("R"), 0.01585, 0.00016, "bench logs of a strip tester: 15.7-16.0 mA"},
		{"data one", "ws2812b_v5_5v_60", high, 3.25, 1e-9, "a digest of chip datasheets: 0.65 VDD"},
		{"channel", "ws2813_5v_60", current("R"), 0.018, 0, "a community list of pixel chips: 18 mA"},
		{"data one", "ws2813_5v_60", high, 3.0, 1e-9, "a community list of pixel chips: 3.0 V"},
		{"white", "ws2815_12v_60", pixelWhite, 0.0125, 0.0026, "WS2815 datasheet and a community list of pixel chips: 10-15 mA, dies in series"},
		{"dark", "ws2815_12v_60", idle, 0.0021, 0, "a community list of pixel chips: 2.1 mA"},
		{"least", "ws2815_12v_60", least, 9.25, 0.25, "WS2815 datasheet: from 9 or 9.5 V by edition"},
		{"most", "ws2815_12v_60", most, 13.25, 0.25, "WS2815 datasheet: to 13 or 13.5 V by edition"},
		{"data one", "ws2815_12v_60", highVolts, 3.5, 0, "a community list of pixel chips: 0.7 of the inner 5 V"},
		{"latch", "ws2815_12v_60", latch, 300e-6, 0, "WS2815 datasheet, later edition: 300 us or more"},
		{"white", "ws2811_12v_60", pixelWhite, 0.0555, 1e-9, "a community list of pixel chips: 3 x 18.5 mA a pixel of three LEDs"},
		{"white", "ws2811_24v_60", pixelWhite, 0.0555, 1e-9, "the same chip"},
		{"channel", "sk6812_5v_60", current("B"), 0.020, 0, "a community list of pixel chips: 20 mA"},
		{"data one", "sk6812_5v_60", high, 3.4, 1e-9, "a community list of pixel chips: 3.4 V"},
		{"white", "sk6812_rgbw_5v_60", pixelWhite, 0.080, 1e-9, "SK6812RGBW datasheet: 4 x 20 mA"},
		{"bits", "sk6812_rgbw_5v_60", bits, 32, 0, "SK6812RGBW datasheet: 32 bits"},
		{"white", "sk6805_5v_60", pixelWhite, 0.015, 1e-9, "SK6805 datasheet, from memory: 3 x 5 mA"},
		{"bits", "apa102_5v_60", bits, 32, 0, "a community list of pixel chips: 8-bit header and 3 x 8 bits"},
		{"channel", "apa102_5v_60", current("R"), 0.0205, 0.0015, "a community list of pixel chips: 19-22 mA"},
		{"latch", "apa102_5v_60", latch, 0, 0, "a clocked chip ends a frame with clock pulses, not with silence"},
		{"least", "sk9822_5v_60", least, 3.85, 0.15, "SK9822 datasheet: from 3.7 V; blue at 3.4 V + 0.5 V"},
		{"white", "gs8208_12v_60", pixelWhite, 0.0175, 0, "GS8208 datasheet: 17.5 mA, dies in series"},
		{"latch", "gs8208_12v_60", latch, 300e-6, 0, "GS8208 datasheet: at least 300 us"},
		{"dark", "gs8208_12v_60", idle, 0.0025, 0, "a community list of pixel chips: 2.5 mA"},
	} {
		t.Run(c.strip+" "+c.name, func(t *testing.T) {
			if got := c.got(entry[*schema.Strip](t, c.strip)); !(math.Abs(got-c.want) <= c.tol+1e-12) {
				t.Errorf("%g, want %g within %g (%s)", got, c.want, c.tol, c.source)
			}
		})
	}
}

// ChannelLetters is a strip's channels, each once.
func ChannelLetters(s *schema.Strip) []string { return strings.Split(s.Channels.V, "") }

// wholePixel is the current of one pixel with every channel at 100 %, A.
func wholePixel(s *schema.Strip) float64 {
	total := 0.0
	for _, l := range ChannelLetters(s) {
		q, _ := s.ChannelCurrent.V.For(l)
		if s.Stack.V == "series" {
			total = max(total, q.SI)
		} else {
			total += q.SI
		}
	}
	return total
}

// needed is the voltage at which every colour of a strip gets its full
// current: the strings' forward voltages plus the headroom.
func needed(s *schema.Strip) float64 {
	most, sum := 0.0, 0.0
	for _, l := range ChannelLetters(s) {
		q, _ := s.Forward.V.For(l)
		v := q.SI * float64(s.Series.V)
		most, sum = max(most, v), sum+v
	}
	if s.Stack.V == "series" {
		most = sum
	}
	return most + s.Headroom.V.SI
}

func TestCatalogueStripsArePhysical(t *testing.T) {
	const eps = 1e-9
	for _, s := range entries[*schema.Strip]("strip") {
		t.Run(s.Name, func(t *testing.T) {
			within := func(what string, got, low, high float64) {
				t.Helper()
				if !(got >= low-eps && got <= high+eps) {
					t.Errorf("%s is %g, outside %g to %g", what, got, low, high)
				}
			}
			volts := si(s.Voltage)
			within("min_voltage", si(s.MinVoltage), needed(s), volts*0.9) // at 10 % drop, the usual limit, colours hold
			within("max_voltage", si(s.MaxVoltage), volts*1.05, volts*1.26)
			within("rail", si(s.Rail), 0.02, 0.5)
			within("rail_current", si(s.RailCurrent), 1, outerTrace(si(s.Rail), 10))
			within("heat of both rails at rail_current, W/m", 2*si(s.RailCurrent)*si(s.RailCurrent)*si(s.Rail), 0, 5)
			within("bend_radius", si(s.BendRadius), 0.02, 0.10)
			within("width", si(s.Width), 0.004, 0.012)
			within("reel", si(s.Reel), 1, 5)

			pixels := si(s.Density) / float64(s.Group.V) // a metre
			watts := volts * pixels * (wholePixel(s) + si(s.IdleCurrent))
			within("white, W/m", watts, 4, 60)
			within("white, W a LED", watts/si(s.Density), 0.05, 0.41) // packages of 0.2 to 0.3 W; four channels of 20 mA are 0.4 W
			within("dark, W/m", volts*pixels*si(s.IdleCurrent), 0, 4)

			if s.Cut.V%s.Group.V != 0 || s.Series.V > s.Group.V {
				t.Errorf("cut %d, group %d, series %d do not fit together", s.Cut.V, s.Group.V, s.Series.V)
			}
			for _, l := range ChannelLetters(s) {
				if _, ok := s.Forward.V.For(l); !ok {
					t.Errorf("no forward voltage for channel %s", l)
				}
			}
			header := 0
			if s.Clocked.V {
				header = 8
			}
			if want := header + 8*len(s.Channels.V); s.Bits.V != want {
				t.Errorf("%d bits, want %d for %s", s.Bits.V, want, s.Channels.V)
			}
			if s.LogicHigh.Set == s.LogicVoltage.Set {
				t.Error("the level of a data one is given twice or not at all")
			}
			if (volts > 5) != s.LogicVoltage.Set {
				t.Error("the input follows the supply at 5 V and only there")
			}
			name := fmt.Sprintf("_%gv_%g", volts, si(s.Density))
			if !strings.HasSuffix(s.Name, name) {
				t.Errorf("the name does not end in %s", name)
			}
		})
	}
}

// outerTrace is the current in A that heats a trace on an outer layer by rise
// kelvin, for the copper section that a rail of ohmPerMetre has (IPC-2221
// section 6.2, from memory): I = 0.048 dT^0.44 A^0.725, A in square mils.
func outerTrace(ohmPerMetre, rise float64) float64 {
	const copper = 1.0 / 58      // ohm mm2/m, IEC 60028
	const mil = 0.0254           // mm
	area := copper / ohmPerMetre // mm2
	return 0.048 * math.Pow(rise, 0.44) * math.Pow(area/(mil*mil), 0.725)
}

func TestCatalogueDiffusersArePhysical(t *testing.T) {
	for _, d := range entries[*schema.Diffuser]("diffuser") {
		t.Run(d.Name, func(t *testing.T) {
			within := func(what string, got, low, high float64) {
				t.Helper()
				if !(got >= low && got <= high) {
					t.Errorf("%s is %g, outside %g to %g", what, got, low, high)
				}
			}
			within("inner_width", si(d.InnerWidth), 0.005, 0.013)
			within("depth", si(d.Depth), 0.005, 0.020)
			within("heat_limit", si(d.HeatLimit), 7, 25) // about 10 W/m +-30 % without metal
			within("weight", si(d.Weight), 0.03, 0.5)
			switch d.Kind.V {
			case "tube":
				within("bend_radius", si(d.BendRadius), 0.030, 0.195) // 30 to 150 mm, +-30 %
				within("push_limit", si(d.PushLimit), 0.45, 0.75)     // 0.6 m, +-25 %
				within("heat_limit", si(d.HeatLimit), 7, 13)
				if !d.BendPlane.Set {
					t.Error("a tube bends in a plane")
				}
				var width, height float64
				size := d.Name[strings.LastIndexByte(d.Name, '_')+1:]
				if n, _ := fmt.Sscanf(size, "%fx%f", &width, &height); n == 2 {
					outer := width * height * 1e-6
					within("weight against the outer size", si(d.Weight), 0.3*1200*outer, 1200*outer)
					surface := 200 * 2 * (width + height) * 1e-3 // 20 K at 10 W/m2K
					within("heat_limit against the surface", si(d.HeatLimit), 0.7*surface, surface)
					room := width
					if d.BendPlane.V == "side" {
						room = height // the strip stands on edge
					}
					within("inner_width against the outer size", si(d.InnerWidth), 0, room*1e-3)
					within("depth against the outer size", si(d.Depth), 0, height*1e-3)
				}
			case "channel":
				if d.BendRadius.Set || d.PushLimit.Set {
					t.Error("a channel is straight, and its strip is laid in")
				}
			}
		})
	}
}

func TestCatalogueWires(t *testing.T) {
	for _, w := range entries[*schema.Wire]("wire") {
		t.Run(w.Name, func(t *testing.T) {
			if c := si(w.MaxTemperature); !(c >= 60 && c <= 200) {
				t.Errorf("max_temperature %g degC", c)
			}
			if w.Ampacity.Set {
				t.Error("an ampacity without a sheet of its own")
			}
			if w.Stranded.V == (strings.HasSuffix(w.Name, "_solid") || w.Name == "network_cable_24") {
				t.Errorf("stranded is %v", w.Stranded.V)
			}
		})
	}
	for _, c := range []struct {
		wire   string
		mm2    float64
		cores  int
		source string
	}{
		{"awg_10", 5.261, 1, "NBS Handbook 100, Copper Wire Tables"},
		{"awg_18", 0.8230, 1, "NBS Handbook 100, Copper Wire Tables"},
		{"awg_18_pair", 0.8230, 2, "NBS Handbook 100, Copper Wire Tables"},
		{"awg_22_solid", 0.3255, 1, "NBS Handbook 100, Copper Wire Tables"},
		{"awg_26", 0.1288, 1, "NBS Handbook 100, Copper Wire Tables"},
		{"awg_30", 0.05093, 1, "NBS Handbook 100, Copper Wire Tables"},
		{"mm2_0_75", 0.75, 1, "IEC 60228"},
		{"mm2_4", 4, 1, "IEC 60228"},
		{"flex_2x1_5", 1.5, 2, "IEC 60228"},
	} {
		t.Run(c.wire+" size", func(t *testing.T) {
			w := entry[*schema.Wire](t, c.wire)
			if got := si(w.Gauge) * 1e6; !(math.Abs(got-c.mm2) <= 0.001*c.mm2) || w.Cores.V != c.cores {
				t.Errorf("%g mm2, %d cores, want %g mm2, %d (%s)", got, w.Cores.V, c.mm2, c.cores, c.source)
			}
		})
	}
}

func TestCatalogueJoints(t *testing.T) {
	for _, j := range entries[*schema.Joint]("joint") {
		t.Run(j.Name, func(t *testing.T) {
			g := j.Gauges.V
			if len(g) != 2 || !(g[0].SI < g[1].SI) {
				t.Fatalf("gauges %v are not a smallest and a largest", g)
			}
			if j.Ways.V < 2 {
				t.Errorf("%d ways join nothing", j.Ways.V)
			}
			// No joint of a wire or two should count for more than the largest
			// conductor that it takes: 10 A/mm2 is more than any table here.
			if amps := si(j.Rating); j.Rating.Set && j.Kind.V != "busbar" && amps > 10e6*g[1].SI {
				t.Errorf("%g A through %g mm2", amps, g[1].SI*1e6)
			}
			if r := si(j.Resistance); !(r > 0 && r <= 0.03) {
				t.Errorf("contact resistance %g ohm", r)
			}
			if amps, r := si(j.Rating), si(j.Resistance); j.Rating.Set && amps*amps*r > 2 {
				t.Errorf("%g W in one contact", amps*amps*r)
			}
			if i := strings.LastIndexByte(j.Name, '_'); j.Kind.V != "plug" && j.Kind.V != "crimp" {
				if want := fmt.Sprintf("_%d", j.Ways.V); j.Name[i:] != want {
					t.Errorf("%d ways", j.Ways.V)
				}
			}
		})
	}
	if amps := si(entry[*schema.Joint](t, "lever_joint_5").Rating); amps != 20 {
		t.Errorf("lever_joint_5 is rated %g A, want 20 A (UL 486C)", amps)
	}
}

func TestCatalogueFixings(t *testing.T) {
	for _, c := range []struct {
		fixing string
		most   float64 // m
		source string
	}{
		{"tube_clip", 0.457, "rigid light guide, installation manual"},
		{"tube_bracket", 0.457, "rigid light guide, installation manual"},
		{"tube_clip_curve", 0.20, "common practice, no source"},
		{"flex_clip", 0.914, "neon flex, quick guide"},
		{"strip_saddle", 0.203, "light engine, installation manual"},
	} {
		if got := si(entry[*schema.Fixing](t, c.fixing).Spacing); !(got > 0 && got <= c.most) {
			t.Errorf("catalog.%s: spacing %g m, want at most %g m (%s)", c.fixing, got, c.most, c.source)
		}
	}
	for _, f := range entries[*schema.Fixing]("fixing") {
		if f.Kind.V != "adhesive" && !(f.Spacing.Set && f.Holds.Set) {
			t.Errorf("catalog.%s has no spacing or weight", f.Name)
		}
	}
}

func span(first, last int) []int {
	var out []int
	for n := first; n <= last; n++ {
		out = append(out, n)
	}
	return out
}

func TestCatalogueBoardsListEveryPin(t *testing.T) {
	for _, c := range []struct {
		board       string
		exist       []int // every GPIO of the chip
		good, never []int
		logic       float64
		lanes       int
		source      string
	}{
		{
			"esp32_devkit", slices.Concat(span(0, 19), span(21, 23), span(25, 27), span(32, 39)),
			[]int{4, 13, 18, 19, 21, 22, 23, 25, 26, 27, 32, 33}, slices.Concat(span(6, 11), span(34, 39)),
			3.3, 8, "ESP-IDF Programming Guide, GPIO page for ESP32",
		},
		{
			"esp8266_board", span(0, 16),
			[]int{2, 4, 5, 12, 13, 14}, span(6, 11), // 2: UART1, timed by hardware
			3.3, 2, "esptool documentation, boot mode selection; ESP8266 boot-process notes",
		},
		{
			"esp32_c3_board", span(0, 21),
			[]int{0, 1, 3, 4, 5, 6, 7, 10}, span(11, 17),
			3.3, 2, "ESP-IDF Programming Guide, GPIO page for ESP32-C3",
		},
		{
			"esp32_s3_board", slices.Concat(span(0, 21), span(26, 48)),
			slices.Concat([]int{1, 2}, span(4, 18), []int{21}, span(38, 42), []int{47}), span(26, 32),
			3.3, 4, "ESP-IDF Programming Guide, GPIO page for ESP32-S3",
		},
		{
			"rp2040_board", span(0, 29),
			slices.Concat(span(0, 22), span(26, 28)), nil,
			3.3, 8, "RP2040 Datasheet, GPIO and PIO",
		},
		{
			"avr_328p_5v_board", span(0, 19),
			slices.Concat(span(2, 12), span(14, 19)), nil,
			5, 1, "ATmega48/88/168/328 datasheet 8271H; board numbering from memory",
		},
	} {
		t.Run(c.board, func(t *testing.T) {
			b := entry[*schema.Board](t, c.board)
			uses := map[string][]int{}
			var all []int
			for _, p := range b.Pins {
				n, ok := p.Number()
				if !ok {
					t.Fatalf("pin %q is not a number", p.Name)
				}
				all = append(all, n)
				uses[p.Use.V] = append(uses[p.Use.V], n)
				if p.Use.V != "good" && p.Because.V == "" {
					t.Errorf("pin %d is %q without a reason", n, p.Use.V)
				}
			}
			if !slices.Equal(all, c.exist) {
				t.Errorf("pins %v, want %v in this order (%s)", all, c.exist, c.source)
			}
			if !slices.Equal(uses["good"], c.good) {
				t.Errorf("good %v, want %v (%s)", uses["good"], c.good, c.source)
			}
			if !slices.Equal(uses["never"], c.never) {
				t.Errorf("never %v, want %v (%s)", uses["never"], c.never, c.source)
			}
			if si(b.Logic) != c.logic || b.Lanes.V != c.lanes {
				t.Errorf("logic %g V, %d lanes, want %g V, %d (%s)", si(b.Logic), b.Lanes.V, c.logic, c.lanes, c.source)
			}
			// One 800 kbit/s output refreshes 824 RGB pixels 40 times a second
			// (24 bits of 1.25 us each and 280 us of latch).
			if b.Pixels.V > 824*b.Lanes.V {
				t.Errorf("%d pixels on %d lanes are too many for 40 frames a second", b.Pixels.V, b.Lanes.V)
			}
			if len(b.InputVoltage.V) == 0 || !(si(b.Needs) > 0) {
				t.Error("nothing is said of its supply")
			}
		})
	}
}
