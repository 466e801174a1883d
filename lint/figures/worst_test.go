package figures

import (
	"math"
	"math/rand"
	"os"
	"testing"

	"ohmstead/calc/circuit"
)

// No pattern under the ceilings is worse than what is told as the worst: 200
// random patterns for each demo plan, each of a lit stretch in some runs,
// dimmed as far as the ceilings ask.
func TestNoPatternIsWorseThanTold(t *testing.T) {
	dirs, err := os.ReadDir("../../testdata/plans")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		t.Run(d.Name(), func(t *testing.T) {
			f := figuresOf(t, planOf(t, d.Name()), nil)
			rng := rand.New(rand.NewSource(1))
			for range 200 {
				lit := stretches(f, rng)
				for _, is := range f.Islands {
					f.noWorse(t, is, lit)
					if t.Failed() {
						return
					}
				}
			}
		})
	}
}

// stretches gives each run's pixels shares; runs of one controller share its
// ceiling.
func stretches(f *Figures, rng *rand.Rand) map[*Run][]float64 {
	out := map[*Run][]float64{}
	asked := map[*Controller]float64{}
	of := map[*Run]*Controller{}
	for _, c := range f.Controllers {
		for _, r := range c.Runs {
			of[r] = c
		}
	}
	for _, r := range f.Runs {
		shares := make([]float64, r.Pixels)
		if rng.Intn(3) > 0 {
			a := rng.Intn(r.Pixels)
			b := a + rng.Intn(r.Pixels-a) + 1
			for k := a; k < b; k++ {
				shares[k] = 1
				asked[of[r]] += r.PixelMax - r.Law.Idle
			}
		}
		out[r] = shares
	}
	for r, shares := range out {
		c := of[r]
		if c == nil || !c.Ceiling.Set {
			continue
		}
		if most := c.Ceiling.V.SI - c.Idle; asked[c] > most {
			for k := range shares {
				shares[k] *= most / asked[c]
			}
		}
	}
	return out
}

func (f *Figures) noWorse(t *testing.T, is *Island, lit map[*Run][]float64) {
	t.Helper()
	n, err := circuit.Prepare(is.Circuit)
	if err != nil {
		t.Fatal(err)
	}
	drive := make(circuit.Drive, len(is.Runs))
	for _, r := range is.Runs {
		each := make([][]float64, r.Pixels)
		for k, s := range lit[r] {
			each[k] = make([]float64, len(r.Law.Channels))
			for i := range each[k] {
				each[k][i] = s
			}
		}
		drive[r.strip].Each = each
	}
	sol, err := n.Solve(drive)
	if err != nil {
		t.Fatal(err)
	}
	const slack = 1e-6
	for _, l := range is.Leads {
		w := f.WorstLead(l)
		for _, i := range []int{l.plus, l.minus} {
			if i >= 0 && math.Abs(sol.WireAmps[i]) > w.Value+slack {
				t.Errorf("%s carries %g A, told %g A", l.ID(), sol.WireAmps[i], w.Value)
			}
		}
	}
	for _, r := range is.Runs {
		w := f.WorstVolts(r, 0)
		for k, v := range sol.Strips[r.strip].Volts() {
			if v < w.Value-slack {
				t.Errorf("%s: pixel %d gets %g V, told %g V", r.ID(), k, v, w.Value)
				break
			}
		}
		if w, _ := f.WorstRail(r); sol.Strips[r.strip].RailAmps > w.Value+slack {
			t.Errorf("%s: its rail carries %g A, told %g A", r.ID(), sol.Strips[r.strip].RailAmps, w.Value)
		}
	}
	src := 0
	for _, s := range is.Supplies {
		for range s.Outputs.V {
			for i, p := range f.Plan.Supplies {
				if p == s && sol.SourceAmps[src] > f.WorstSupply(i).Value+slack {
					t.Errorf("%s gives %g A, told %g A", s.ID(), sol.SourceAmps[src], f.WorstSupply(i).Value)
				}
			}
			src++
		}
	}
}
