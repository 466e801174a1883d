package schema

import (
	"fmt"
	"strings"
	"testing"
)

// What a case asks of each channel: a colour is of red, green and blue alone,
// and channels that are named win over it.
func TestShareOfCase(t *testing.T) {
	for _, c := range []struct {
		text string
		want map[string]float64
	}{
		{`{}`, map[string]float64{"R": 1, "G": 1, "B": 1, "W": 1}},
		{`{ level = "50 %" }`, map[string]float64{"R": 0.5, "W": 0.5}},
		{"{\n  color = \"#ff0033\"\n  level = \"50 %\"\n}", map[string]float64{"R": 0.5, "G": 0, "B": 0.1, "W": 0}},
		{"{\n  color    = \"#ff0000\"\n  channels = { W = \"30 %\" }\n}", map[string]float64{"R": 1, "G": 0, "B": 0, "W": 0.3}},
		{"{\n  channels = { R = \"20 %\" }\n  level    = \"50 %\"\n}", map[string]float64{"R": 0.1, "G": 0, "W": 0}},
	} {
		p := mustDecode(t, "case \"c\" "+c.text+"\n")
		for letter, want := range c.want {
			if got := p.Cases[0].Share(letter); !near(got, want) {
				t.Errorf("%s: %s is at %g, want %g", c.text, letter, got, want)
			}
		}
	}
}

// A text full of problems is told of in so many, and how many more there are.
func TestMostProblems(t *testing.T) {
	for _, n := range []int{mostProblems, mostProblems + 3} {
		p := decode(t, "plan \"p\" {}\n"+strings.Repeat("lamp {}\n", n))
		last := p.Problems[len(p.Problems)-1]
		if n == mostProblems {
			if len(p.Problems) != n || last.Rule == RuleTooLarge {
				t.Errorf("%d problems: %d are told, the last %s", n, len(p.Problems), last.Rule)
			}
			continue
		}
		if want := fmt.Sprintf("%d more problems", n-mostProblems); len(p.Problems) != mostProblems+1 || last.Rule != RuleTooLarge || !strings.HasPrefix(last.Message, want) {
			t.Errorf("%d problems: %d are told, the last %q, want %q", n, len(p.Problems), last.Message, want)
		}
	}
}
