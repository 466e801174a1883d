package schema

import (
	"fmt"
	"strings"
	"testing"
)

// said writes signals, leads and orders as a plan would.
func said(p *Plan) string {
	var out strings.Builder
	wire := func(w Value[*Wire]) string {
		if w.V == nil {
			return ""
		}
		return " " + w.V.ID()
	}
	length := func(q Value[Quantity]) string {
		if !q.Set {
			return ""
		}
		return " " + q.V.String()
	}
	within := func(l Value[*Lead]) string {
		if l.V == nil {
			return ""
		}
		return " within " + l.V.ID()
	}
	for _, s := range p.Signals {
		fmt.Fprintf(&out, "%s %s > %s%s%s%s%s\n", s.ID(), s.From.V, s.To.V, wire(s.Wire), length(s.Length), within(s.Within), length(s.Resistor))
	}
	for _, l := range p.Leads {
		fmt.Fprintf(&out, "%s %s > %s%s%s%s\n", l.ID(), l.From.V, l.To.V, wire(l.Wire), length(l.Length), length(l.Fuse))
	}
	for _, o := range p.Orders {
		out.WriteString(o.ID())
		for _, r := range o.Runs.V {
			out.WriteString(" " + r.Run.ID())
			if r.FromEnd {
				out.WriteString("<")
			}
		}
		out.WriteString("\n")
	}
	return out.String()
}

const madeBase = `plan "p" {}
strip "s" { like = catalog.ws2812b_5v_60 }
wire "data" { like = catalog.awg_22 }
wire "feed" { like = catalog.awg_16 }
run "a" {
  strip  = strip.s
  length = "1 m"
}
run "b" { like = run.a }
run "t" {
  like  = run.a
  times = 3
}
supply "brick" {
  output = "5 V"
  rating = "20 A"
}
controller "brain" {
  board = catalog.esp32_devkit
  port "a" { pin = 4 }
}
`

// A chain is its signals and its order.
func TestChain(t *testing.T) {
	p := decode(t, madeBase+`
chain "word" {
  from     = controller.brain.port.a
  runs     = [run.a, from_end(run.b), run.t-all]
  wire     = wire.data
  length   = "30 cm"
  resistor = "330 ohm"
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `signal.word-a controller.brain.port.a > run.a.start wire.data 30 cm 330 ohm
signal.word-b run.a.end > run.b.end wire.data 30 cm
signal.word-t-1 run.b.start > run.t-1.start wire.data 30 cm
signal.word-t-2 run.t-1.end > run.t-2.start wire.data 30 cm
signal.word-t-3 run.t-2.end > run.t-3.start wire.data 30 cm
order.word run.a run.b< run.t-1 run.t-2 run.t-3
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// A hop of its own, and lengths one by one.
func TestHops(t *testing.T) {
	p := decode(t, madeBase+`
lead "l" {
  from   = supply.brick.out
  to     = run.a.start
  wire   = wire.feed
  length = "1 m"
}
chain "word" {
  from     = controller.brain.port.a
  runs     = [run.a, run.b, run.t-all]
  wire     = wire.data
  length   = ["1 m", "2 m", "3 m", "4 m", "5 m"]
  resistor = "330 ohm"
  hop {
    to       = run.t-2
    wire     = wire.feed
    length   = "9 m"
    within   = lead.l
    resistor = "47 ohm"
  }
}
order "own" { runs = [run.a] }
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `signal.word-a controller.brain.port.a > run.a.start wire.data 1 m 330 ohm
signal.word-b run.a.end > run.b.start wire.data 2 m
signal.word-t-1 run.b.end > run.t-1.start wire.data 3 m
signal.word-t-2 run.t-1.end > run.t-2.start wire.feed 9 m within lead.l 47 ohm
signal.word-t-3 run.t-2.end > run.t-3.start wire.data 5 m
lead.l supply.brick.out > run.a.start wire.feed 1 m
order.own run.a
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// A feed is a lead to each of its places.
func TestFeed(t *testing.T) {
	p := decode(t, madeBase+`
joint "hub" {}
feed "f" {
  from   = supply.brick.out
  to     = [run.a, run.b.end, run.b["50 cm"], run.b[7], joint.hub, controller.brain.power, run.t-all.end]
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
  branch {
    to     = joint.hub
    length = "2 m"
  }
  branch {
    to   = run.a
    fuse = "1 A"
  }
}
chain "c" {
  from = controller.brain.port.a
  runs = [run.a, run.b]
  wire = wire.data
}
feed "g" {
  from   = joint.hub
  to     = [chain.c]
  ends   = "both"
  wire   = wire.feed
  length = ["1 m", "2 m", "3 m", "4 m"]
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `signal.c-a controller.brain.port.a > run.a.start wire.data
signal.c-b run.a.end > run.b.start wire.data
lead.f-a supply.brick.out > run.a.start wire.feed 1 m 1 A
lead.f-b-end supply.brick.out > run.b.end wire.feed 1 m 3 A
lead.f-b-50cm supply.brick.out > run.b["50 cm"] wire.feed 1 m 3 A
lead.f-b-7 supply.brick.out > run.b[7] wire.feed 1 m 3 A
lead.f-hub supply.brick.out > joint.hub wire.feed 2 m 3 A
lead.f-brain supply.brick.out > controller.brain.power wire.feed 1 m 3 A
lead.f-t-1-end supply.brick.out > run.t-1.end wire.feed 1 m 3 A
lead.f-t-2-end supply.brick.out > run.t-2.end wire.feed 1 m 3 A
lead.f-t-3-end supply.brick.out > run.t-3.end wire.feed 1 m 3 A
lead.g-a joint.hub > run.a.start wire.feed 1 m
lead.g-a-end joint.hub > run.a.end wire.feed 2 m
lead.g-b joint.hub > run.b.start wire.feed 3 m
lead.g-b-end joint.hub > run.b.end wire.feed 4 m
order.c run.a run.b
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// What is usual holds where a block says nothing itself, nor by what it is like.
func TestUsual(t *testing.T) {
	p := decode(t, madeBase+`
usual "lead" {
  wire = wire.feed
  fuse = "5 A"
}
usual "signal" { wire = wire.data }
usual "run" { strip = strip.s }
run "c" { length = "2 m" }
lead "bare" {
  from = supply.brick.out
  to   = run.a.start
}
lead "own" {
  from = supply.brick.out
  to   = run.b.start
  wire = wire.data
}
lead "liking" {
  like = lead.own
  to   = run.c.start
  fuse = "2 A"
}
chain "word" {
  from = controller.brain.port.a
  runs = [run.a, run.c]
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `signal.word-a controller.brain.port.a > run.a.start wire.data
signal.word-c run.a.end > run.c.start wire.data
lead.bare supply.brick.out > run.a.start wire.feed 5 A
lead.own supply.brick.out > run.b.start wire.data 5 A
lead.liking supply.brick.out > run.c.start wire.data 2 A
order.word run.a run.c
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	bare := p.Leads[0]
	if at := bare.At(bare.Wire.At); string(at.Bytes()) != "wire.feed" || !bare.IsUsual(at) {
		t.Errorf("the usual wire of lead.bare is shown at %q", at.Bytes())
	}
	if liking := p.Leads[2]; liking.IsUsual(liking.Wire.At) || liking.IsUsual(liking.Fuse.At) {
		t.Error("what lead.liking is like or says itself counts as usual")
	}
}

// A usual block of several kinds holds for each of them what that kind has.
func TestUsualOfSeveralKinds(t *testing.T) {
	p := decode(t, madeBase+`
surface "wall" {
  width  = "2 m"
  height = "1 m"
}
usual "lead" "signal" "joint" {
  wire = wire.feed
  fuse = "5 A"
  on   = surface.wall
}
joint "hub" {}
lead "l" {
  from = supply.brick.out
  to   = joint.hub
}
signal "s" {
  from = controller.brain.port.a
  to   = run.a.start
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), "signal.s controller.brain.port.a > run.a.start wire.feed\nlead.l supply.brick.out > joint.hub wire.feed 5 A\n"; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if on := p.Joints[0].On.V; on == nil || on.ID() != "surface.wall" {
		t.Error("the joint is not on the usual surface")
	}
	if at := p.Leads[0].At(p.Leads[0].Wire.At); string(at.Bytes()) != "wire.feed" || !p.Leads[0].IsUsual(at) {
		t.Errorf("the usual wire of lead.l is shown at %q", at.Bytes())
	}
}

// A feed through places leads on from each to the next; the fuse is in the first.
func TestFeedThrough(t *testing.T) {
	p := decode(t, madeBase+`
joint "tee" { times = 3 }
feed "f" {
  from    = supply.brick.out
  through = [joint.tee-all, run.a.end, controller.brain.power]
  wire    = wire.feed
  length  = "1 m"
  fuse    = "3 A"
  branch {
    to     = joint.tee-2
    length = "2 m"
  }
  branch {
    to   = run.a.end
    fuse = "1 A"
  }
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `lead.f-tee-1 supply.brick.out > joint.tee-1 wire.feed 1 m 3 A
lead.f-tee-2 joint.tee-1 > joint.tee-2 wire.feed 2 m
lead.f-tee-3 joint.tee-2 > joint.tee-3 wire.feed 1 m
lead.f-a-end joint.tee-3 > run.a.end wire.feed 1 m 1 A
lead.f-brain run.a.end > controller.brain.power wire.feed 1 m
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// Runs in a line each are the runs of their names, in the order of the text, whether in an
// assembly or not; run.all in it names them.
func TestRunsInLines(t *testing.T) {
	p := decode(t, madeBase+`
usual "run" { strip = strip.s }
let { span = "70 cm" }
runs {
  top  = "80 cm"
  side = [["0 cm", "0 cm"], ["0 cm", "50 cm"]]
  run "ring" {
    circle {
      centre = ["50 cm", "50 cm"]
      radius = "20 cm"
    }
  }
  span = let.span
}
assembly "m" {
  times = 2
  runs { x = "30 cm" }
  run "y" { length = "40 cm" }
  feed "f" {
    from = supply.brick.out
    to   = run.all
    wire = wire.feed
  }
}
order "o" { runs = [run.top, run.side, run.ring, run.span, assembly.m] }
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `lead.m-f-x-1 supply.brick.out > run.m-x-1.start wire.feed
lead.m-f-y-1 supply.brick.out > run.m-y-1.start wire.feed
lead.m-f-x-2 supply.brick.out > run.m-x-2.start wire.feed
lead.m-f-y-2 supply.brick.out > run.m-y-2.start wire.feed
order.o run.top run.side run.ring run.span run.m-x-1 run.m-y-1 run.m-x-2 run.m-y-2
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	var ids []string
	for _, r := range p.Runs {
		ids = append(ids, r.ID())
	}
	if got, want := strings.Join(ids, " "), "run.a run.b run.t-1 run.t-2 run.t-3 run.top run.side run.ring run.span run.m-x-1 run.m-x-2 run.m-y-1 run.m-y-2"; got != want {
		t.Errorf("runs %s, want %s", got, want)
	}
	x, _ := p.Find("run.top")
	e := InsertAttr(HeaderOf(x).Node, "insert", `"cord"`)
	if got, want := string(e.At.Bytes())+" > "+e.New, "top  = \"80 cm\" > run \"top\" {\n  length = \"80 cm\"\n  insert = \"cord\"\n}"; got != want {
		t.Errorf("an attribute more is written as\n%s\nwant\n%s", got, want)
	}
}

// Data enters at its end a run that a chain goes through from there, unless the run says otherwise.
func TestChainFromEnd(t *testing.T) {
	p := decode(t, madeBase+`
run "c" {
  like        = run.a
  data_enters = "start"
}
run "d" { like = run.b }
assembly "m" {
  run "x" { like = run.d }
  run "y" { like = run.d }
}
chain "word" {
  from = controller.brain.port.a
  runs = [run.a, from_end(run.b), from_end(run.c), from_end(assembly.m)]
  wire = wire.data
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `signal.word-a controller.brain.port.a > run.a.start wire.data
signal.word-b run.a.end > run.b.end wire.data
signal.word-c run.b.start > run.c.end wire.data
signal.word-m-y run.c.start > run.m-y.end wire.data
signal.word-m-x run.m-y.start > run.m-x.end wire.data
order.word run.a run.b< run.c< run.m-y< run.m-x<
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	for id, want := range map[string]string{"run.a": "start", "run.b": "end", "run.c": "start", "run.d": "start", "run.m-x": "end", "run.m-y": "end"} {
		b, _ := p.Find(id)
		r := b.(*Run)
		if by := r.Entered(); r.DataEnters.V != want || (by != nil) != (want == "end") {
			t.Errorf("data enters %s at its %s, as %v says; want %s", id, r.DataEnters.V, by, want)
		}
	}
}

// Short forms in many copies make so many blocks and no more; the first that is left out says so.
func TestShortFormsMakeSoMany(t *testing.T) {
	p := decode(t, `plan "p" {}
strip "s" { like = catalog.ws2812b_5v_60 }
wire "data" { like = catalog.awg_22 }
controller "brain" { port "a" { pin = 4 } }
run "r" {
  strip  = strip.s
  length = "1 m"
  times  = 1000
}
assembly "m" {
  times = 100
  chain "c" {
    from = controller.brain.port.a
    runs = run.r-all
    wire = wire.data
  }
}
`)
	var got []string
	for _, pr := range p.Problems {
		if pr.Rule == RuleTooLarge {
			got = append(got, pr.Message)
		}
	}
	if want := `chain "m-c-40" makes 1001 blocks, 40040 in the plan with those before; short forms make at most 40000 in a plan, so these and those behind are left out: say fewer, or split the plan`; len(got) != 1 || got[0] != want {
		t.Errorf("says %q, want %q", got, want)
	}
	if n := len(p.Signals); n != 39*1000 {
		t.Errorf("%d signals are made, want 39000", n)
	}
}

// What is wrong with short forms is told once, where it stands.
func TestShortFormsTellWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`usual "signl" { wire = wire.data }`, `value-unknown: usual is about a kind of block, and "signl" is none that it can be about; it takes strip, diffuser, wire, fixing, surface, supply, board, controller, joint, holder, consumable, run, lead, signal, universes, case, reading; did you mean "signal"?`},
		{"usual \"lead\" { wire = wire.feed }\nusual \"lead\" { fuse = \"1 A\" }", `name-duplicate: a second usual "lead"; write what both say in one of them, and remove the other`},
		{`usual "lead" { to = run.a.start }`, `attribute-unknown: to is each lead's own; write it in the lead blocks`},
		{`usual "lead" { like = lead.x }`, `attribute-unknown: like is each lead's own; write it in the lead blocks`},
		{"usual \"run\" {\n  path {}\n}", `block-shape: path is each run's own; write it in the run blocks`},
		{`usual "lead" { wires = wire.feed }`, `attribute-unknown: usual "lead" has no attribute "wires"; did you mean "wire"?`},
		{"usual \"lead\" { wires = wire.feed }\nlead \"l\" {\n  from = supply.brick.out\n  to = run.a.start\n}", `attribute-unknown: usual "lead" has no attribute "wires"; did you mean "wire"?`},
		{"usual \"lead\" { wire = wire.fed }\nlead \"l\" {\n  from = supply.brick.out\n  to = run.a.start\n}", `reference-unknown: there is no wire "fed"; did you mean "feed"?`},
		{`usual "lead" { fuse = "5" }`, `unit-missing: 5 has no unit; a current belongs here, such as "2.5 A"`},
		{"usual \"lead\" \"signl\" { wire = wire.feed }", `value-unknown: usual is about a kind of block, and "signl" is none that it can be about; it takes strip, diffuser, wire, fixing, surface, supply, board, controller, joint, holder, consumable, run, lead, signal, universes, case, reading; did you mean "signal"?`},
		{"usual \"lead\" \"signal\" { wires = wire.feed }", `attribute-unknown: usual "lead or signal" has no attribute "wires"; did you mean "wire"?`},
		{"usual \"lead\" \"signal\" { wire = wire.fed }\nlead \"l\" {\n  from = supply.brick.out\n  to = run.a.start\n}", `reference-unknown: there is no wire "fed"; did you mean "feed"?`},
		{"usual \"lead\" \"run\" { length = \"1 m\" }\nusual \"run\" { strip = strip.s }", `name-duplicate: a second usual "run"; write what both say in one of them, and remove the other`},
		{"usual \"lead\" \"joint\" { at = [\"1 m\", \"1 m\"] }", `attribute-unknown: at is each lead or joint's own; write it in the lead or joint blocks`},
		{"feed \"f\" {\n  from = supply.brick.out\n  wire = wire.feed\n}", `attribute-missing: feed "f" needs the attribute to, where a lead each goes to, or through, the places that it passes; write to = [run.left, joint.hub]`},
		{"feed \"f\" {\n  from = supply.brick.out\n  through = run.a\n  wire = wire.feed\n}", `reference-kind: run.a is not a place; write run.a.start, run.a.end, run.a["1.5 m"] or run.a[90]`},
		{"feed \"f\" {\n  from = supply.brick.out\n  through = [run.a.end, run.b.end]\n  ends = \"both\"\n  wire = wire.feed\n}", `attribute-clash: ends says where runs are fed that to names, and through names places; remove ends`},
		{"runs \"x\" { a2 = \"5 m\" }\nusual \"run\" { strip = strip.s }", "block-shape: runs takes no label; write runs { … }"},
		{"runs {\n  a2 = \"5\"\n  lead \"l\" {}\n}\nusual \"run\" { strip = strip.s }", "unit-missing: 5 has no unit; a length belongs here, such as \"3.2 m\"\nblock-shape: lead stands inside of runs; it belongs outside, and the \"}\" of runs may be missing"},
		{"runs {\n  a = \"5 m\"\n}\nusual \"run\" { strip = strip.s }", `name-duplicate: a second run "a"; the name is taken, give this one another`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = []\n}", `value-kind: chain "c" goes through no run; name at least one, such as runs = [run.NAME]`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a, run.a]\n}", `name-duplicate: run.a stands twice in chain "c", and data enters a run once; remove one of them`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a, run.z]\n}", `reference-unknown: there is no run "z"; did you mean "a"?`},
		{"chain \"c\" {\n  from = controller.brain.port.b\n  runs = [run.a, run.b]\n}", `reference-unknown: controller.brain has no port "b"; it has a`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a, run.b]\n  length = [\"1 m\"]\n  wire = wire.dat\n}", `reference-unknown: there is no wire "dat"; did you mean "data"?`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a, run.b]\n  length = [\"1 m\", \"2 m\", \"3 m\"]\n}", `value-range: length lists 3, and chain "c" has a hop into each of its runs, and these are 2; write one for each, or one for all`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a, run.b]\n  hop { to = run.t-1 }\n}", `reference-kind: chain "c" does not go through run.t-1; a hop leads to one of its runs: run.a, run.b`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a]\n  like = chain.d\n}", `attribute-unknown: chain has no attribute "like"; it takes wire, length, within, resistor`},
		{"chain \"c\" {\n  from = controller.brain.port.a\n  runs = [run.a]\n}\nsignal \"c-a\" {\n  from = run.b.end\n  to = run.t-1.start\n}", `name-duplicate: chain "c" makes a second signal "c-a"; the name is taken, give the chain another name, or that one`},
		{"feed \"f\" {\n  from = supply.brick.out\n  to = []\n}", `value-kind: feed "f" goes nowhere; name at least one place, such as to = [run.NAME.start]`},
		{"feed \"f\" {\n  from = supply.brick.out\n  to = [run.a, run.b]\n}", `attribute-missing: lead "f-a" needs the attribute wire (what it is made of); write wire = wire.feed`},
		{"feed \"f\" {\n  from = supply.brick.out\n  to = [run.a, run.a.start]\n  wire = wire.feed\n}", `name-duplicate: feed "f" would make a second lead "f-a"; remove one of the two places, or write one as a lead of its own`},
		{"feed \"f\" {\n  from = supply.brick.out\n  to = [strip.s]\n  wire = wire.feed\n}", `reference-kind: strip.s is a strip; to takes supply.NAME.out, joint.NAME, controller.NAME.power, run.NAME["1.5 m"]`},
		{"feed \"f\" {\n  from = supply.brick.out\n  to = [run.a]\n  wire = wire.feed\n  branch { to = run.b }\n}", `reference-kind: feed "f" does not go to run.b; a branch leads to one of its places: run.a.start`},
	} {
		var got []string
		got = append(got, messages(decode(t, madeBase+c.text+"\n"))...)
		if strings.Join(got, "\n") != c.want {
			t.Errorf("%s\ngot  %s\nwant %s", c.text, strings.Join(got, "\n     "), c.want)
		}
	}
}
