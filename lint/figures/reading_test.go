package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ohmstead/calc/meter"
	"ohmstead/schema"
)

// mounted is what hangs on a wall, as a plan describes it.
type mounted struct {
	volts, trim    float64 // V
	gauge          int     // AWG, of the feeds
	near, far      float64 // m, lengths of the feeds to the joint and behind it
	contact        float64 // mohm, of the joint
	rail           float64 // mohm/m
	current        float64 // mA of a channel
	length         float64 // m, of the run
	second         bool    // its end is fed too
	secondLength   float64 // m
	density, group int
}

func (w mounted) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, `plan "x" { ambient = "20 degC" }
strip "s" {
  voltage         = "%g V"
  density         = "%d/m"
  group           = %d
  channel_current = "%g mA"
  forward         = "2 V"
  rail            = "%g mohm/m"
}
wire "feed" { gauge = "%d AWG" }
supply "psu" {
  output = "%g V"
  trim   = "%.4f V"
  rating = "20 A"
}
joint "j" { resistance = "%g mohm" }
run "r" {
  strip  = strip.s
  length = "%g m"
}
lead "near" {
  from   = supply.psu.out
  to     = joint.j
  wire   = wire.feed
  length = "%g m"
}
lead "far" {
  from   = joint.j
  to     = run.r.start
  wire   = wire.feed
  length = "%g m"
}
`, w.volts, w.density, w.group, w.current, w.rail, w.gauge, w.volts, w.trim, w.contact, w.length, w.near, w.far)
	if w.second {
		fmt.Fprintf(&b, "lead \"second\" {\n  from   = supply.psu.out\n  to     = run.r.end\n  wire   = wire.feed\n  length = \"%g m\"\n}\n", w.secondLength)
	}
	return b.String()
}

var readingPlaces = []string{"supply.psu", "joint.j", "run.r.start", "run.r.end"}

// read writes readings of so many volts, one for each place.
func read(volts []float64) string {
	var b strings.Builder
	for i, v := range volts {
		fmt.Fprintf(&b, "reading \"%d\" {\n  at    = %s\n  volts = \"%.2f V\"\n}\n", i, readingPlaces[i], v)
	}
	return b.String()
}

// hung are sound ones: 5, 12 and 24 V, fed at one end and at both.
var hung = []mounted{
	{volts: 5, trim: 5.1, gauge: 16, near: 1, far: 0.5, contact: 2, rail: 60, current: 6, length: 2, density: 60, group: 1},
	{volts: 5, trim: 5.2, gauge: 14, near: 1.5, far: 0.5, contact: 2, rail: 60, current: 8, length: 3, second: true, secondLength: 3, density: 60, group: 1},
	{volts: 12, trim: 12.1, gauge: 18, near: 2, far: 0.6, contact: 4, rail: 90, current: 5, length: 4, density: 60, group: 1},
	{volts: 12, trim: 12, gauge: 16, near: 3, far: 1, contact: 2, rail: 90, current: 9, length: 5, second: true, secondLength: 6, density: 60, group: 3},
	{volts: 24, trim: 24, gauge: 18, near: 4, far: 1, contact: 4, rail: 80, current: 12, length: 5, density: 60, group: 6},
}

// planted are the faults: eight kinds, three sizes each.
var planted = []struct {
	name string
	make func(w mounted, size int) mounted
}{
	{"contact", func(w mounted, n int) mounted { w.contact += []float64{20, 60, 200}[n]; return w }},
	{"thinner wire", func(w mounted, n int) mounted { w.gauge += []int{2, 4, 6}[n]; return w }},
	{"longer lead", func(w mounted, n int) mounted { w.near *= []float64{1.5, 2, 3}[n]; return w }},
	{"lead behind the joint", func(w mounted, n int) mounted { w.far *= []float64{2, 4, 8}[n]; return w }},
	{"thin rails", func(w mounted, n int) mounted { w.rail *= []float64{1.3, 1.6, 2.2}[n]; return w }},
	{"trim", func(w mounted, n int) mounted { w.trim *= []float64{0.985, 1.03, 0.95}[n]; return w }},
	{"dim pixels", func(w mounted, n int) mounted { w.current *= []float64{0.8, 0.5, 0.2}[n]; return w }},
	{"second feed", func(w mounted, n int) mounted {
		if n == 2 || !w.second {
			w.second = false
			w.rail *= 1 + 0.5*float64(n)
			return w
		}
		w.secondLength *= []float64{2, 6}[n]
		return w
	}},
}

func voltsAt(t *testing.T, w mounted) []float64 {
	t.Helper()
	f := worked(t, w.String()+read(make([]float64, len(readingPlaces))))
	var out []float64
	for _, r := range f.Readings() {
		out = append(out, r.worked)
	}
	if len(out) != len(readingPlaces) {
		t.Fatalf("%d places of %v are worked out", len(out), w)
	}
	return out
}

// shown is what a meter within its accuracy shows at the places of a wall.
func shownBy(r *rand.Rand, volts []float64) []float64 {
	gain := meter.Accuracy * (2*r.Float64() - 1)
	var out []float64
	for _, v := range volts {
		digits := float64(r.IntN(2*meter.Digits+1) - meter.Digits)
		out = append(out, math.Round((v*(1+gain)+digits*0.01)*100)/100)
	}
	return out
}

// differs tells whether any reading is off by more than meter and plan leave.
func differs(t *testing.T, plan mounted, readings []float64) bool {
	t.Helper()
	f := worked(t, plan.String()+read(readings))
	return slices.ContainsFunc(f.Readings(), func(r Reading) bool { return r.Differs() })
}

// Planted faults are found where a meter can see them at all; walls whose copper,
// currents and lengths lie as far off the plan as they usually do raise no alarm.
func TestReadingsFindFaults(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	all, visible, found := 0, 0, 0
	for _, w := range hung {
		right := voltsAt(t, w)
		for _, fault := range planted {
			for size := range 3 {
				wrong := voltsAt(t, fault.make(w, size))
				seen := false
				for i, v := range right {
					seen = seen || math.Abs(wrong[i]-v) > meter.Error(v, meter.Accuracy, meter.Digits, 0.01)
				}
				all++
				if !seen {
					continue
				}
				visible++
				if differs(t, w, shownBy(r, wrong)) {
					found++
				} else {
					t.Logf("not found: %s %d in %g V: %.3f, right %.3f", fault.name, size, w.volts, wrong, right)
				}
			}
		}
	}
	t.Logf("%d faults, %d that the meter can see, %d found", all, visible, found)
	if found*85 < visible*81 {
		t.Errorf("%d of %d found", found, visible)
	}

	const sets = 30
	alarms := 0
	for i := range sets {
		w := hung[i%len(hung)]
		real := w
		about := func(x *float64, share float64) { *x *= 1 + share*(2*r.Float64()-1) }
		about(&real.rail, 0.1)
		about(&real.current, 0.05)
		about(&real.near, 0.03)
		about(&real.far, 0.03)
		if differs(t, w, shownBy(r, voltsAt(t, real))) {
			alarms++
		}
	}
	t.Logf("%d alarms in %d sound sets", alarms, sets)
	if alarms > 0 {
		t.Errorf("%d alarms in %d sound sets", alarms, sets)
	}
}

// A joint that burns half a volt is found by what each place lies below the supply, wherever in its spread the supply
// is set; the voltages alone hide some. Walls that are as planned raise no alarm.
func TestExpectBelowTheSupply(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 5))
	expected := func(w mounted) (out []Expected) {
		f := worked(t, strings.Replace(w.String(), fmt.Sprintf("  trim   = \"%.4f V\"\n", w.trim), "", 1)+read(make([]float64, len(readingPlaces))))
		var places []*schema.Point
		for _, x := range f.Plan.Readings {
			places = append(places, x.Place.V)
		}
		for i, e := range f.Expect(places, f.Cases[0]) {
			if !e.OK {
				t.Fatalf("nothing is expected at %v", places[i])
			}
			out = append(out, e)
		}
		return out
	}
	alarm := func(plan []Expected, shown []float64) (below, volts bool) {
		for i, e := range plan {
			volts = volts || math.Abs(shown[i]-e.Volts) > e.VoltsLeave
			below = below || i > 0 && math.Abs(shown[0]-shown[i]-e.Below) > e.BelowLeave
		}
		return below, volts
	}
	hidden := 0
	for _, w := range hung {
		plan := expected(w)
		burnt := w
		burnt.contact += 0.5 / 4 / plan[1].Amps * 1e3 // mohm, of plus and minus of both leads that end in it
		for n := range 20 {
			real := burnt
			real.trim = w.volts * (1 + setPoint*(2*r.Float64()-1))
			shown := shownBy(r, voltsAt(t, real))
			below, volts := alarm(plan, shown)
			if !below {
				t.Errorf("%g V, %d: %.2f passes, expected %+v", w.volts, n, shown, plan)
			}
			if !volts {
				hidden++
			}

			real = w
			real.trim = w.volts * (1 + setPoint*(2*r.Float64()-1))
			for x, share := range map[*float64]float64{&real.rail: 0.1, &real.current: 0.05, &real.near: 0.03, &real.far: 0.03} {
				*x *= 1 + share*(2*r.Float64()-1)
			}
			if shown := shownBy(r, voltsAt(t, real)); !t.Failed() {
				if below, _ := alarm(plan, shown); below {
					t.Errorf("%g V, %d: %.2f is sound, expected %+v", w.volts, n, shown, plan)
				}
			}
		}
	}
	t.Logf("%d of %d burning joints are hidden by the voltages alone", hidden, 20*len(hung))
	if hidden == 0 {
		t.Error("the voltages alone find all: what is the column for?")
	}
}

// What a reading may differ by, reckoned by hand.
func TestExpectedLeaves(t *testing.T) {
	w := hung[2]
	at := voltsAt(t, w)
	got := worked(t, w.String()+read([]float64{12.13, at[1] + 0.03, at[2] + 0.03, at[3] - 0.3})).Readings()
	near(t, "at the supply", got[0].Leave, 0.005*12.1+0.02, 1e-9) // its trim was measured
	end, start := got[3], math.Round((at[2]+0.03)*100)/100
	near(t, "from what the start gives", end.Want, start-(at[2]-at[3]), 1e-9)
	// Rail, light, chips and lead, each moved to the end of its range by itself, added as squares.
	moved := func(change func(mounted) mounted, from int) float64 {
		now := voltsAt(t, change(w))
		drop := func(v []float64) float64 { return v[3] - v[from] }
		return drop(now) - drop(at)
	}
	leaves := func(from int) float64 {
		sum := 0.0
		for _, change := range []func(mounted) mounted{
			func(w mounted) mounted { w.rail *= 1 + railSpread; return w },
			func(w mounted) mounted { w.current *= 1 + lightSpread; return w },
			func(w mounted) mounted { w.near += w.near*lengthSpread + contactSpread/perMetre; return w },
			func(w mounted) mounted { w.far += w.far*lengthSpread + contactSpread/perMetre; return w },
		} {
			sum += math.Pow(moved(change, from), 2)
		}
		return math.Sqrt(sum)
	}
	near(t, "at the end", end.Leave, 0.04+0.005*(at[2]-at[3])+leaves(2), 2e-3) // the chips of the strip draw 1 mA
	alone := worked(t, strings.Replace(w.String(), "trim   = \"12.1000 V\"\n", "", 1)+"reading \"a\" {\n  at = supply.psu\n  volts = \"11.0 V\"\n}\n")
	near(t, "with no trim", alone.Readings()[0].Leave, 0.005*12+2*0.1+0.12, 1e-9)
}

// perMetre is the resistance of 18 AWG, ohm/m (NEC chapter 9 table 8, 7.95 ohm/kFT at 75 degC, stranded: 26.1 ohm/km; at 20 degC 21.4).
const perMetre = 0.0214
