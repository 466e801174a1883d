package lists_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func listOf(t *testing.T, text string) lists.Purchase {
	t.Helper()
	p := schema.Decode("", []*source.File{source.Parse(source.NewText("plan.ohm.hcl", []byte(text)))}, nil)
	for _, pr := range p.Problems {
		t.Errorf("%s: %s", pr.Rule, pr.Message)
	}
	f, err := figures.Work(t.Context(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return lists.Shop(f)
}

// lines writes a list as text, one part a line.
func lines(l lists.Purchase) string {
	var b strings.Builder
	for _, x := range l.Items {
		fmt.Fprintf(&b, "%s %s: need %.4g, have %.4g, buy %d %s", x.Kind, x.Name(), x.Need, x.Have, x.Buy, x.Unit)
		if c, ok := x.Cost(); ok {
			fmt.Fprintf(&b, ", %s", c.Exact())
		}
		b.WriteByte('\n')
	}
	for _, q := range l.Totals {
		fmt.Fprintf(&b, "total %s\n", q.Exact())
	}
	if l.Unpriced > 0 {
		fmt.Fprintf(&b, "unpriced %d\n", l.Unpriced)
	}
	for _, m := range l.Missing {
		fmt.Fprintf(&b, "missing %s\n", m)
	}
	return b.String()
}

const parts = `
plan "p" {}
strip "s" {
  like  = catalog.ws2812b_5v_60
  price = "20 EUR"
}
`

func TestOf(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{
			// 3 m and 2 m fill one reel of 5 m; 5 % more is a second one.
			"spare takes another reel", parts + `
run "a" {
  strip  = strip.s
  length = "3 m"
}
run "b" {
  strip  = strip.s
  length = "2 m"
}`, "strip strip.s: need 5, have 0, buy 2 reel of 5 m, 40 EUR\ntotal 40 EUR\n",
		},
		{
			// 3 x 3 m: no two fit one reel of 5 m.
			"three pieces that do not pair", parts + `
policy { spare = "0 %" }
run "a" {
  strip  = strip.s
  length = "3 m"
  times  = 3
}`, "strip strip.s: need 9, have 0, buy 3 reel of 5 m, 60 EUR\ntotal 60 EUR\n",
		},
		{
			// 12 m is two whole reels and 2 m, which the drawer holds.
			"longer than a reel, and a drawer", `
plan "p" {}
policy { spare = "0 %" }
strip "s" {
  like  = catalog.ws2812b_5v_60
  price = "20 EUR"
  have  = "2.5 m"
}
run "a" {
  strip  = strip.s
  length = "12 m"
}`, "strip strip.s: need 12, have 2.5, buy 2 reel of 5 m, 40 EUR\ntotal 40 EUR\n",
		},
		{
			// Two channels of 1 m from a bar of 2 m: the saw takes 3 mm, so two bars.
			// Clips: 1 m / 0.4 m, rounded up, and one more: 4 each, 8 x 1.05 in packs of 5: 2.
			"channel, caps and clips", parts + `
diffuser "d" {
  kind      = "channel"
  piece     = "2 m"
  price     = "10 EUR"
  cap_price = "0.50 EUR"
}
fixing "f" {
  kind    = "clip"
  spacing = "40 cm"
  pack    = 5
  price   = "3 USD"
}
run "a" {
  strip    = strip.s
  diffuser = diffuser.d
  fixing   = fixing.f
  length   = "1 m"
  times    = 2
}`, `strip strip.s: need 2, have 0, buy 1 reel of 5 m, 20 EUR
diffuser diffuser.d: need 2, have 0, buy 2 piece of 2 m, 20 EUR
end cap end cap for diffuser.d: need 4, have 0, buy 4 piece, 2 EUR
fixing fixing.f: need 8, have 0, buy 2 pack of 5, 6 USD
total 42 EUR
total 6 USD
`,
		},
		{
			// The pair of 4 m is 8 m of single wire, x 1.05 = 8.4, less 1 m: 8 m. Of the
			// cable with two cores it is 4 m in one piece of a reel of 10 m. The signal
			// shares the lead's cable.
			"wire, cable, fuses, joints", `
plan "p" {}
wire "single" {
  gauge = "16 AWG"
  have  = "1 m"
}
wire "cable" {
  gauge = "1.5 mm2"
  cores = 3
  reel  = "10 m"
  price = "9 EUR"
}
supply "brick" {
  output = "5 V"
  rating = "10 A"
  price  = "30 EUR"
}
controller "brain" {
  board  = catalog.esp32_devkit
  buffer = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
  port "b" { pin = 5 }
}
joint "one" {
  like  = catalog.lever_joint_3
  price = "0.80 EUR"
}
joint "two" {
  like  = catalog.lever_joint_3
  price = "0.80 EUR"
}
run "a" {
  strip  = catalog.ws2812b_5v_60
  length = "1 m"
}
lead "one" {
  from   = supply.brick.out
  to     = joint.one
  wire   = wire.single
  length = "4 m"
  fuse   = "5 A"
}
lead "two" {
  from   = joint.one
  to     = joint.two
  wire   = wire.cable
  length = "4 m"
  fuse   = "5 A"
}
signal "a" {
  from   = controller.brain.port.a
  to     = run.a.start
  within = lead.two
}`, `strip catalog.ws2812b_5v_60: need 1, have 0, buy 1 reel of 5 m
supply supply.brick: need 1, have 0, buy 1 piece, 30 EUR
controller catalog.esp32_devkit: need 1, have 0, buy 1 piece
level shifter level shifter to 5 V: need 1, have 0, buy 1 piece
wire wire.cable: need 4, have 0, buy 1 reel of 10 m, 9 EUR
wire wire.single: need 8, have 1, buy 8 m
joint catalog.lever_joint_3: need 4, have 0, buy 4 piece, 3.2 EUR
holder in-line holder for a blade fuse: need 2, have 0, buy 2 piece
fuse blade fuse 5 A: need 2, have 0, buy 2 piece
resistor resistor 330 ohm: need 2, have 0, buy 2 piece
total 42.2 EUR
unpriced 7
`,
		},
		{"fuses by kind, an in-line holder for each, blocks by their ways, nothing for a resettable fuse", parts + `
wire "w" { gauge = "16 AWG" }
supply "brick" {
  output = "5 V"
  rating = "60 A"
}
run "a" {
  strip  = strip.s
  length = "1 m"
  times  = 4
}
lead "a" {
  times  = 4
  from   = supply.brick.out
  to     = run.a-each.start
  wire   = wire.w
  length = "1 m"
  fuse   = "5 A"
  holder = catalog.blade_block_4
}
lead "b" {
  times  = 4
  from   = supply.brick.out
  to     = run.a-each.end
  wire   = wire.w
  length = "1 m"
  fuse   = "5 A"
  holder = catalog.inline_glass
}
lead "c" {
  from   = supply.brick.out
  to     = run.a-1["50 cm"]
  wire   = wire.w
  length = "1 m"
  fuse   = "2.5 A"
  holder = catalog.resettable_16v
}`, `strip strip.s: need 4, have 0, buy 1 reel of 5 m, 20 EUR
supply supply.brick: need 1, have 0, buy 1 piece
wire wire.w: need 18, have 0, buy 19 m
holder catalog.blade_block_4: need 1, have 0, buy 1 piece
holder catalog.inline_glass: need 4, have 0, buy 4 piece
fuse blade fuse 5 A: need 4, have 0, buy 4 piece
fuse glass fuse 5 A: need 4, have 0, buy 4 piece
fuse resettable fuse 2.5 A: need 1, have 0, buy 1 piece
total 20 EUR
unpriced 7
`},
		{"no length", parts + `
wire "w" { gauge = "16 AWG" }
supply "b" {
  output = "5 V"
  rating = "1 A"
}
joint "j" {}
lead "x" {
  from = supply.b.out
  to   = joint.j
  wire = wire.w
}`, `supply supply.b: need 1, have 0, buy 1 piece
joint joint.j: need 2, have 0, buy 2 piece
unpriced 2
missing lead.x: its length is not known
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := lines(listOf(t, c.text)); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// Every demo plan can be counted whole, and the list is the same each time.
func TestDemoPlans(t *testing.T) {
	files, err := filepath.Glob("../../testdata/plans/*/*.ohm.hcl")
	if err != nil || len(files) == 0 {
		t.Fatalf("no demo plans: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(filepath.Dir(file)), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			l := listOf(t, string(text))
			if len(l.Missing) > 0 || len(l.Items) == 0 {
				t.Errorf("%d lines, missing %v", len(l.Items), l.Missing)
			}
			if again := listOf(t, string(text)); lines(again) != lines(l) {
				t.Errorf("another list the second time:\n%s\n%s", lines(l), lines(again))
			}
		})
	}
}

// A controller that says it takes more than its board does stands behind a step-down converter, which is bought for it.
func TestStepDown(t *testing.T) {
	for _, c := range []struct{ name, says, want string }{
		{"nothing said", "", ""},
		{"what the board takes", `input_voltage = ["5 V"]`, ""},
		{"within its tolerance", `input_voltage = ["5.4 V"]`, ""},
		{"beyond its tolerance", `input_voltage = ["5.6 V"]`, "step-down converter from 5.6 V to 5 V for controller.brain"},
		{"too little, which a step-down converter mends not", `input_voltage = ["3.3 V"]`, ""},
		{"the board's and more", `input_voltage = ["5 V", "12 V", "24 V"]`, "step-down converter from 12 V or 24 V to 5 V for controller.brain"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := ""
			for _, x := range listOf(t, "plan \"p\" {}\ncontroller \"brain\" {\n  board = catalog.esp32_devkit\n  "+c.says+"\n}").Items {
				if x.Kind == "step-down converter" {
					got += x.What
				}
			}
			if got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// A board that says of no voltage that it takes it says nothing to stand a converter before.
func TestStepDownBeforeNothing(t *testing.T) {
	listOf(t, "plan \"p\" {}\nboard \"mine\" {\n  like = catalog.esp32_devkit\n  input_voltage = []\n}\ncontroller \"brain\" {\n  board = board.mine\n  input_voltage = [\"12 V\"]\n}")
}
