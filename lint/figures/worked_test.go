package figures

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ohmstead/calc/address"
	"ohmstead/calc/fuse"
)

// The worked examples share a strip with rails of 1 oz copper, 3 mm wide, 60
// pixels a metre, each a plain sink of constant current:
// 2 * 0.017241/(0.035 * 3) = 0.3284 ohm/m for both rails together (resistivity:
// NBS Handbook 100; foil thickness: IPC-4562).
//
// In the examples pixel k = 1, 2, … sits k pitches from the feed; on a run it
// sits half a pitch nearer. So the run is fed through a joint whose two contacts
// make up half a pitch of rail: 0.1642/120 = 1.368333 mohm a side. They take copper to be as warm as the air: a
// rail that is judged at 1 mA and wires rated for 1000 A stay so.
const workedParts = `
strip "film" {
  voltage         = "5 V"
  density         = "60/m"
  channels        = "W"
  channel_current = "CURRENT"
  idle_current    = "IDLE"
  forward         = "0.1 V"
  headroom        = "0.1 V"
  rail            = "0.1642 ohm/m"
  rail_current    = "1 mA"
}
wire "short" {
  gauge    = "10 AWG"
  ampacity = "1000 A"
}
wire "solid" {
  gauge    = "18 AWG"
  stranded = false
  ampacity = "1000 A"
}
joint "a" { resistance = "0.6841667 mohm" }
joint "b" { resistance = "0.6841667 mohm" }
run "film" {
  strip  = strip.film
  pixels = PIXELS
}
`

// workedPlan fills in the strip's currents and the run's pixels.
func workedPlan(t *testing.T, ambient, current, idle string, pixels int, rest string) *Figures {
	t.Helper()
	text := strings.NewReplacer("CURRENT", current, "IDLE", idle, "PIXELS", fmt.Sprint(pixels)).Replace(workedParts)
	return figuresOf(t, decode(t, "x", "plan \"x\" { ambient = \""+ambient+"\" }\n"+text+rest), nil)
}

func workedSupply(name, volts string) string {
	return fmt.Sprintf("supply %q {\n  output = %q\n  rating = \"20 A\"\n}\n", name, volts)
}

func workedLead(name, from, to, wire, length string) string {
	return fmt.Sprintf("lead %q {\n  from   = %s\n  to     = %s\n  wire   = wire.%s\n  length = %q\n}\n", name, from, to, wire, length)
}

// joined feeds an end of the film through a joint: half a pitch of rail.
func joined(joint, supply, end, wire, length string) string {
	return workedLead("to-"+joint, "supply."+supply+".out", "joint."+joint, wire, length) +
		workedLead("from-"+joint, "joint."+joint, "run.film."+end, "short", "0.01 mm")
}

func TestWorkedFeeds(t *testing.T) {
	const (
		series   = "sum of an arithmetic series, I R' p N(N+1)/2; copper: NBS Handbook 100, foil: IPC-4562"
		half     = "the same with the first pixel half a pitch from the feed, N^2/2"
		doubling = "LM10A flexible LED module datasheet: a module fed at both ends may be twice as long"
		gauge    = "NBS Handbook 100: 18 AWG has 20.948 ohm/km at 20 degC, 0.00393/K"
		diagonal = "superposition of the load and of the voltage between the ends over 121 pitches of both rails"
	)
	type check struct {
		what   string
		got    func(*Figures) float64
		want   float64
		digits float64 // half a unit of the last one printed
		source string
	}
	volts := func(k int) func(*Figures) float64 { // of pixel k, counted from 1
		return func(f *Figures) float64 { return f.Cases[0].Runs[0].Volts()[k-1] }
	}
	lost := func(k int) func(*Figures) float64 {
		return func(f *Figures) float64 { return 5 - f.Cases[0].Runs[0].Volts()[k-1] }
	}
	supply := func(c, i int) func(*Figures) float64 {
		return func(f *Figures) float64 { return f.Cases[c].Supplies[i].Amps }
	}
	dark := func(i int) func(*Figures) float64 {
		return func(f *Figures) float64 {
			amps, ok := f.Islands[0].Dark()
			if !ok {
				return math.NaN()
			}
			return amps[i]
		}
	}
	least := func(f *Figures) float64 { return f.Cases[0].Runs[0].MinVolts }
	leastAt := func(f *Figures) float64 { return float64(f.Cases[0].Runs[0].MinPixel + 1) }
	drop := func(f *Figures) float64 { return f.Cases[0].Leads[0].Drop }
	brick := workedSupply("brick", "5 V")
	for _, tc := range []struct {
		name                   string
		ambient, current, idle string
		pixels                 int
		rest                   string
		checks                 []check
	}{
		{"one feed", "20 degC", "50 mA", "0 mA", 60, brick + joined("a", "brick", "start", "short", "0.01 mm"), []check{
			{"drop at the last pixel", lost(60), 0.5008, 5e-5, series},
			{"last pixel", volts(60), 4.499, 5e-4, series},
			{"drop at the first pixel", lost(1), 0.01642, 5e-6, series},
			{"least voltage", least, 4.499, 5e-4, series},
			{"bound over every pattern", func(f *Figures) float64 { return f.Any.Runs[0].MinVolts }, 4.499, 5e-4, series},
		}},
		{"one feed at the strip's end", "20 degC", "50 mA", "0 mA", 60, brick + workedLead("a", "supply.brick.out", "run.film.start", "short", "0.01 mm"), []check{
			{"drop at the last pixel", lost(60), 0.4926, 5e-5, half},
		}},
		{"both ends fed", "20 degC", "50 mA", "0 mA", 120,
			brick + joined("a", "brick", "start", "short", "0.01 mm") + joined("b", "brick", "end", "short", "0.01 mm"), []check{
				{"drop at pixel 60", lost(60), 0.5008, 5e-5, doubling},
				{"drop at pixel 61", lost(61), 0.5008, 5e-5, doubling},
				{"least voltage", least, 5 - 0.5008, 5e-5, doubling},
				{"drop at the first pixel: 1*120/2", lost(1), 0.05 * 0.3284 / 60 * 60, 1e-6, doubling},
			}},
		{"one end of the same", "20 degC", "50 mA", "0 mA", 120, brick + joined("a", "brick", "start", "short", "0.01 mm"), []check{
			{"drop at the last pixel", lost(120), 1.987, 5e-4, series},
			{"against both ends", func(f *Figures) float64 { return lost(120)(f) / 0.5008 }, 3.967, 1e-3, series},
		}},
		{"a lead before the strip", "20 degC", "50 mA", "0 mA", 60, brick + joined("a", "brick", "start", "solid", "2 m"), []check{
			{"resistance of the lead, both sides", func(f *Figures) float64 { return 2 * (f.Leads[0].Ohms - 0.6841667e-3) }, 0.08379, 5e-6, gauge},
			{"current", func(f *Figures) float64 { return f.Cases[0].Leads[0].Amps }, 3, 5e-4, gauge},
			{"drop of the lead", func(f *Figures) float64 { return drop(f) - 3*2*0.6841667e-3 }, 0.2514, 5e-5, gauge},
			{"first pixel", volts(1), 4.732, 5e-4, gauge},
			{"last pixel", volts(60), 4.248, 5e-4, gauge},
			{"total drop", lost(60), 0.7522, 5e-5, gauge},
			{"total drop as a share", func(f *Figures) float64 { return lost(60)(f) / 5 }, 0.1504, 5e-5, gauge},
		}},
		{"a hot lead before the strip", "60 degC", "50 mA", "0 mA", 60, brick + joined("a", "brick", "start", "solid", "2 m"), []check{
			{"resistance of the lead, both sides", func(f *Figures) float64 { return 2 * (f.Leads[0].Ohms - 0.6841667e-3) }, 0.09697, 5e-6, gauge},
			{"drop of the lead", func(f *Figures) float64 { return drop(f) - 3*2*0.6841667e-3 }, 0.2909, 5e-5, gauge},
		}},
		{"two supplies across one strip", "20 degC", "19 mA", "1 mA", 120,
			brick + workedSupply("second", "4.9 V") + joined("a", "brick", "start", "short", "0.01 mm") + joined("b", "second", "end", "short", "0.01 mm"), []check{
				{"current of the 5.0 V supply", supply(0, 0), 1.351, 5e-4, diagonal},
				{"current of the 4.9 V supply", supply(0, 1), 1.049, 5e-4, diagonal},
				{"least voltage", least, 4.747, 5e-4, diagonal},
				{"where", leastAt, 68, 0.5, diagonal},
				{"dark, the 5.0 V supply", dark(0), 0.2110, 5e-5, diagonal},
				{"dark, the 4.9 V supply is fed backwards", dark(1), -0.090995, 5e-7, diagonal},
			}},
		// Back-feeding begins where the difference exceeds N I R/2: 0.7947 V lit, 0.03974 V dark.
		{"before the edge of back-feeding", "20 degC", "19 mA", "1 mA", 120,
			brick + workedSupply("second", "4.2054 V") + joined("a", "brick", "start", "short", "0.01 mm") + joined("b", "second", "end", "short", "0.01 mm"), []check{
				{"current of the weaker supply", func(f *Figures) float64 { return math.Copysign(1, supply(0, 1)(f)) }, 1, 0.1, diagonal},
				{"current of the weaker supply is nearly none", supply(0, 1), 0, 2e-4, diagonal},
			}},
		{"beyond the edge of back-feeding", "20 degC", "19 mA", "1 mA", 120,
			brick + workedSupply("second", "4.2052 V") + joined("a", "brick", "start", "short", "0.01 mm") + joined("b", "second", "end", "short", "0.01 mm"), []check{
				{"current of the weaker supply", func(f *Figures) float64 { return math.Copysign(1, supply(0, 1)(f)) }, -1, 0.1, diagonal},
			}},
		{"the edge of back-feeding in the dark", "20 degC", "19 mA", "1 mA", 120,
			brick + workedSupply("second", "4.96026 V") + joined("a", "brick", "start", "short", "0.01 mm") + joined("b", "second", "end", "short", "0.01 mm"), []check{
				{"current of the weaker supply", dark(1), 0, 1e-5, diagonal},
			}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			f := workedPlan(t, tc.ambient, tc.current, tc.idle, tc.pixels, tc.rest)
			if f.Islands[0].Err != nil {
				t.Fatal(f.Islands[0].Err)
			}
			for _, c := range tc.checks {
				if c.source == "" {
					t.Errorf("%s has no source", c.what)
				}
				if got := c.got(f); !(math.Abs(got-c.want) <= c.digits) {
					t.Errorf("%s: %.7g, want %.7g (%s)", c.what, got, c.want, c.source)
				}
			}
		})
	}
}

// The choice of a fuse for a load: the load is what the plan's lead carries, the
// fuse protects the wire by the table.
func TestWorkedFuses(t *testing.T) {
	const (
		selection = `PC-8R installation guide, "Fuse selection": a fuse carries 75 % of its rating; ISO 8820-3 ratings`
		example   = selection + ", example of 4.8 A"
	)
	blade, _ := fuse.Named("blade")
	for _, tc := range []struct {
		name    string
		current string // of each of 60 pixels
		load    float64
		needs   float64 // load / 0.75
		fuse    float64 // the smallest that carries the load
		passes  string
		refused string // "" for none
		source  string
	}{
		{"3 A", "50 mA", 3, 4, 4, "20 AWG", "", selection},
		{"3 A on the next larger fuse", "50 mA", 3, 4, 5, "20 AWG", "22 AWG", selection},
		{"3 A on thin wire", "50 mA", 3, 4, 4, "20 AWG", "22 AWG", selection},
		{"4.8 A", "80 mA", 4.8, 6.4, 7.5, "16 AWG", "18 AWG", example},
		{"7 A", "116.6667 mA", 7, 9.333, 10, "14 AWG", "16 AWG", selection},
		{"3.75 A, the edge of a 5 A fuse", "62.5 mA", 3.75, 5, 5, "18 AWG", "22 AWG", selection},
	} {
		t.Run(tc.name, func(t *testing.T) {
			for _, gauge := range []string{tc.passes, tc.refused} {
				if gauge == "" {
					continue
				}
				f := workedPlan(t, "20 degC", tc.current, "0 mA", 60, fmt.Sprintf(`
supply "brick" {
  output = "5 V"
  rating = "40 A"
}
wire "x" { gauge = %q }
lead "a" {
  from   = supply.brick.out
  to     = run.film.start
  wire   = wire.x
  length = "10 cm"
  fuse   = "%g A"
}
`, gauge, tc.fuse))
				load := f.Cases[0].Leads[0].Amps
				if math.Abs(load-tc.load) > 1e-4 || math.Abs(load/blade.Share-tc.needs) > 5e-4 {
					t.Errorf("load %g A needs %g A, want %g and %g A (%s)", load, load/blade.Share, tc.load, tc.needs, tc.source)
				}
				if !blade.Carries(tc.fuse, load) {
					t.Errorf("a %g A fuse does not carry %g A (%s)", tc.fuse, load, tc.source)
				}
				if smallest, ok := blade.SmallestFor(load); !ok || smallest > tc.fuse {
					t.Errorf("the smallest fuse for %g A is %g A, want %g A (%s)", load, smallest, tc.fuse, tc.source)
				}
				fault := f.Leads[0].Fault
				if fault.Amps != tc.fuse || fault.Unguarded != (gauge == tc.refused) {
					t.Errorf("%s behind %g A: exposed to %g A, unguarded %v (%s)", gauge, tc.fuse, fault.Amps, fault.Unguarded, tc.source)
				}
			}
		})
	}
}

// 600 pixels in ANSI E1.31 universes, from a plan.
func TestWorkedUniverses(t *testing.T) {
	const source = "ANSI E1.31-2018: 512 slots a universe, 239.255.(u div 256).(u mod 256), 638 bytes a full packet"
	for _, tc := range []struct {
		name, strip      string
		whole            string
		universes        int
		lastSlots        int
		universe, slot   int // of pixel 400, counted from 0
		address, traffic string
	}{
		{"RGBW", "sk6812_rgbw_5v_60", "true", 5, 352, 4, 65, "239.255.0.4", "1.021e+06"},
		{"RGB", "sk6812_5v_60", "true", 4, 3 * (600 - 3*170), 3, 181, "239.255.0.3", ""},
		{"RGB, packed", "sk6812_5v_60", "false", 4, 1800 - 3*512, 3, 177, "239.255.0.3", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			f := figuresOf(t, decode(t, "x", fmt.Sprintf(`plan "x" {}
run "a" {
  strip  = catalog.%s
  pixels = 600
}
order "a" { runs = [run.a] }
universes "a" {
  order        = order.a
  first        = 1
  whole_pixels = %s
}
`, tc.strip, tc.whole)), nil)
			u := f.Universes[0]
			if !u.OK || len(u.Spans) != tc.universes || u.Spans[len(u.Spans)-1].Slots != tc.lastSlots {
				t.Fatalf("ok %v (%v), %d universes %+v; want %d, the last with %d slots (%s)", u.OK, u.Err, len(u.Spans), u.Spans, tc.universes, tc.lastSlots, source)
			}
			universe, slot, err := u.Layout.Locate(400)
			to, err2 := address.Multicast(universe)
			if err != nil || err2 != nil || universe != tc.universe || slot != tc.slot || to.String() != tc.address {
				t.Errorf("pixel 400: universe %d slot %d to %v, want %d, %d, %s (%s)", universe, slot, to, tc.universe, tc.slot, tc.address, source)
			}
			if tc.traffic != "" {
				if rate, err := address.DataRate(len(u.Spans), 40); err != nil || fmt.Sprintf("%.4g", rate) != tc.traffic {
					t.Errorf("%.4g bit/s at 40 Hz, want %s (%s)", rate, tc.traffic, source)
				}
			}
		})
	}
}
