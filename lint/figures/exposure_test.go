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
		from    string // where over the ampacity
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
		// gets both fuses, each half of the strip one of them. Each alone counts for
		// what the copper carries for good; both together warm it less than its tape bears.
		{"a tail from the middle of a run fed at both ends", parts + supply("s", 20, "") + `
run "b" {
  strip  = strip.s
  length = "50 cm"
}
` +
			lead("a", "supply.s.out", "run.a.start", "awg_18", fuse5) +
			lead("b", "supply.s.out", "run.a.end", "awg_18", fuse5) +
			lead("c", "run.a[30]", "run.b.start", "awg_16"),
			[]want{{"a", 5, false, "", ""}, {"c", 10, true, "s", "a b"}, {"rail a 0", 5, false, "", ""}, {"rail a 1", 5, false, "", ""}, {"rail b 0", 10, false, "s", "a b"}}},

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

// TestFoilByHand feeds strip copper of 0.082 ohm/m (325.1 mil2, 414 circular mil) in several places. By IPC-2221 45 K over air of 25 degC take
// 0.048 x 45^0.44 x 325.1^0.725 = 16.97 A. To 250 degC it warms up for good by
// 34.4 A, in half a second by 414 x sqrt(log10(225/259 + 1) / (33 x 0.5)) = 53.1 A and in 0.15 s by 97.0 A. Blade fuses take as long as that at 3.5 and 6
// times their rating, and 5 s at twice: of what they hold no more than 15.2 A, where the supply gives 3.5 times that.
func TestFoilByHand(t *testing.T) {
	plan := func(ambient string, rating float64, fuses ...float64) string {
		text := fmt.Sprintf("plan \"x\" { ambient = %q }\nstrip \"s\" {\n  like = catalog.ws2812b_5v_60\n  rail = \"0.082 ohm/m\"\n  rail_current = \"5 A\"\n}\nrun \"a\" {\n  strip = strip.s\n  length = \"5 m\"\n}\nsupply \"s\" {\n  output = \"5 V\"\n  rating = \"%g A\"\n}\n", ambient, rating)
		for i, amps := range fuses {
			text += fmt.Sprintf("lead \"l%d\" {\n  from = supply.s.out\n  to = run.a[%d]\n  wire = catalog.awg_10\n  length = \"1 m\"\n  fuse = \"%g A\"\n}\n", i, 20*i, amps)
		}
		return text
	}
	for _, row := range []struct {
		name        string
		text        string
		amps, limit float64
		over        bool
	}{
		{"three of 5 A", plan("25 degC", 20, 5, 5, 5), 15, 16.97, false},
		{"with all that it takes to open them slowly", plan("25 degC", 60, 5, 5, 5), 15, 15.2, false},
		{"one of 7.5 A", plan("25 degC", 20, 7.5), 7.5, 5, true},
		{"one of 7.5 A among others", plan("25 degC", 20, 5, 7.5), 12.5, 5, true},
		{"five of 5 A", plan("25 degC", 20, 5, 5, 5, 5, 5), 25, 16.97, true},
		{"warm air: 30 K take 14.2 A", plan("40 degC", 20, 5, 5, 5), 15, 14.2, true},
		{"air as warm as it may be", plan("70 degC", 20, 5, 5, 5), 15, 5, true},
	} {
		f := figuresOf(t, decode(t, "x", row.text), nil)
		faults := f.Faults()
		worst := Exposure{}
		for i := range f.Runs[0].Rails {
			if e := faults.Rail(f.Runs[0], i); e.Amps > worst.Amps {
				worst = e
			}
		}
		near(t, row.name+", A", worst.Amps, row.amps, 1e-9)
		near(t, row.name+", limit", worst.Limit, row.limit, 0.005*row.limit)
		if worst.Unguarded != row.over {
			t.Errorf("%s: unguarded %v", row.name, worst.Unguarded)
		}
	}
}
