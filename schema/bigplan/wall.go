package bigplan

import (
	"cmp"
	"fmt"
	"strings"
)

// The measures of one wall.
const (
	WallRuns   = 55
	WallPixels = WallRuns * runPixels
	WallTies   = 9 // three of them stand in a ring

	supplies  = 6
	runPixels = 182 // 3.04 m at 60 a metre
	hubRuns   = 10  // on the first supply, behind one busbar; the others feed nine each
	portRuns  = 7   // that one data output drives
)

// Wall writes a plan made like a wall of pixels, so many times over. A wall is
// 55 runs that are fed at both ends from six supplies, under one controller
// whose ceiling spans them all. The minuses of all supplies are tied, as the
// data needs it: each to a busbar, the busbars to one another and to that of
// the hall, and once along the data from one supply's runs to the next one's,
// which closes a ring. The runs of the first supply hang behind one busbar; the
// others' leads start at the supply itself. Blocks are taken over with like and
// copied with times. Here and there something is wrong, as long as a plan is
// being worked on: about thirty things, spread over all walls.
func Wall(walls int) string {
	var b strings.Builder
	b.WriteString(`plan "club-walls" {
  title   = "Pixel walls of the club's hall"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "18 Hz"
  note    = "The minus of every supply is joined at the busbar below the stage"
}

strip "row" {
  like            = catalog.ws2815_12v_60
  channel_current = "15.0 mA"
  price           = "24 EUR"
  reel            = "5 m"
  source          = "measured on the bench, two reels"
}

diffuser "row" { like = catalog.channel_deep }

fixing "row" { like = catalog.channel_clip }

# Home runs, from a supply to one end of a row.
wire "feed" {
  gauge = "16 AWG"
  price = "14 EUR"
  reel  = "25 m"
}

# Left over from another job.
wire "thin" {
  gauge = "22 AWG"
  have  = "60 m"
}

wire "bus" {
  gauge    = "4 AWG"
  ampacity = "60 A"
  source   = "maker's sheet, in free air"
}

wire "tie" {
  gauge = "12 AWG"
}

wire "data" {
  gauge = "22 AWG"
}

board "hub" {
  chip          = "ESP32"
  logic         = "3.3 V"
  input_voltage = ["12 V"]
  needs         = "400 mA"
  lanes         = 8
  pixels        = 12000
  source        = "label on the board"
`)
	for pin := range 8 {
		fmt.Fprintf(&b, "  pin \"%d\" { use = \"good\" }\n", pin+1)
	}
	b.WriteString(`}

# Below the stage: what joins the minuses of all walls.
joint "hall" {
  kind   = "busbar"
  ways   = 12
  rating = "60 A"
}

case "evening" {
  color = "#ffb070"
  level = "70 %"
}

`)
	for w := range walls {
		wall{&b, w + 1, walls}.write()
	}
	return b.String()
}

// wall writes one of the walls.
type wall struct {
	*strings.Builder
	no, of int
}

// add writes text in which @ stands for the wall's name.
func (w wall) add(format string, args ...any) {
	w.WriteString(strings.ReplaceAll(fmt.Sprintf(format, args...), "@", fmt.Sprintf("w%d", w.no)))
}

func (w wall) write() {
	w.middle()
	row := 0
	for s := range supplies - 1 {
		w.supply(s + 1)
		for n := range runsOn(s) {
			w.row(s+1, n+1, row)
			row++
		}
	}
	w.supply(supplies)
	w.copied(row)
	w.ties()
	w.order()
}

func runsOn(supply int) int {
	if supply == 0 {
		return hubRuns
	}
	return (WallRuns - hubRuns) / (supplies - 1)
}

// middle writes what a wall has once.
func (w wall) middle() {
	w.add(`# Wall %d: 55 rows, 10 cm apart.

surface "@" {
  width    = "3.6 m"
  height   = "6 m"
  material = "plywood, painted black"
}

controller "@" {
  board   = board.hub
  buffer  = "5 V"
  ceiling = "75 A"
  price   = "18 EUR"
`, w.no)
	for p := range 8 {
		w.add("  port \"%c\" { pin = %d }\n", 'a'+p, p+1)
	}
	w.add(`}

lead "@" {
  from   = supply.@-1.out
  to     = controller.@.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

# Behind it hang the ten lowest rows.
joint "@-hub" {
  kind   = "busbar"
  ways   = 24
  rating = "60 A"
}

lead "@-hub" {
  from   = supply.@-1.out
  to     = joint.@-hub
  wire   = wire.bus
  length = "60 cm"
  fuse   = "50 A"
}

`)
}

func (w wall) supply(s int) {
	w.add(`supply "@-%d" {
  output     = "12 V"
  rating     = "40 A"
  overload   = "120 %%"
  input      = ["120 V", "230 V"]
  selector   = "230 V"
  efficiency = "88 %%"
  enclosure  = "IP20"
  price      = "58 EUR"
}

`, s)
}

// faults is what is wrong, by row: what a plan has that is being worked on.
var faults = map[int]fault{
	0:  {fuse: "4.5 A", resistor: "0 ohm"},
	1:  {pixels: 180},
	3:  {feed: "thin", fuse: "10 A"},
	4:  {feed: "thin", fuse: "2 A", detour: 1400},
	6:  {fuse: "25 A"},
	7:  {fuse: "none", resistor: "0 ohm"},
	9:  {pixels: 183},
	10: {fuse: "4.5 A"},
	12: {feed: "thin", fuse: "10 A"},
	13: {pixels: 200},
	16: {fuse: "none"},
	17: {feed: "thin", fuse: "2 A", detour: 1200},
	20: {fuse: "10 A"},
	22: {feed: "thin"},
	23: {volts: "7 V"},
	25: {pixels: 165},
	26: {fuse: "1 A"},
	28: {order: "none"},
	33: {feed: "thin"},
	34: {volts: "12.9 V"},
	38: {fuse: "30 A"},
	40: {fuse: "none"},
	42: {fuse: "7 A"},
}

// fault is what a row has instead of what it should have; "none" is none.
type fault struct {
	feed, fuse, resistor, volts, order string
	pixels                             int
	detour                             int // cm, of both its leads
}

// row writes one row of the wall: a run, its two leads and the signal to it.
// Rows to the right and rows back to the left alternate; of the former the
// pixels were counted. Those of the fifth
// supply are like its first two, and the leads of the third supply that go to
// the far ends are like those to the near ones.
func (w wall) row(s, n, row int) {
	name := fmt.Sprintf("@-%d-%d", s, n)
	is := fault{feed: "feed", fuse: "4 A", resistor: "330 ohm"}
	if row%2 == 0 {
		is.pixels, is.volts = runPixels, "11.8 V"
	}
	wrong := w.fault(row)
	is.feed, is.fuse, is.resistor = cmp.Or(wrong.feed, is.feed), cmp.Or(wrong.fuse, is.fuse), cmp.Or(wrong.resistor, is.resistor)
	is.volts, is.pixels = cmp.Or(wrong.volts, is.volts), cmp.Or(wrong.pixels, is.pixels)

	height := 20 + 10*row
	w.add("# Row %d, %d cm up.\n", row+1, height)
	w.add("run \"%s\" {\n", name)
	if s == 5 && n > 2 {
		w.add("  like  = run.@-5-%d\n  shift = [\"0 cm\", \"20 cm\"]\n}\n\n", n-2)
	} else {
		left, right := 20, 324
		if row%2 == 1 {
			left, right = right, left
		}
		w.add("  strip     = strip.row\n  diffuser  = diffuser.row\n  fixing    = fixing.row\n")
		w.add("  insert    = \"slit\"\n  on        = surface.@\n")
		w.add("  through   = [[\"%d cm\", \"%d cm\"], [\"%d cm\", \"%d cm\"]]\n", left, height, right, height)
		if is.pixels > 0 {
			w.add("  pixels    = %d\n", is.pixels)
		}
		w.add("  capacitor = \"1000 uF\"\n}\n\n")
	}
	w.leads(s, row, name, 60+10*n+4*s+wrong.detour, is)
	if row%portRuns == 0 {
		away := height - 300
		w.add("# Data output %c.\nsignal \"%s\" {\n  from     = controller.@.port.%[1]c\n  to       = run.%[2]s.start\n", 'a'+row/portRuns, name)
		w.add("  wire     = wire.data\n  length   = \"%d cm\"\n  resistor = \"%s\"\n}\n\n", 60+max(away, -away), is.resistor)
	} else {
		w.add("# On from the row below.\nsignal \"%s\" {\n  from   = run.%s.end\n  to     = run.%[1]s.start\n  wire   = wire.data\n  length = \"15 cm\"\n}\n\n", name, w.before(s, n))
	}
	if is.volts != "" {
		w.add("reading \"%s\" {\n  at    = run.%[1]s[90]\n  volts = \"%s\"\n  taken = \"2026-05-01\"\n}\n\n", name, is.volts)
	}
}

// leads writes the leads to the two ends of a row, the near one so many
// centimetres away. What is wrong is wrong with that one, but for a detour.
func (w wall) leads(s, row int, name string, away int, is fault) {
	source := fmt.Sprintf("supply.@-%d.out", s)
	if s == 1 {
		source = "joint.@-hub"
	}
	lead := func(end string, away int, feed, fuse string) {
		w.add("lead \"%s-%s\" {\n  from   = %s\n  to     = run.%[1]s.%[2]s\n  wire   = wire.%[4]s\n  length = \"%[5]d cm\"\n", name, end, source, feed, away)
		if fuse != "none" {
			w.add("  fuse   = \"%s\"\n", fuse)
		}
		w.add("}\n\n")
	}
	w.add("# Cable %d\n", 2*row+1)
	lead("start", away, is.feed, is.fuse)
	w.add("# Cable %d, along the row.\n", 2*row+2)
	switch {
	case s == 3:
		w.add("lead \"%s-end\" {\n  like   = lead.%[1]s-start\n  to     = run.%[1]s.end\n  length = \"%d cm\"\n}\n\n", name, away+310)
	case away > 1000:
		lead("end", away+310, is.feed, is.fuse)
	default:
		lead("end", away+310, "feed", "4 A")
	}
}

// fault is what is wrong with a row, if it falls to this wall.
func (w wall) fault(row int) fault {
	if row%w.of != w.no-1 {
		return fault{}
	}
	return faults[row]
}

// before names the run below.
func (w wall) before(s, n int) string {
	if n > 1 {
		return fmt.Sprintf("@-%d-%d", s, n-1)
	}
	return fmt.Sprintf("@-%d-%d", s-1, runsOn(s-2))
}

// copied writes the rows of the last supply, which are copies of two.
func (w wall) copied(row int) {
	height := 20 + 10*row
	for _, pass := range []struct {
		name              string
		left, right, rise int
		times             int
	}{{"out", 20, 324, 0, 5}, {"back", 324, 20, 10, 4}} {
		w.add("run \"@-6-%s\" {\n  times     = %d\n  strip     = strip.row\n  diffuser  = diffuser.row\n  fixing    = fixing.row\n  insert    = \"slit\"\n  on        = surface.@\n", pass.name, pass.times)
		w.add("  through   = [[\"%d cm\", \"%d cm\"], [\"%d cm\", \"%d cm\"]]\n", pass.left, height+pass.rise, pass.right, height+pass.rise)
		w.add("  shift     = [\"0 cm\", \"20 cm\"]\n  capacitor = \"1000 uF\"\n}\n\n")
		for _, end := range []struct {
			name   string
			length int
		}{{"start", 130}, {"end", 440}} {
			w.add("lead \"@-6-%s-%s\" {\n  times  = %d\n  from   = supply.@-6.out\n  to     = run.@-6-%s-each.%s\n", pass.name, end.name, pass.times, pass.name, end.name)
			w.add("  wire   = wire.feed\n  length = \"%d cm\"\n  fuse   = \"4 A\"\n}\n\n", end.length)
		}
	}
	w.add(`signal "@-6" {
  from     = controller.@.port.h
  to       = run.@-6-out-1.start
  wire     = wire.data
  length   = "%d cm"
  resistor = "330 ohm"
}

signal "@-6-turn" {
  times  = 4
  from   = run.@-6-out-each.end
  to     = run.@-6-back-each.start
  wire   = wire.data
  length = "15 cm"
}

signal "@-6-up" {
  times  = 4
  from   = run.@-6-back-each.end
  to     = run.@-6-out-next.start
  wire   = wire.data
  length = "15 cm"
}

`, height-240)
}

// ties joins the minuses of the wall's supplies.
func (w wall) ties() {
	for _, bar := range "ab" {
		w.add("joint \"@-%c\" {\n  like = joint.hall\n  ways = 6\n}\n\n", bar)
	}
	tie := func(name, from, to string, length int) {
		w.add("lead \"@-tie-%s\" {\n  from    = %s\n  to      = %s\n  wire    = wire.tie\n  length  = \"%d cm\"\n  carries = \"minus\"\n}\n\n", name, from, to, length)
	}
	for s := range supplies {
		tie(fmt.Sprint(s+1), fmt.Sprintf("supply.@-%d.out", s+1), fmt.Sprintf("joint.@-%c", 'a'+s/3), 70+30*(s%3))
	}
	tie("bars", "joint.@-a", "joint.@-b", 180)
	tie("hall", "joint.@-a", "joint.hall", 400+100*w.no)
	tie("data", "run.@-2-9.end", "run.@-3-1.start", 20)
}

func (w wall) order() {
	w.add("order \"@\" {\n  runs = [\n")
	row := 0
	for s := range supplies - 1 {
		for n := range runsOn(s) {
			if w.fault(row).order != "none" {
				w.add("    run.@-%d-%d,\n", s+1, n+1)
			}
			row++
		}
	}
	w.add("    in_turn(run.@-6-out-all, run.@-6-back-all),\n  ]\n}\n\n")
	w.add("universes \"@\" {\n  order = order.@\n  first = %d\n}\n\n", 1+(w.no-1)*60)
}
