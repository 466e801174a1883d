package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// TestToldOfRandomPlans lights random plans, pixels starved in some of them, and
// finds nothing worse than the bound over every pattern, nor than what is told
// as the worst.
func TestToldOfRandomPlans(t *testing.T) {
	const patterns, slack = 10, 1e-9
	starved := 0
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 11))
		text := randomPlan(rng)
		f := figuresOf(t, decode(t, "x", text), nil)
		w := wallOf(t, f)
		over := func(what string, got, most float64) {
			t.Helper()
			if got > most+slack*math.Max(1, math.Abs(most)) {
				t.Fatalf("plan %d: %s: %.10g, beyond %.10g\n%s", seed, what, got, most, text)
			}
		}
		for range patterns {
			kind := fmt.Sprint(w.light(rng), ": ")
			for i, sol := range w.solve(t) {
				is := f.Islands[i]
				for _, l := range is.Leads {
					for _, wire := range []int{l.plus, l.minus} {
						if wire < 0 {
							continue
						}
						amps := sol.WireAmps[wire]
						over(kind+l.ID()+" carries, by the bound", math.Abs(amps), f.Any.Leads[l.place].Amps)
						over(kind+l.ID()+" carries, as told", math.Abs(amps), f.WorstLead(l).Value*(1+same))
					}
				}
				for _, r := range is.Runs {
					st := &sol.Strips[r.strip]
					if !st.Powered {
						continue
					}
					a := f.Any.Runs[r.place]
					drawn := st.PixelAmps()
					for k, v := range st.Volts() {
						if drawn[k] < r.Law.Nominal(w.shares[r][k])-1e-9 {
							starved++
						}
						over(kind+r.ID()+" lacks, by the bound", -v, -a.MinVolts)
						over(kind+r.ID()+" lacks, as told", -v, -f.WorstVolts(r, 0).Value+same)
					}
					rail, _ := f.WorstRail(r)
					over(kind+"the rails of "+r.ID()+" carry, by the bound", st.RailAmps, a.RailAmps)
					over(kind+"the rails of "+r.ID()+" carry, as told", st.RailAmps, rail.Value*(1+same))
				}
				src := 0
				for _, s := range is.Supplies {
					for range s.Outputs.V {
						amps := math.Abs(sol.SourceAmps[src])
						over(kind+s.ID()+" gives, by the bound", amps, f.Any.Supplies[f.supplies[s]].Amps)
						over(kind+s.ID()+" gives, as told", amps, f.WorstSupply(f.supplies[s]).Value*(1+same))
						src++
					}
				}
			}
		}
	}
	if starved == 0 {
		t.Error("no pixel was ever starved")
	}
	t.Logf("%d starved pixels in %d patterns", starved, 300*patterns)
}

// The runs a and x share a plus, x and y a return. With a lit as well, x starves,
// draws less, and leaves y more: the case full is not the worst for y, and is
// not told as such.
func TestLightThatRaisesAVoltage(t *testing.T) {
	const minus, plus = `carries = "minus"`, `carries = "plus"`
	f := worked(t, `plan "x" {}
supply "s" {
  output = "5 V"
  rating = "40 A"
}
joint "p" {}
joint "m" {}
run "a" {
  strip  = catalog.ws2812b_5v_60
  length = "1 m"
}
run "x" { like = run.a }
run "y" { like = run.a }
`+lead("p", "supply.s.out", "joint.p", "awg_22", "4 m", plus)+
		lead("pa", "joint.p", "run.a.start", "awg_18", "10 cm", plus)+
		lead("px", "joint.p", "run.x.start", "awg_18", "10 cm", plus)+
		lead("py", "supply.s.out", "run.y.start", "awg_14", "10 cm", plus)+
		lead("ma", "supply.s.out", "run.a.start", "awg_14", "10 cm", minus)+
		lead("mx", "joint.m", "run.x.start", "awg_18", "10 cm", minus)+
		lead("my", "joint.m", "run.y.start", "awg_18", "10 cm", minus)+
		lead("m", "supply.s.out", "joint.m", "awg_18", "2 m", minus))
	w := wallOf(t, f)
	for _, r := range f.Runs[1:] {
		for _, row := range w.shares[r] {
			row[0], row[1], row[2] = 1, 1, 1
		}
	}
	full := f.Cases[0].Runs[2].MinVolts
	without := math.Inf(1)
	for _, v := range w.solve(t)[0].Strips[f.Runs[2].strip].Volts() {
		without = math.Min(without, v)
	}
	if !(without < full-0.05) {
		t.Errorf("run.y gets %v V with all lit, %v V with run.a dark", full, without)
	}
	if told := f.WorstVolts(f.Runs[2], 0); told.Value > without {
		t.Errorf("told are %v V in case %s, yet a pattern gives %v V", told.Value, told.Case, without)
	}
}
