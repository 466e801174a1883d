package schema

import (
	"fmt"
	"strings"
	"testing"

	"ohmstead/schema/source"
)

// A limit itself is accepted, and what lies just beyond is not.
func TestEdges(t *testing.T) {
	surface := func(from, to string) string {
		return fmt.Sprintf("surface \"w\" {\n  width = \"5 m\"\n  height = \"5 m\"\n  keepout \"k\" {\n    from = %s\n    to = %s\n  }\n}\n", from, to)
	}
	joints := func(place string) string {
		return "surface \"w\" {\n  width = \"5 m\"\n  height = \"5 m\"\n}\njoint \"j\" {\n  on = surface.w\n  at = " + place + "\n}\n"
	}
	many := func(n int) string {
		return "run \"r\" { length = \"1 m\" }\norder \"o\" { runs = [" + strings.Repeat("run.r, ", n) + "] }\n"
	}
	for _, c := range []struct {
		name, text, want string // want is "" where nothing is out of range
	}{
		{"far right", joints(`["10000 m", "0 m"]`), ""},
		{"too far right", joints(`["10000.1 m", "0 m"]`), "at most 10000 m"},
		{"far up", joints(`["0 m", "10 km"]`), ""},
		{"too far up", joints(`["0 m", "10.1 km"]`), "at most 10 km"},
		{"far left", joints(`["-10000 m", "0 m"]`), ""},
		{"too far left", joints(`["-10000.1 m", "0 m"]`), "at least -10000 m"},
		{"too far down", joints(`["0 m", "-10.1 km"]`), "at least -10 km"},
		{"a keepout", surface(`["1 m", "1 m"]`, `["2 m", "2 m"]`), ""},
		{"a keepout without width", surface(`["1 m", "1 m"]`, `["1 m", "2 m"]`), "has no area"},
		{"a keepout without height", surface(`["1 m", "1 m"]`, `["2 m", "1 m"]`), "has no area"},
		{"the longest list", many(mostItems), ""},
		{"a longer list", many(mostItems + 1), fmt.Sprintf("a list of %d items; at most %d are read", mostItems+1, mostItems)},
	} {
		said := ""
		for _, pr := range decode(t, c.text).Problems {
			if pr.Rule == RuleValueRange {
				said += pr.Message + "\n"
			}
		}
		if c.want == "" && said != "" || !strings.Contains(said, c.want) {
			t.Errorf("%s: %q, want %q", c.name, said, c.want)
		}
	}
}

// What grows beyond its text is refused before it is made, once, with its
// number and the limit; as much as is allowed is made.
func TestGrowth(t *testing.T) {
	runs := func(blocks, times int) string {
		var b strings.Builder
		for i := range blocks {
			fmt.Fprintf(&b, "run \"r%d\" {\n  strip = strip.s\n  length = \"1 m\"\n  times = %d\n}\n", i, times)
		}
		return b.String()
	}
	orders := func(n int, of string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "order \"o%d\" { runs = [%s] }\n", i, of)
		}
		return b.String()
	}
	feeds := func(n int) string {
		b := "run \"r\" { length = \"1 m\" }\nsupply \"s\" {}\nwire \"w\" {}\n"
		for i := range n {
			b += fmt.Sprintf("lead \"l%d\" {\n  from = supply.s.out\n  to = run.r.start\n  wire = wire.w\n}\n", i)
		}
		return b
	}
	for _, c := range []struct {
		name, text, want string
		runs             int
	}{
		{"as many copies as are made", runs(20, mostTimes), "", 20_000},
		{"more copies", runs(mostTimes, mostTimes), "times makes 1000 copies, 21000 in the plan with those before; at most 20000 are made", 20_000},
		{"as many runs as are listed", runs(1, 1000) + orders(500, "run.r0-all"), "", 1000},
		{"more runs listed", runs(1, 1000) + orders(600, "run.r0-all"), "list 501000 runs; at most 500000 are read", 1000},
		{"a long list of copies", runs(1, 1000) + orders(1, strings.Repeat("run.r0-all, ", 15_000)), "a list of 15000000 items; at most 10000", 1000},
		{"copies in turn", runs(1, 1000) + orders(1, "in_turn("+strings.Repeat("run.r0-all, ", 15_000)+"run.r0-all)"), "a list of 15001000 items; at most 10000", 1000},
		{"as many feeds as are worked out", feeds(MostFeeds), "", 1},
		{"more feeds", feeds(MostFeeds + 1), "101 leads end at run.r; at most 100 are worked out", 1},
	} {
		var said []string
		p := decode(t, "strip \"s\" {}\n"+c.text)
		for _, pr := range p.Problems {
			if pr.Rule == RuleTooLarge || pr.Rule == RuleValueRange {
				said = append(said, pr.Message)
			}
		}
		if c.want == "" && len(said) > 0 || c.want != "" && (len(said) != 1 || !strings.Contains(said[0], c.want)) {
			t.Errorf("%s: %q, want %q", c.name, said, c.want)
		}
		n := 0
		for _, r := range p.Runs {
			if !r.Broken || r.Copy > 0 || c.runs == 1 {
				n++
			}
		}
		if n < c.runs || n > 2*c.runs {
			t.Errorf("%s: %d runs are made, want %d", c.name, n, c.runs)
		}
	}
}

// A value of another kind gets the fix that makes it one of its kind, where
// there is one; an edit makes what its title says.
func TestFixesOfKinds(t *testing.T) {
	for _, c := range []struct {
		name, text string
		title, to  string // "" where no fix is known; the value that the fix writes
	}{
		{"a number in quotes", "controller \"c\" {\n  port \"a\" { pin = \"4\" }\n}\n", "Write 4 without quotes", "4"},
		{"a reference in quotes", "run \"r\" { strip = \"strip.s\" }\n", "Write strip.s without quotes", "strip.s"},
		{"a place in quotes", "lead \"l\" { from = \"run.r.start\" }\n", "Write run.r.start without quotes", "run.r.start"},
		{"words for a reference", "run \"r\" { strip = \"the long one\" }\n", "", ""},
		{"words for a number", "controller \"c\" {\n  port \"a\" { pin = \"four\" }\n}\n", "", ""},
		{"yes for true", "supply \"s\" { limited = \"yes\" }\n", "Write true", "true"},
		{"off for false", "supply \"s\" { limited = \"off\" }\n", "Write false", "false"},
		{"a reference where a list of numbers belongs", "supply \"s\" { input = run.r }\n", "", ""},
		{"a number for a list", "order \"o\" { runs = 5 }\n", "", ""},
		{"a number for a text", "plan \"p\" { title = 5 }\n", "Write it in quotes", "\"5\""},
	} {
		p := decode(t, c.text)
		title, to := "", ""
		for _, pr := range p.Problems {
			if pr.Rule != RuleValueKind {
				continue
			}
			for _, f := range pr.Fixes {
				title += f.Title
				for _, e := range f.Edits {
					to += e.New
				}
			}
		}
		if title != c.title || to != c.to {
			t.Errorf("%s: fix %q writes %q, want %q that writes %q; %q", c.name, title, to, c.title, c.to, messages(p))
		}
	}
}

// The lines of a block without "{" are not reported as standing loose, those
// before and behind it are.
func TestLooseAttributes(t *testing.T) {
	for text, want := range map[string]int{
		"length = \"1 m\"\n":                                  1,
		"length = \"1 m\"\nwidth = \"2 m\"\n":                 2,
		"run \"r\" { length = \"1 m\" }\nlength = \"1 m\"\n":  1,
		"plan \"p\" {}\n":                                     0,
		"run \"r\"\n  length = \"1 m\"\n}\n\nplan \"p\" {}\n": 0,
	} {
		got := 0
		for _, pr := range Decode("p", []*source.File{source.Parse(source.NewText("p.ohm.hcl", []byte(text)))}, nil).Problems {
			if strings.Contains(pr.Message, "stands outside") || strings.Contains(pr.Message, "outside of a block") {
				got++
			}
		}
		if got != want {
			t.Errorf("%q: %d loose attributes, want %d", text, got, want)
		}
	}
}
