package figures

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ohmstead/schema"
)

// TestExposuresByHand works out by hand what a fault can drive through each
// lead and rail of small plans. A supply can feed 1.5 times its rating; table
// ampacities are 6 A for 18 AWG and 8 A for 16 AWG (NFPA 70 table 402.5), 15 A
// for 14 AWG (NFPA 70 240.4(D)). The strip's rails may carry 5 A.
func TestExposuresByHand(t *testing.T) {
	const parts = `plan "x" {}
strip "s" {
  like         = catalog.ws2812b_5v_60
  rail_current = "5 A"
}
run "a" {
  strip  = strip.s
  length = "1 m"
}
`
	supply := func(name string, amps float64, more string) string {
		return fmt.Sprintf("supply %q {\n  output = \"5 V\"\n  rating = \"%g A\"\n%s}\n", name, amps, more)
	}
	lead := func(name, from, to, wire string, more ...string) string {
		return fmt.Sprintf("lead %q {\n  from   = %s\n  to     = %s\n  wire   = catalog.%s\n  length = \"1 m\"\n%s\n}\n", name, from, to, wire, strings.Join(more, "\n"))
	}
	const (
		fuse3  = `fuse = "3 A"`
		fuse5  = `fuse = "5 A"`
		fuse10 = `fuse = "10 A"`
		minus  = `carries = "minus"`
		plus   = `carries = "plus"`
	)
	type want struct {
		of      string // a lead's name, or "rail a 0": a run and its rail
		amps    float64
		over    bool   // unguarded
		from    string // where over
		through string
	}
	for _, tc := range []struct {
		name, text string
		want       []want
	}{
		// A fault in either lead or in a rail is fed by both fuses, each from
		// its own side: the greater counts, not the sum.
		{"both ends fed, equal fuses", parts + supply("s", 20, "") +
			lead("a", "supply.s.out", "run.a.start", "awg_18", fuse5) +
			lead("b", "supply.s.out", "run.a.end", "awg_18", fuse5),
			[]want{{"a", 5, false, "", ""}, {"b", 5, false, "", ""}, {"rail a 0", 5, false, "", ""}}},

		// The 10 A fuse feeds the thin lead through the strip's rails.
		{"both ends fed, one fuse too large for the other lead", parts + supply("s", 20, "") +
			lead("a", "supply.s.out", "run.a.start", "awg_18", fuse5) +
			lead("b", "supply.s.out", "run.a.end", "awg_14", fuse10),
			[]want{{"a", 10, true, "s", "b"}, {"b", 10, false, "", ""}, {"rail a 0", 10, true, "s", "b"}}},

		// Fed at both ends and tapped in the middle: what hangs on the middle
		// gets both fuses, each half of the strip one of them.
		{"a tail from the middle of a run fed at both ends", parts + supply("s", 20, "") + `
run "b" {
  strip  = strip.s
  length = "50 cm"
}
` +
			lead("a", "supply.s.out", "run.a.start", "awg_18", fuse5) +
			lead("b", "supply.s.out", "run.a.end", "awg_18", fuse5) +
			lead("c", "run.a[30]", "run.b.start", "awg_16"),
			[]want{{"a", 5, false, "", ""}, {"c", 10, true, "s", "a b"}, {"rail a 0", 5, false, "", ""}, {"rail a 1", 5, false, "", ""}, {"rail b 0", 10, true, "s", "a b"}}},

		// A ring of trunk: each piece is judged from both its ends, 10 A each, of
		// which the one at its from end is told.
		// A tap from the ring gets the sum unless its own fuse is smaller.
		{"ring trunk", parts + supply("s", 30, "") + `
run "b" {
  strip  = strip.s
  length = "50 cm"
}
joint "j" { times = 3 }
` +
			lead("west", "supply.s.out", "joint.j-1", "awg_14", fuse10) +
			lead("east", "supply.s.out", "joint.j-3", "awg_14", fuse10) +
			lead("near", "joint.j-1", "joint.j-2", "awg_14") +
			lead("far", "joint.j-2", "joint.j-3", "awg_16") +
			lead("tap", "joint.j-2", "run.a.start", "awg_16", fuse3) +
			lead("bare", "joint.j-2", "run.b.start", "awg_14"),
			[]want{
				{"west", 10, false, "", ""}, {"east", 10, false, "", ""}, {"near", 10, false, "", ""}, {"far", 10, true, "s", "west"},
				{"tap", 3, false, "", ""}, {"rail a 0", 3, false, "", ""},
				{"bare", 20, true, "s", "west east"}, {"rail b 0", 20, true, "s", "west east"},
			}},

		// The ring's fuses let 20 A pass, the supply gives 15 A and no more.
		{"ring trunk of a small supply", parts + supply("s", 10, "") + `
joint "j" { times = 2 }
` +
			lead("west", "supply.s.out", "joint.j-1", "awg_14", fuse10) +
			lead("east", "supply.s.out", "joint.j-2", "awg_14", fuse10) +
			lead("link", "joint.j-1", "joint.j-2", "awg_14") +
			lead("bare", "joint.j-2", "run.a.start", "awg_16"),
			[]want{{"link", 10, false, "", ""}, {"bare", 15, true, "s", ""}}},

		// Three fused leads share one return: their fuses add up in it.
		{"shared return", parts + supply("s", 10, "") + `
run "b" { like = run.a }
run "c" { like = run.a }
joint "back" {}
` +
			lead("pa", "supply.s.out", "run.a.start", "awg_18", plus, fuse5) +
			lead("pb", "supply.s.out", "run.b.start", "awg_18", plus, fuse5) +
			lead("pc", "supply.s.out", "run.c.start", "awg_18", plus, fuse3) +
			lead("ma", "joint.back", "run.a.start", "awg_18", minus) +
			lead("mb", "joint.back", "run.b.start", "awg_18", minus) +
			lead("mc", "joint.back", "run.c.start", "awg_18", minus) +
			lead("home", "supply.s.out", "joint.back", "awg_16", minus),
			[]want{
				{"pa", 5, false, "", ""}, {"pc", 3, false, "", ""}, {"ma", 5, false, "", ""}, {"mc", 3, false, "", ""},
				{"home", 13, true, "s", "pa pb pc"}, {"rail a 0", 5, false, "", ""}, {"rail c 0", 3, false, "", ""},
			}},

		// Two supplies on one run: the strong one feeds a fault in the weak
		// one's lead through the rails.
		{"two supplies", parts + supply("strong", 20, "") + supply("weak", 5, "  limited = true\n") +
			lead("a", "supply.strong.out", "run.a.start", "awg_14", fuse10) +
			lead("b", "supply.weak.out", "run.a.end", "awg_16"),
			[]want{{"a", 10, false, "", ""}, {"b", 10, true, "strong", "a"}, {"rail a 0", 10, true, "strong", "a"}}},

		// Outputs that are limited separately do not add up; their minus is one.
		{"a supply with two outputs", parts + supply("s", 5, "  outputs = 2\n") + `
run "b" { like = run.a }
` +
			lead("a", "supply.s.out[1]", "run.a.start", "awg_16") +
			lead("b", "supply.s.out[2]", "run.b.start", "awg_18"),
			[]want{{"a", 7.5, false, "", ""}, {"b", 7.5, true, "s", ""}}},

		// A limited power source of 5 A gives 8 A at most (IEC 60950-1 table
		// 2B), not twice its rating.
		{"a limited power source", parts + supply("s", 5, "  limited = true\n  overload = \"200 %\"\n") +
			lead("a", "supply.s.out", "run.a.start", "awg_16"),
			[]want{{"a", 8, false, "", ""}}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			f := figuresOf(t, decode(t, "x", tc.text), nil)
			all := map[string]Exposure{}
			for _, l := range f.Leads {
				all[l.Name] = l.Fault
			}
			for _, r := range f.Runs {
				for i, rail := range r.Rails {
					all[fmt.Sprintf("rail %s %d", r.Name, i)] = rail.Fault
				}
			}
			for _, w := range tc.want {
				e, ok := all[w.of]
				if !ok || math.Abs(e.Amps-w.amps) > 1e-9 || e.Unguarded != w.over {
					t.Errorf("%s: exposed to %g A, unguarded %v; by hand %g A, %v", w.of, e.Amps, e.Unguarded, w.amps, w.over)
				}
				if from, through := suppliesNamed(e.Sources), leadsNamed(e.Through); from != w.from || through != w.through {
					t.Errorf("%s: from %q through %q; by hand from %q through %q", w.of, from, through, w.from, w.through)
				}
			}
		})
	}
}

func suppliesNamed(all []*schema.Supply) string {
	var names []string
	for _, s := range all {
		names = append(names, s.Name)
	}
	return strings.Join(names, " ")
}

func leadsNamed(all []*Lead) string {
	var names []string
	for _, l := range all {
		names = append(names, l.Name)
	}
	return strings.Join(names, " ")
}
