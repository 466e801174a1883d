package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"testing"

	"ohmstead/calc/thorough"
)

// minusTaken is a plan without the minus of a lead.
func minusTaken(t *testing.T, text string, l *Lead) string {
	t.Helper()
	block := regexp.MustCompile(`(?s)lead "` + l.Name + `" \{.*?\n\}\n`)
	out := block.ReplaceAllStringFunc(text, func(s string) string {
		if !l.Plus() {
			return ""
		}
		return regexp.MustCompile(`carries  = "pair"`).ReplaceAllString(s, `carries  = "plus"`)
	})
	if out == text {
		t.Fatalf("%s is not in the text", l.ID())
	}
	return out
}

// darker reports whether a run or a controller has power in one and none in the
// other.
func darker(f, g *Figures) bool {
	for i, r := range f.Cases[0].Runs {
		if r.OK != g.Cases[0].Runs[i].OK || r.Amps > 0 && g.Cases[0].Runs[i].Amps == 0 {
			return true
		}
	}
	for i, c := range f.Cases[0].Controllers {
		if c.OK != g.Cases[0].Controllers[i].OK || c.Volts > 0 && g.Cases[0].Controllers[i].Volts == 0 {
			return true
		}
	}
	return false
}

var ceilingOf = regexp.MustCompile(`  ceiling = .*\n`)

// TestLooseReturnsAnew takes the minus of each lead out of the text of random
// plans, one at a time, and works what is left out from nothing: what the rule
// is told of each other return is the greatest of them, never less, 1e-6 relative, and no
// case goes beyond it. What is the only way takes its current along.
func TestLooseReturnsAnew(t *testing.T) { loosePlans(t, uint64(thorough.Or(200, 30))) }

func loosePlans(t *testing.T, plans uint64) {
	compared, more := 0, 0
	for seed := range plans {
		text := ceilingOf.ReplaceAllString(randomPlan(rand.New(rand.NewPCG(seed, 19))), "")
		f := figuresOf(t, decode(t, "x", text), nil)
		minus := func(f *Figures, id string) (any, cases float64, ok bool) {
			for i, l := range f.Leads {
				if l.ID() != id {
					continue
				}
				if l.minus < 0 || l.Island == nil || l.Island.split == nil {
					return 0, 0, false
				}
				any, _, _, ok := l.Island.anyWire(l.minus)
				for _, c := range f.Cases {
					back := c.Leads[i].Back
					if !l.Plus() {
						back = c.Leads[i].Amps
					}
					ok = ok && c.Leads[i].OK
					cases = math.Max(cases, math.Abs(back))
				}
				return any, cases, ok
			}
			return 0, 0, false
		}
		greatest := map[string]float64{}
		for _, x := range f.Leads {
			if !x.Minus() {
				continue
			}
			g := figuresOf(t, decode(t, "x", minusTaken(t, text, x)), nil)
			if darker(f, g) {
				continue // it was the only way for what it carried
			}
			for _, y := range f.Leads {
				if y == x || !y.Minus() {
					continue
				}
				before, _, known := minus(f, y.ID())
				any, cases, ok := minus(g, y.ID())
				if !ok || !known {
					continue
				}
				compared++
				told := f.LooseReturn(y)
				if most := math.Max(told.Amps, before); told.Limit > 0 && told.Amps <= told.Limit && cases > most*(1+1e-6)+1e-9 {
					t.Errorf("seed %d: without the minus of %s %s carries %g A in a case, told %g A, before %g A\n%s", seed, x.ID(), y.ID(), cases, told.Amps, before, text)
				}
				greatest[y.ID()] = math.Max(greatest[y.ID()], any)
			}
		}
		for _, y := range f.Leads {
			before, _, ok := minus(f, y.ID())
			want := greatest[y.ID()]
			if !ok || want <= before*(1+1e-6) {
				continue
			}
			more++
			is, p, i := y.Island.looseAt(y.minus)
			if p == nil {
				t.Errorf("seed %d: nothing is told of %s, which carries %g A once something is loose, %g A before\n%s", seed, y.ID(), want, before, text)
				continue
			}
			if got := p.loose.value.Wires[i].Amps; got < want*(1-1e-6) || got > want*(1+1e-3) {
				t.Errorf("seed %d: %s is told to carry %.9g A without %s, anew it carries %.9g A\n%s", seed, y.ID(), got, is.wires[p.Wires[p.loose.value.Wires[i].Gone]].ID(), want, text)
			}
		}
	}
	t.Logf("%d plans: %d pairs compared, %d returns carry more once another is loose", plans, compared, more)
	if more < int(plans)/3 {
		t.Error("too few")
	}
}

// A fuse keeps down what comes back through the one return that is left, and
// so does a supply that is limited; two of three conductors have their share.
func TestLooseByHand(t *testing.T) {
	const plan = `plan "p" { mains = "230 V" }
strip "s" { like = catalog.ws2812b_5v_60 }
wire "w" { gauge = "16 AWG" }
wire "thin" { gauge = "22 AWG" }
supply "b" {
  output = "5 V"
  rating = "20 A"
}
run "r" {
  strip  = strip.s
  length = "2 m"
}
`
	lead := func(name, wire, more string) string {
		return fmt.Sprintf("lead %q {\n  from   = supply.b.out\n  to     = run.r.start\n  wire   = wire.%s\n  length = \"1 m\"\n%s}\n", name, wire, more)
	}
	const full = 120 * 0.061 // A of 120 pixels
	memo := NewMemo()
	for _, row := range []struct {
		name, text string
		amps       float64
	}{
		{"no fuse", plan + lead("feed", "w", "") + lead("back", "thin", "  carries = \"minus\"\n"), full},
		{"a fuse", plan + lead("feed", "w", "  fuse = \"5 A\"\n") + lead("back", "thin", "  carries = \"minus\"\n"), 5},
		{"a smaller fuse", plan + lead("feed", "w", "  fuse = \"4 A\"\n") + lead("back", "thin", "  carries = \"minus\"\n"), 4},
		{"thinner wire", plan + lead("feed", "thin", "  fuse = \"4 A\"\n") + lead("back", "thin", "  carries = \"minus\"\n"), 4},
		{"the only return", plan + lead("feed", "w", "  carries = \"plus\"\n") + lead("back", "thin", "  carries = \"minus\"\n"), 0},
	} {
		for _, f := range []*Figures{
			figuresOf(t, decode(t, "p", row.text), nil),
			figuresOf(t, decode(t, "p", row.text), memo), // edited from the row above
		} {
			for _, l := range f.Leads {
				if l.Name == "back" {
					near(t, row.name+", A", f.LooseReturn(l).Amps, row.amps, 1e-9)
				}
			}
		}
	}
	f := figuresOf(t, decode(t, "p", plan+lead("feed", "w", "  carries = \"plus\"\n")+lead("back", "thin", "  carries  = \"minus\"\n  parallel = 3\n")), nil)
	for _, l := range f.Leads {
		x := f.LooseConductor(l)
		switch l.Name {
		case "back":
			near(t, "two of three, A", x.Amps, full, 1e-9)
			if x.Gone != l || x.Limit < 4 || x.Limit > 6 {
				t.Errorf("%+v", x)
			}
		case "feed":
			if x != (Loosened{}) {
				t.Errorf("%+v of a lead of one", x)
			}
		}
	}
}
