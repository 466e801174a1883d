package schema

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"ohmstead/calc/path"
)

// ringText is three rings in two rows, with what feeds them from outside.
const ringText = `
assembly "ring" {
  times     = 3
  shift     = ["60 cm", "0 cm"]
  rows      = 2
  row_shift = ["0 cm", "80 cm"]
  at        = ["10 cm", "20 cm"]
  run "hoop" {
    strip = strip.s
    path {
      line { length = "30 cm" }
    }
  }
  joint "tee" {
    ways = 3
    at   = ["5 cm", "0 cm"]
  }
  lead "tap" {
    from   = joint.tee
    to     = run.hoop.start
    wire   = wire.w
    length = "10 cm"
  }
  lead "trunk" {
    from   = joint.tee
    to     = joint.tee-next
    wire   = wire.w
    length = "70 cm"
  }
  signal "hop" {
    from = run.hoop-previous.end
    to   = run.hoop.start
  }
}
lead "in" {
  from   = supply.p.out
  to     = joint.ring-tee-1-1
  wire   = wire.w
  length = "1 m"
}
`

// idsOf lists the addresses of the blocks of a type.
func idsOf(p *Plan, typeName string) []string {
	var out []string
	for _, b := range p.Blocks {
		if h := b.header(); h.Type.Name == typeName {
			out = append(out, h.ID())
		}
	}
	return out
}

// An assembly makes its members in each of its copies, under names that say
// which; what leads to the next copy is missing in the last one.
func TestAssemblyMakes(t *testing.T) {
	p := mustDecode(t, ringText)
	for _, tc := range []struct{ typeName, want string }{
		{"run", "run.ring-hoop-1-1 run.ring-hoop-1-2 run.ring-hoop-1-3 run.ring-hoop-2-1 run.ring-hoop-2-2 run.ring-hoop-2-3"},
		{"lead", "lead.ring-tap-1-1 lead.ring-tap-1-2 lead.ring-tap-1-3 lead.ring-tap-2-1 lead.ring-tap-2-2 lead.ring-tap-2-3 " +
			"lead.ring-trunk-1-1 lead.ring-trunk-1-2 lead.ring-trunk-1-3 lead.ring-trunk-2-1 lead.ring-trunk-2-2 lead.in"},
		{"signal", "signal.ring-hop-1-2 signal.ring-hop-1-3 signal.ring-hop-2-1 signal.ring-hop-2-2 signal.ring-hop-2-3"},
		{"assembly", "assembly.ring"},
	} {
		if got := strings.Join(idsOf(p, tc.typeName), " "); got != tc.want {
			t.Errorf("%ss: %s, want %s", tc.typeName, got, tc.want)
		}
	}
	find := func(id string) Block {
		b, ok := p.Find(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		return b
	}
	for id, want := range map[string]string{
		"lead.ring-tap-2-3":   "joint.ring-tee-2-3 run.ring-hoop-2-3.start",
		"lead.ring-trunk-1-3": "joint.ring-tee-1-3 joint.ring-tee-2-1", // row by row
	} {
		l := find(id).(*Lead)
		if got := l.From.V.String() + " " + l.To.V.String(); got != want {
			t.Errorf("%s goes %s, want %s", id, got, want)
		}
	}
	if s := find("signal.ring-hop-2-1").(*Signal); s.From.V.String() != "run.ring-hoop-1-3.end" {
		t.Errorf("the hop into the second row comes from %s", s.From.V)
	}
	if got := find("joint.ring-tee-2-3").(*Joint).Place.V; !nearXY(got, XY{1.35, 1}) { // 10+5+2*60, 20+80
		t.Errorf("the last tee stands at %v", got)
	}
	if got := find("run.ring-hoop-2-3").(*Run).Placed().Of(path.Point{}); !nearXY(XY{got.X, got.Y}, XY{1.3, 1}) {
		t.Errorf("the last hoop starts at %v", got)
	}
}

func nearXY(a, b XY) bool {
	return max(a.X-b.X, b.X-a.X, a.Y-b.Y, b.Y-a.Y) < 1e-12
}

// An assembly is mirrored, then turned, then put in its place; the one around it
// carries all of that along.
func TestAssemblyPlaced(t *testing.T) {
	const text = `
assembly "wall" {
  at     = ["10 m", "0 m"]
  mirror = "up-down"
  assembly "arm" {
    times = 2
    shift = ["1 m", "0 m"]
    at    = ["0 m", "2 m"]
    turn  = "90 deg"
    joint "tip" {
      ways = 2
      at   = ["30 cm", "10 cm"]
    }
  }
}
`
	p := mustDecode(t, text)
	// turned: (-10 cm, 30 cm); put: (-10 cm, 230 cm), the second 1 m to the right;
	// mirrored: (-10 cm, -230 cm); put: 10 m to the right.
	for id, want := range map[string]XY{"joint.wall-arm-tip-1": {9.9, -2.3}, "joint.wall-arm-tip-2": {10.9, -2.3}} {
		b, ok := p.Find(id)
		if !ok {
			t.Fatalf("no %s in %s", id, idsOf(p, "joint"))
		}
		if got := b.(*Joint).Place.V; !nearXY(got, want) {
			t.Errorf("%s stands at %v, want %v", id, got, want)
		}
	}
}

// Lists name an assembly, ranges of copies and single ones from outside.
func TestCopiesNamed(t *testing.T) {
	const bays = `
assembly "bay" {
  times = 2
  assembly "ring" {
    times = 3
    run "hoop" {
      strip  = strip.s
      length = "30 cm"
    }
    run "spoke" {
      times  = 2
      strip  = strip.s
      length = "30 cm"
    }
  }
}
run "tread" {
  times  = 5
  strip  = strip.s
  length = "30 cm"
}
`
	for list, want := range map[string]string{
		"run.tread-all":                          "tread-1 tread-2 tread-3 tread-4 tread-5",
		"run.tread-odd":                          "tread-1 tread-3 tread-5",
		"run.tread-even":                         "tread-2 tread-4",
		"run.tread-2-to-4":                       "tread-2 tread-3 tread-4",
		"run.tread-3-to-1":                       "tread-3 tread-2 tread-1",
		"from_end(run.tread-4-to-last)":          "",
		"run.tread-last, run.tread-2":            "tread-5 tread-2",
		"run.bay-ring-hoop-2":                    "bay-ring-hoop-2-1 bay-ring-hoop-2-2 bay-ring-hoop-2-3",
		"run.bay-ring-hoop-all-last":             "bay-ring-hoop-1-3 bay-ring-hoop-2-3",
		"run.bay-ring-hoop-2-odd":                "bay-ring-hoop-2-1 bay-ring-hoop-2-3",
		"run.bay-ring-hoop-2-2":                  "bay-ring-hoop-2-2",
		"run.bay-ring-spoke-1-3":                 "bay-ring-spoke-1-3-1 bay-ring-spoke-1-3-2",
		"assembly.bay-ring-1-3":                  "bay-ring-hoop-1-3 bay-ring-spoke-1-3-1 bay-ring-spoke-1-3-2",
		"assembly.bay-ring-2-odd":                "bay-ring-hoop-2-1 bay-ring-spoke-2-1-1 bay-ring-spoke-2-1-2 bay-ring-hoop-2-3 bay-ring-spoke-2-3-1 bay-ring-spoke-2-3-2",
		"in_turn(run.tread-odd, run.tread-even)": "tread-1 tread-2 tread-3 tread-4 tread-5",
	} {
		p := decode(t, bays+"order \"o\" { runs = ["+list+"] }\n"+parts)
		var got []string
		for _, x := range p.Orders[0].Runs.V {
			got = append(got, x.Run.Name)
		}
		if s := strings.Join(got, " "); s != want || want != "" && len(p.Problems) > 0 {
			t.Errorf("%s: %s, want %s", list, s, want)
			for _, pr := range p.Problems {
				t.Log(pr.Message)
			}
		}
	}
	p := mustDecode(t, bays+"order \"o\" { runs = [assembly.bay] }\n")
	if got := len(p.Orders[0].Runs.V); got != 2*3*3 {
		t.Errorf("all of the assembly: %d runs", got)
	}
}

// A copy block says what is different in some copies; the others stay as they are.
func TestCopyDiffers(t *testing.T) {
	p := mustDecode(t, `
run "tread" {
  times  = 5
  strip  = strip.s
  length = "1 m"
  shift  = ["0 cm", "20 cm"]
  copy "2" { length = "80 cm" }
  copy "4-to-5" { pixels = 30 }
}
assembly "ring" {
  times = 3
  run "hoop" {
    strip  = strip.s
    length = "1 m"
  }
  signal "hop" {
    from = run.hoop.end
    to   = run.hoop-next.start
  }
  copy "2" {
    run "hoop" { length = "90 cm" }
  }
  copy "last" {
    signal "hop" { to = run.hoop-1.start }
  }
}
assembly "b" {
  like = assembly.ring
  run "hoop" { length = "50 cm" }
}
`)
	for id, want := range map[string]string{
		"run.tread-1": "1 m", "run.tread-2": "80 cm", "run.tread-3": "1 m", "run.tread-5": "1 m",
		"run.ring-hoop-1": "1 m", "run.ring-hoop-2": "90 cm", "run.ring-hoop-3": "1 m", "run.b-hoop": "50 cm",
	} {
		b, ok := p.Find(id)
		if !ok {
			t.Errorf("no %s", id)
			continue
		}
		if got := b.(*Run).Length.V.String(); got != want {
			t.Errorf("%s is %s long, want %s", id, got, want)
		}
	}
	if b, _ := p.Find("run.tread-5"); b.(*Run).Pixels.V != 30 || b.(*Run).Shift.V.Y != 0.8 {
		t.Errorf("tread-5: %d pixels, moved %v", b.(*Run).Pixels.V, b.(*Run).Shift.V)
	}
	if b, ok := p.Find("signal.ring-hop-3"); !ok || b.(*Signal).To.V.String() != "run.ring-hoop-1.start" {
		t.Error("the last hop does not go back to the first ring")
	}
}

// What is like a copy, or like the copies beside, lies where that says.
func TestLikeCopies(t *testing.T) {
	const a = `
run "a" {
  times   = 3
  strip   = strip.s
  through = [["0 cm", "0 cm"], ["1 m", "0 cm"]]
  shift   = ["0 cm", "20 cm"]
}
`
	for text, want := range map[string]map[string]float64{
		`run "b" { like = run.a-3 }`: {"run.b": 0.4},
		`run "b" { like = run.a }`:   {"run.b": 0},
		`run "b" {
  like  = run.a-3
  shift = ["0 cm", "5 cm"]
}`: {"run.b": 0.45},
		`run "b" {
  like  = run.a
  times = 2
  shift = ["0 cm", "5 cm"]
}`: {"run.b-1": 0.05, "run.b-2": 0.1},
		`run "b" {
  like  = run.a-each
  times = 3
  shift = ["0 cm", "5 cm"]
}`: {"run.b-1": 0.05, "run.b-2": 0.25, "run.b-3": 0.45},
	} {
		p := mustDecode(t, a+text+"\n")
		for id, up := range want {
			b, ok := p.Find(id)
			if !ok {
				t.Errorf("%s: no %s", text, id)
				continue
			}
			if got := b.(*Run).Shift.V.Y; !near(got, up) {
				t.Errorf("%s: %s lies %g m up, want %g", text, id, got, up)
			}
		}
	}
}

// A run is mirrored, then turned, then shifted; what is like it once more, copies each from the one before. By hand.
func TestRunMoved(t *testing.T) {
	p := mustDecode(t, `
run "a" {
  strip   = strip.s
  through = [["10 cm", "0 cm"], ["50 cm", "0 cm"]]
  turn    = "90 deg"
  shift   = ["1 m", "0 cm"]
}
run "b" {
  like   = run.a
  mirror = "left-right"
  shift  = ["3 m", "0 cm"]
}
run "star" {
  times   = 3
  strip   = strip.s
  through = [["10 cm", "0 cm"], ["50 cm", "0 cm"]]
  turn    = "120 deg"
}
assembly "put" {
  at = ["2 m", "1 m"]
  run "c" {
    strip   = strip.s
    through = [["10 cm", "0 cm"], ["50 cm", "0 cm"]]
    mirror  = "up-down"
    turn    = "180 deg"
  }
}
run "d" {
  like  = run.put-c
  turn  = "90 deg"
  shift = ["5 m", "0 cm"]
}
`)
	for id, want := range map[string][2]path.Point{
		"run.a":      {{X: 1, Y: 0.1}, {X: 1, Y: 0.5}},
		"run.b":      {{X: 2, Y: 0.1}, {X: 2, Y: 0.5}},
		"run.star-1": {{X: 0.1}, {X: 0.5}},
		"run.star-2": {{X: -0.05, Y: 0.0866025404}, {X: -0.25, Y: 0.4330127019}},
		"run.star-3": {{X: -0.05, Y: -0.0866025404}, {X: -0.25, Y: -0.4330127019}},
		"run.put-c":  {{X: 1.9, Y: 1}, {X: 1.5, Y: 1}},
		"run.d":      {{X: 4, Y: 1.9}, {X: 4, Y: 1.5}},
	} {
		b, ok := p.Find(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		r := b.(*Run)
		for i, xy := range r.Through.V {
			got := r.Motion().Of(path.Point{X: xy.X, Y: xy.Y})
			if math.Hypot(got.X-want[i].X, got.Y-want[i].Y) > 1e-9 {
				t.Errorf("place %d of %s is %v, want %v", i, id, got, want[i])
			}
		}
	}
}

// What makes no sense is told with its place, and what is too much is not made.
func TestAssemblyProblems(t *testing.T) {
	run := "run \"r\" {\n    strip = strip.s\n    length = \"1 m\"\n  }"
	for text, want := range map[string]string{
		"run \"a\" {\n  strip = strip.s\n  length = \"1 m\"\n  copy \"last\" { pixels = 3 }\n}":                        "there is one; write times",
		"assembly \"a\" {\n  times = 1000\n  rows = 1000\n  " + run + "\n}":                                            "assembly \"a\" makes 1000000 blocks in 1000000 copies",
		"assembly \"a\" {\n  times = 1000\n  rows = 1000\n}":                                                           "makes 1000000 blocks",
		"assembly \"a\" {\n times = 50\n assembly \"b\" {\n times = 50\n assembly \"c\" {\n times = 50\n}\n}\n}":       "makes 125000 blocks",
		"assembly \"a\" {\n  assembly \"b\" { like = assembly.a }\n}":                                                  "is like one that it stands in",
		"assembly \"a\" {\n  rows = 2\n  " + run + "\n}":                                                               "write times",
		"assembly \"a\" {\n  shift = [\"1 m\", \"0 m\"]\n  " + run + "\n}":                                             "times makes none here",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n  copy \"3\" {\n run \"r\" { pixels = 5 }\n}\n}":                "there are 2",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n  copy \"x\" {\n run \"r\" { pixels = 5 }\n}\n}":                "says no copies",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n  copy \"1\" {\n run \"rr\" { pixels = 5 }\n}\n}":               "has no run \"rr\"",
		"assembly \"a\" {\n  " + run + "\n  strip \"s\" {\n}\n}":                                                       "strip stands inside of assembly",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n}\norder \"o\" { runs = [run.a-r] }":                            "stands for 2 copies",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n}\norder \"o\" { runs = [run.a-r-3] }":                          "write one of a-r-1 to a-r-2, or make times 3",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n}\nreading \"o\" {\n at = run.a-r-all.end\n volts = \"1 V\"\n}": "here one belongs",
		"assembly \"a\" {\n  times = 2\n  " + run + "\n  " + run + "\n}":                                               "a second run",
	} {
		p := decode(t, text+"\n"+parts)
		if !slices.ContainsFunc(p.Problems, func(pr *Problem) bool { return strings.Contains(pr.Message, want) }) {
			t.Errorf("%s\nis not told %q", text, want)
			for _, pr := range p.Problems {
				t.Log(pr.Message)
			}
		}
		if n := len(p.Runs); n > 100 {
			t.Errorf("%s\nmade %d runs", text, n)
		}
	}
}

// A finding names the copy, so the text of a member is told once.
func TestAssemblyProblemOnce(t *testing.T) {
	p := decode(t, strings.Replace(ringText, `ways = 3`, `ways = 3000`, 1)+parts)
	if len(p.Problems) != 1 {
		t.Error(fmt.Sprint(len(p.Problems)), "problems of one value")
		for _, pr := range p.Problems {
			t.Log(pr.Message)
		}
	}
}
