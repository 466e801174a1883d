package lists_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// works works a plan out; hostile is for those whose text has problems.
func works(t *testing.T, text string, hostile bool) *figures.Figures {
	t.Helper()
	p := schema.Decode("", []*source.File{source.Parse(source.NewText("plan.ohm.hcl", []byte(text)))}, nil)
	for _, pr := range p.Problems {
		if !hostile {
			t.Errorf("%s: %s", pr.Rule, pr.Message)
		}
	}
	f, err := figures.Work(t.Context(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// brief writes some columns of a list, a row a line, by the keys of the columns.
func brief(l *lists.Table, keys ...string) string {
	var b strings.Builder
	for _, r := range l.Rows {
		var cells []string
		for _, k := range keys {
			for i, c := range l.Columns {
				if c.Key == k && !r.Cells[i].Empty() {
					cells = append(cells, c.Show(r.Cells[i], l.Habit))
				}
			}
		}
		b.WriteString(strings.Join(cells, " | ") + "\n")
	}
	for _, n := range l.Notes {
		if n.Caution {
			b.WriteString("! " + n.Text + "\n")
		}
	}
	return b.String()
}

const bench = `
plan "p" {}
policy { spare = "0 %" }
wire "cable" {
  gauge = "1.5 mm2"
  cores = 4
  reel  = "10 m"
}
wire "single" { gauge = "0.5 mm2" }
wire "red" {
  gauge = "2.5 mm2"
  color = "RD"
  have  = "1 m"
}
supply "brick" {
  output = "5 V"
  rating = "20 A"
}
controller "brain" {
  board  = catalog.esp32_devkit
  buffer = "5 V"
  port "a" { pin = 4 }
}
run "a" {
  strip  = catalog.apa102_5v_60
  length = "1 m"
}
run "b" {
  strip  = catalog.apa102_5v_60
  length = "1 m"
}
`

func TestWhatIsCut(t *testing.T) {
	for _, c := range []struct{ name, text, shopping, cutting string }{
		{
			// A cable of four cores carries the pair, and data and clock of a clocked strip. The second lead in it finds no core
			// left and takes a cable of its own, 3 m for the longer of what is in it.
			"cores of a cable", `
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.cable
  length = "2 m"
}
signal "one" {
  from   = controller.brain.port.a
  to     = run.a.start
  within = lead.one
}
lead "two" {
  from   = supply.brick.out
  to     = run.b.start
  wire   = wire.cable
  length = "3 m"
  within = lead.one
}`, "5.000 | 1 | reel of 10 m\n", "wire.cable | 1 | one | 3.000 | 3.000\nwire.cable | 2 | one, cable 2 | 2.000 | 5.000\nwire.cable | left over | 5.000\n",
		},
		{
			// Single conductors: the pair twice over is four of 2 m, data and clock two of 1 m.
			"conductors side by side", `
lead "one" {
  from     = supply.brick.out
  to       = run.a.start
  wire     = wire.single
  length   = "2 m"
  parallel = 2
}
signal "one" {
  from   = controller.brain.port.a
  to     = run.a.start
  wire   = wire.single
  length = "1 m"
}`, "", "wire.single | 1 | one +1 | 2.000\nwire.single | 2 | one -1 | 2.000\nwire.single | 3 | one +2 | 2.000\nwire.single | 4 | one -2 | 2.000\n" +
				"wire.single | 5 | one data | 1.000\nwire.single | 6 | one clock | 1.000\n",
		},
		{
			"a signal that lies beside single wires and has none", `
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.single
  length = "2 m"
}
signal "one" {
  from   = controller.brain.port.a
  to     = run.a.start
  within = lead.one
}`, "! Not counted: signal.one: no wire is given.\n", "wire.single | 1 | one + | 2.000\nwire.single | 2 | one - | 2.000\n! Not counted: signal.one: no wire is given.\n",
		},
		{
			// Two strips with a second data line: none comes from the controller, one of 1 m goes on from c to d. To a, whose
			// strip has a clock in its place, data and clock go.
			"a second data line", `
run "c" {
  strip  = catalog.ws2815_12v_60
  length = "1 m"
}
run "d" { like = run.c }
signal "one" {
  from   = controller.brain.port.a
  to     = run.c.start
  wire   = wire.single
  length = "3 m"
}
signal "two" {
  from   = run.c.end
  to     = run.d.start
  wire   = wire.single
  length = "1 m"
}
signal "three" {
  from   = run.d.end
  to     = run.a.start
  wire   = wire.single
  length = "50 cm"
}`, "6.000 | 6 | m\n", "wire.single | 1 | one data | 3.000\nwire.single | 2 | two data | 1.000\nwire.single | 3 | two backup data | 1.000\n" +
				"wire.single | 4 | three data | 0.500\nwire.single | 5 | three clock | 0.500\n",
		},
		{
			// 12 m of cable from reels of 10 m: in two parts.
			"longer than a reel", `
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.cable
  length = "12 m"
}`, "", "wire.cable | 1 | one, part 1 | 10.000 | 10.000\nwire.cable | 1 | one, part 2 | 2.000 | 2.000\nwire.cable | left over | 8.000\n",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := works(t, bench+c.text, false)
			got := ""
			for _, l := range strings.SplitAfter(brief(lists.Cutting(f), "part", "cut", "for", "length", "mark"), "\n") {
				if strings.HasPrefix(l, "wire.") || strings.HasPrefix(l, "!") {
					got += l
				}
			}
			if got != c.cutting {
				t.Errorf("cutting: got\n%s\nwant\n%s", got, c.cutting)
			}
			if shopping := brief(lists.Shopping(f), "need_length", "buy", "unit"); !strings.Contains(shopping, c.shopping) {
				t.Errorf("shopping: got\n%s\nwant\n%s", shopping, c.shopping)
			}
		})
	}
}

// What a drawer holds has the colour that the wire says, or none.
func TestColours(t *testing.T) {
	text := strings.Replace(bench, "plan \"p\" {}", "plan \"p\" {}\nmarking {\n  plus  = \"RD\"\n  minus = \"BK\"\n}", 1)
	text = strings.Replace(text, `wire "single" { gauge = "0.5 mm2" }`, "wire \"single\" {\n  gauge = \"0.5 mm2\"\n  have  = \"9 m\"\n}", 1)
	f := works(t, text+`
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.single
  length = "2 m"
}
lead "two" {
  from   = supply.brick.out
  to     = run.b.start
  wire   = wire.red
  length = "2 m"
}`, false)
	got := brief(lists.Shopping(f), "part", "color", "need_length", "have_length", "buy", "unit")
	for _, want := range []string{
		"wire.single | BK | 2.000 | 2 | m\n", "wire.single | RD | 2.000 | 2 | m\n", // the drawer does not say of which
		"wire.red | RD | 4.000 | 1.000 | 3 | m\n",
		"! Not counted: wire.single: 9 m are in the drawer, but not of which colour",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	// Red tells nothing where plus and minus are red: rings do, and black still tells minus.
	labels := brief(lists.Labels(f), "label", "end", "mark")
	for _, want := range []string{"one + | from | 1 ring\n", "one - | from | BK\n", "two + | to | 1 ring\n", "two - | to | 2 rings\n"} {
		if !strings.Contains(labels, want) {
			t.Errorf("no %q in\n%s", want, labels)
		}
	}
}

func TestConsumables(t *testing.T) {
	f := works(t, bench+`
joint "j" { like = catalog.screw_terminal_4 }
lead "one" {
  from   = supply.brick.out
  to     = joint.j
  wire   = wire.single
  length = "1 m"
}
lead "two" {
  from   = joint.j
  to     = run.a.start
  wire   = wire.cable
  length = "2.5 m"
}
consumable "ferrule" {
  for         = "end"
  wire        = wire.single
  have_pieces = 1
}
consumable "shrink" {
  length = "4 cm"
  for    = "end"
  reel   = "1 m"
}
consumable "tie" {
  count = 2
  for   = "lead"
  every = "1 m"
  pack  = 5
}
consumable "sleeving" {
  length = "1 m"
  for    = "lead"
  every  = "1 m"
}
consumable "screw" {
  count = 4
  for   = "run"
}
consumable "box" {
  what  = "box with a lid"
  price = "7 EUR"
}
consumable "label" { for = "joint" }
`, false)
	got := brief(lists.Shopping(f), "what", "need", "need_length", "have", "buy", "unit")
	for _, want := range []string{
		"ferrule | 4 | 1 | 3 | piece\n",                                        // both ends of two conductors
		"shrink | 0.320 | 1 | reel of 1 m\n",                                   // eight ends of 4 cm
		"tie | 8 | 2 | pack of 5\n",                                            // 2 on 1 m, 2 x 3 on 2.5 m
		"sleeving | 3.500 | 4 | m\n",                                           // 1 m and 2.5 m
		"screw | 8 | 8 | piece\n",                                              // two runs
		"box with a lid | 1 | 1 | piece\n",                                     // once
		"label | 1 | 1 | piece\n",                                              // one joint
		"jumper bar of 4 poles for catalog.screw_terminal_4 | 2 | 2 | piece\n", // one for plus, one for minus
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

// In a plan in feet and inches lengths are read off a tape, and wire is bought by the foot.
func TestFeetAndInches(t *testing.T) {
	f := works(t, `
plan "p" {}
wire "w" { gauge = "18 AWG" }
supply "brick" {
  output = "5 V"
  rating = "20 A"
}
run "a" {
  strip  = catalog.ws2812b_5v_60
  length = "3 ft 4 in"
}
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.w
  length = "10 ft"
}`, false)
	// 20 ft of single wire and 5 % of spare are 21 ft.
	if got := brief(lists.Shopping(f), "part", "need_length", "buy", "unit"); !strings.Contains(got, "wire.w | 20 ft | 21 | ft\n") || !strings.Contains(got, "reel of 16 ft 5 in") {
		t.Error(got)
	}
	if got := brief(lists.Wires(f), "label", "length"); got != "one | 10 ft\n" {
		t.Error(got)
	}
}

// A cable has a label on its jacket at each end beside those of its cores.
func TestJackets(t *testing.T) {
	f := works(t, bench+`
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.cable
  length = "2 m"
  fuse   = "5 A"
}`, false)
	want := `one | from | jacket, 2 of 4 cores | one / here: supply brick / to: run a start
one | to | jacket, 2 of 4 cores | one / here: run a start / to: supply brick
one + | from | 1 ring | one + / here: supply brick / to: run a start / fuse 5 A
one + | to | 1 ring | one + / here: run a start / to: supply brick
one - | from | 2 rings | one - / here: supply brick / to: run a start
one - | to | 2 rings | one - / here: run a start / to: supply brick
`
	if got := brief(lists.Labels(f), "label", "end", "mark", "flag"); !strings.HasPrefix(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// What a meter shows at the outputs is by hand: of 12 V the meter leaves 0.5 % and two digits of 10 mV open, and an
// adjuster that nobody measured 1 % of 12 V: 0.06 + 0.02 + 0.12 V. Behind the lead, with one meter, the digits of
// both readings count and 15.5 % of what is lost.
func TestPoints(t *testing.T) {
	f := works(t, `
plan "p" {}
wire "w" { gauge = "18 AWG" }
supply "brick" {
  output = "12 V"
  rating = "20 A"
}
supply "set" {
  output = "12 V"
  trim   = "12 V"
  rating = "20 A"
}
run "a" {
  strip  = catalog.ws2815_12v_60
  length = "1 m"
}
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.w
  length = "1 m"
}
run "b" { like = run.a }
lead "two" {
  like = lead.one
  from = supply.set.out
  to   = run.b.start
}`, false)
	got := brief(lists.Points(f), "point", "volts", "volts_tolerance")
	if !strings.HasPrefix(got, "supply.brick.out | 12.00 | 0.20\nsupply.set.out | 12.00 | 0.08\nrun.a.start | ") {
		t.Error(got)
	}
	e := f.Expect([]*schema.Point{{Kind: schema.RunPlace, Run: f.Plan.Runs[0], Where: schema.AtStart}}, f.Cases[0])[0]
	// How the supply is set falls out: what is left is the meter twice, its share of the drop, and what the lead and the current leave open.
	if below := 12 - e.Volts; !e.OK || below < 0.01 || math.Abs(e.Below-below) > 1e-9 || e.BelowLeave < 0.04+0.005*below || e.BelowLeave > 0.04+0.4*below {
		t.Errorf("%+v", e)
	}
}

// What a ceiling forbids is no box to fill: a case that it bites is not there, and one that it leaves alone is the
// same as held and stands there once.
func TestPointsUnderCeilings(t *testing.T) {
	const plan = `
plan "p" {}
wire "w" { gauge = "18 AWG" }
supply "brick" {
  output = "12 V"
  rating = "20 A"
}
controller "brain" {
  port "out" {}
  CEILING
}
run "a" {
  strip  = catalog.ws2815_12v_60
  length = "1 m"
}
signal "data" {
  from   = controller.brain.port.out
  to     = run.a.start
  length = "1 m"
}
lead "one" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.w
  length = "1 m"
}
case "half" {
  level = "50 %"
  held  = false
}
case "dim" {
  level = "5 %"
  held  = false
}`
	for _, x := range []struct{ ceiling, cases string }{
		{"", "full half dim"},
		{`ceiling = "8 A"`, "full and held half dim"},
		{`ceiling = "0.3 A"`, "held dim"},
	} {
		table := lists.Points(works(t, strings.Replace(plan, "CEILING", x.ceiling, 1), false))
		var cases []string
		for i, r := range table.Rows {
			if i == 0 || r.Group != table.Rows[i-1].Group {
				cases = append(cases, r.Group)
			}
		}
		if got := strings.Join(cases, " "); got != x.cases {
			t.Errorf("%s: %s, want %s", x.ceiling, got, x.cases)
		}
		var text strings.Builder
		if err := table.Text(&text); err != nil {
			t.Fatal(err)
		}
		if told := strings.Contains(text.String(), "do not lift a ceiling"); told != strings.HasPrefix(x.cases, "held") {
			t.Errorf("%s: told of the ceiling: %v", x.ceiling, told)
		}
	}
}

// A plan whose names and texts mean harm, or that is torn, gives lists all the same, whose cells keep to their lines.
func TestHostile(t *testing.T) {
	texts := []string{"", "plan", "plan \"p\" {", bench + "lead \"x\" {}\nsignal \"y\" {}\nrun \"z\" {}\norder \"o\" {}\nuniverses \"u\" {}\nconsumable \"c\" { for = 3 }"}
	for _, name := range []string{"=1+1", "\\u001b[2J", "a\\nb", "<script>", strings.Repeat("x", 10000), "\\u202egnp.exe", "-", "'", "\\\""} {
		texts = append(texts, strings.NewReplacer(`"one"`, `"`+name+`"`, `lead.one`, `lead.two`).Replace(bench)+`
consumable "`+name+`" { what = "`+name+`" }
lead "two" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.single
  length = "1 m"
}
`)
	}
	for i, text := range texts {
		f := works(t, text, true)
		for _, l := range lists.All {
			table := l.Of(f)
			for _, r := range table.Rows {
				if len(r.Cells) != len(table.Columns) {
					t.Fatalf("text %d, %s: %d cells in %d columns", i, l.Name, len(r.Cells), len(table.Columns))
				}
			}
			var text, csv, js strings.Builder
			for _, err := range []error{table.Text(&text), table.CSV(&csv), table.JSON(&js)} {
				if err != nil {
					t.Error(err)
				}
			}
			if n := strings.Count(text.String(), "\n"); n > 2*len(table.Rows)+len(table.Notes)+10 {
				t.Errorf("text %d, %s: %d lines for %d rows", i, l.Name, n, len(table.Rows))
			}
		}
	}
}

// Random plans, whole and with lines lost, give lists without a panic, and what is cut is what is needed.
func TestRandomPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 60 {
		text := bigplan.Random(r)
		if n%2 == 1 {
			lines := strings.Split(text, "\n")
			for range 3 {
				k := r.IntN(len(lines))
				lines = append(lines[:k], lines[k+1:]...)
			}
			text = strings.Join(lines, "\n")
		}
		f := works(t, text, true)
		for _, l := range lists.All {
			table := l.Of(f)
			for _, row := range table.Rows {
				if len(row.Cells) != len(table.Columns) {
					t.Fatalf("%s: %d cells in %d columns\n%s", l.Name, len(row.Cells), len(table.Columns), text)
				}
			}
		}
		for _, x := range lists.Shop(f).Items {
			if x.Cut == nil {
				continue
			}
			sum := 0.0
			for _, p := range x.Cut.For {
				sum += p.Length
			}
			if math.Abs(sum-x.Need) > 1e-6 {
				t.Errorf("%s: %g m are cut, %g m are needed\n%s", x.Name(), sum, x.Need, text)
			}
		}
	}
}

// The worst of a lead that a ceiling holds back is what it carries without one: firmware may be lost.
func TestWorstIsOfAllCases(t *testing.T) {
	f := works(t, strings.Replace(bench, `buffer = "5 V"`, "buffer = \"5 V\"\n  ceiling = \"2 A\"", 1)+`
lead "all" {
  from   = supply.brick.out
  to     = joint.j
  wire   = wire.single
  length = "1 m"
}
joint "j" { like = catalog.screw_terminal_4 }
lead "a" {
  from   = joint.j
  to     = run.a.start
  wire   = wire.single
  length = "1 m"
}
lead "b" {
  like = lead.a
  to   = run.b.start
}
signal "a" {
  from   = controller.brain.port.a
  to     = run.a.start
  wire   = wire.single
  length = "1 m"
}
signal "b" {
  like = signal.a
  from = run.a.end
  to   = run.b.start
}`, false)
	full := f.Cases[0]
	all := math.Abs(full.Leads[0].Amps)
	if all <= 2 {
		t.Fatalf("the ceiling does not bite: %g A", all)
	}
	if got, want := brief(lists.Wires(f), "label", "amps", "case"), fmt.Sprintf("all | %.2f | full\n", all); !strings.HasPrefix(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// What is bought for the spare alone is told, and so are the pieces left over: 9.6 m of strip are 10.08 m with 5 %, a third reel of
// 5 m; two pieces of 4.8 m leave 0.2 m each. 10 m of wire become 10.5 m, and 11 m are bought.
func TestSpareAndLeftovers(t *testing.T) {
	f := works(t, `
plan "p" {}
wire "w" { gauge = "1.5 mm2" }
supply "brick" {
  output = "12 V"
  rating = "20 A"
}
run "a" {
  strip  = catalog.ws2815_12v_60
  length = "4.8 m"
}
run "b" { like = run.a }
lead "a" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.w
  length = "5 m"
}`, false)
	list := lists.Shopping(f)
	got := brief(list, "part", "need_length", "buy", "spare", "unit")
	for _, n := range list.Notes {
		got += n.Text + "\n"
	}
	for _, want := range []string{"catalog.ws2815_12v_60 | 9.600 | 3 | 1 | reel of 5 m\n", "wire.w | 10.000 | 11 | 1 | m\n", "supply.brick | 1 | piece\n", "5 % more is bought", "catalog.ws2815_12v_60 2 pieces of 0.200 m."} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}
