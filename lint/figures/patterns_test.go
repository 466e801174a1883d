package figures

import (
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"testing"

	"ohmstead/calc/circuit"
)

// demos lists the demo plans.
func demos(t testing.TB) []string {
	t.Helper()
	dirs, err := os.ReadDir("../../testdata/plans")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, d := range dirs {
		names = append(names, d.Name())
	}
	return names
}

// wall is a plan with everything lit pixel by pixel, by the shares that a
// firmware would send.
type wall struct {
	*Figures
	nets   []*circuit.Network // of each island, nil where it could not be built
	shares map[*Run][][]float64
}

func wallOf(t testing.TB, f *Figures) *wall {
	t.Helper()
	w := &wall{Figures: f, shares: map[*Run][][]float64{}}
	for _, is := range f.Islands {
		if is.Err != nil {
			t.Fatal(is.Err)
		}
		n, err := circuit.Prepare(is.Circuit)
		if err != nil {
			t.Fatal(err)
		}
		w.nets = append(w.nets, n)
		for _, r := range is.Runs {
			rows := make([][]float64, r.Pixels)
			for k := range rows {
				rows[k] = make([]float64, len(r.Law.Channels))
			}
			w.shares[r] = rows
		}
	}
	return w
}

// runs lists the runs that have power.
func (w *wall) runs() []*Run {
	var out []*Run
	for _, is := range w.Islands {
		out = append(out, is.Runs...)
	}
	return out
}

// dark clears the pattern.
func (w *wall) dark() {
	for _, rows := range w.shares {
		for _, row := range rows {
			clear(row)
		}
	}
}

// hold dims the pattern as a firmware does: by one factor for all that a
// controller drives, so that nominal currents stay under its ceiling.
func (w *wall) hold() {
	for _, ctl := range w.Controllers {
		if !ctl.Ceiling.Set {
			continue
		}
		idle, lit := 0.0, 0.0
		for _, r := range ctl.Runs {
			for _, row := range w.shares[r] {
				idle += r.Law.Idle
				lit += r.Law.Nominal(row) - r.Law.Idle
			}
		}
		if idle+lit <= ctl.Ceiling.V.SI {
			continue
		}
		scale := math.Max(0, (ctl.Ceiling.V.SI-idle)/lit)
		for _, r := range ctl.Runs {
			for _, row := range w.shares[r] {
				for c := range row {
					row[c] *= scale
				}
			}
		}
	}
}

// solve solves all islands under the pattern.
func (w *wall) solve(t testing.TB) []*circuit.Solution {
	t.Helper()
	var all []*circuit.Solution
	for i, is := range w.Islands {
		d := make(circuit.Drive, len(is.Runs))
		for _, r := range is.Runs {
			d[r.strip].Each = w.shares[r]
		}
		sol, err := w.nets[i].Solve(d)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, sol)
	}
	return all
}

// light lights the wall at random in one of the ways that effects do.
func (w *wall) light(rng *rand.Rand) (kind string) {
	w.dark()
	runs := w.runs()
	some := func() []*Run { // one run, a few, or all
		switch rng.IntN(3) {
		case 0:
			return []*Run{runs[rng.IntN(len(runs))]}
		case 1:
			return runs
		}
		var out []*Run
		for _, r := range runs {
			if rng.IntN(3) == 0 {
				out = append(out, r)
			}
		}
		return out
	}
	full := func(row []float64) {
		for c := range row {
			row[c] = 1
		}
	}
	switch rng.IntN(6) {
	case 0:
		kind = "sparse"
		for _, r := range some() {
			for range 1 + rng.IntN(5) {
				full(w.shares[r][rng.IntN(r.Pixels)])
			}
		}
	case 1:
		kind = "dense"
		for _, r := range some() {
			for _, row := range w.shares[r] {
				for c := range row {
					row[c] = rng.Float64()
				}
			}
		}
	case 2:
		kind = "far end"
		for _, r := range some() {
			for k := r.Pixels - 1 - rng.IntN(r.Pixels); k < r.Pixels; k++ {
				full(w.shares[r][k])
			}
		}
	case 3:
		kind = "a stretch"
		for _, r := range some() {
			from := rng.IntN(r.Pixels)
			for k := from; k < min(r.Pixels, from+1+rng.IntN(r.Pixels)); k++ {
				full(w.shares[r][k])
			}
		}
	case 4:
		kind = "one colour"
		for _, r := range some() {
			c := rng.IntN(len(r.Law.Channels))
			for _, row := range w.shares[r] {
				row[c] = 1
			}
		}
	default:
		kind = "whole runs"
		for _, r := range some() {
			for _, row := range w.shares[r] {
				full(row)
			}
		}
	}
	w.hold()
	return kind
}

// TestNoPatternIsWorse lights each demo plan in 2,000 ways under its ceilings,
// and solves each with the true law of the pixels: no lead carries more, no
// pixel gets less, no output gives more than the bound over every pattern.
func TestNoPatternIsWorse(t *testing.T) {
	const slack = 1e-9
	type row struct {
		name, ceiling string // "" leaves the plan's own
		patterns      int
	}
	rows := []row{{"bookcase", "4 A", 500}, {"eave", "2.5 A", 500}, {"matrix", "5 A", 250}}
	for _, name := range demos(t) {
		rows = append(rows, row{name, "", 2000})
	}
	ceiling := regexp.MustCompile(`ceiling( *)= "[^"]*"`)
	for _, tc := range rows {
		t.Run(strings.TrimSpace(tc.name+" "+tc.ceiling), func(t *testing.T) {
			t.Parallel()
			text := textOf(t, tc.name)
			if tc.ceiling != "" {
				text = ceiling.ReplaceAllString(text, `ceiling$1= "`+tc.ceiling+`"`)
			}
			f := figuresOf(t, decode(t, tc.name, text), nil)
			w := wallOf(t, f)
			rng := rand.New(rand.NewPCG(1, uint64(len(text))))
			leads := make([]float64, len(f.Leads)) // the most seen
			for range tc.patterns {
				kind := w.light(rng)
				for i, sol := range w.solve(t) {
					is := f.Islands[i]
					for _, l := range is.Leads {
						k := l.place
						for _, wire := range []int{l.plus, l.minus} {
							if wire < 0 {
								continue
							}
							amps := math.Abs(sol.WireAmps[wire])
							leads[k] = math.Max(leads[k], amps)
							if a := f.Any.Leads[k]; !a.OK || amps > a.Amps+slack {
								t.Fatalf("%s: %s carries %.12f A, the bound is %.12f A (%v)", kind, l.ID(), amps, a.Amps, a.OK)
							}
						}
					}
					for _, r := range is.Runs {
						k := r.place
						for p, v := range sol.Strips[r.strip].Volts() {
							if a := f.Any.Runs[k]; !a.OK || v < a.MinVolts-slack {
								t.Fatalf("%s: pixel %d of %s gets %.12f V, the bound is %.12f V (%v)", kind, p, r.ID(), v, a.MinVolts, a.OK)
							}
						}
					}
					src := 0
					for _, s := range is.Supplies {
						for range s.Outputs.V {
							amps := math.Abs(sol.SourceAmps[src])
							if a := f.Any.Supplies[f.supplies[s]]; !a.OK || amps > a.Amps+slack {
								t.Fatalf("%s: %s gives %.12f A, the bound is %.12f A (%v)", kind, s.ID(), amps, a.Amps, a.OK)
							}
							src++
						}
					}
				}
			}
			near := 0
			for i, a := range f.Any.Leads {
				if leads[i] >= 0.99*a.Amps {
					near++
				}
			}
			t.Logf("%d patterns; %d of %d leads come within 1 %% of their bound by chance", tc.patterns, near, len(f.Leads))
		})
	}
}

// TestBoundIsReached solves the very pattern behind each bound. Where all lit
// pixels hold their full current the bound is the truth; where some do not, it
// lies on the safe side.
func TestBoundIsReached(t *testing.T) {
	for _, name := range demos(t) {
		t.Run(name, func(t *testing.T) {
			f := figuresOf(t, planOf(t, name), nil)
			reached, starved := 0, 0
			worst := 0.0
			for _, is := range f.Islands {
				n, err := circuit.Prepare(is.Circuit)
				if err != nil {
					t.Fatal(err)
				}
				budgets := budgetsOf(f, is)
				bound, err := n.Any(budgets)
				if err != nil {
					t.Fatal(err)
				}
				// check solves a pattern and compares what it makes of a
				// quantity that starts from idle with the bound.
				check := func(id string, d circuit.Drive, bound, idle, spill float64, of func(*circuit.Solution) float64) {
					t.Helper()
					for i, b := range budgets {
						spent := 0.0
						for _, s := range b.Strips {
							for _, row := range d[s].Each {
								if row != nil {
									spent += is.Circuit.Strips[s].Law.Nominal(row) - is.Circuit.Strips[s].Law.Idle
								}
							}
						}
						if spent > b.Amps*(1+1e-9) {
							t.Errorf("%s: the pattern spends %v A of the %v A of budget %d", id, spent, b.Amps, i)
						}
					}
					sol, err := n.Solve(d)
					if err != nil {
						t.Fatal(err)
					}
					got := of(sol)
					if math.Abs(got-idle) > math.Abs(bound-idle)*(1+1e-9)+1e-9 {
						t.Errorf("%s: the pattern makes %v, beyond the bound %v", id, got, bound)
					}
					if !saturated(is, d, sol) {
						starved++
						return
					}
					reached++
					short := math.Abs(got - bound)
					worst = math.Max(worst, short/math.Abs(bound-idle))
					if short > 0.01*math.Abs(bound-idle)+2*spill {
						t.Errorf("%s: the pattern makes %v, the bound is %v", id, got, bound)
					}
				}
				for _, l := range is.Leads {
					most := 0.0
					for _, w := range []int{l.plus, l.minus} {
						if w < 0 {
							continue
						}
						most = math.Max(most, bound.Wires[w])
						check(l.ID(), bound.WirePattern(w), bound.Wires[w], 0, bound.Spill[w], func(s *circuit.Solution) float64 { return math.Abs(s.WireAmps[w]) })
					}
					if a := f.Any.Leads[l.place]; math.Abs(a.Amps-most) > 1e-9 {
						t.Errorf("%s: %v A is reported, the bound is %v A", l.ID(), a.Amps, most)
					}
				}
				for _, r := range is.Runs {
					b, a := bound.Strips[r.strip], f.Any.Runs[r.place]
					if math.Abs(a.MinVolts-b.MinVolts) > 1e-9 || a.MinPixel != b.MinPixel {
						t.Errorf("%s: %v V is reported, the bound is %v V", r.ID(), a.MinVolts, b.MinVolts)
					}
					top := 0.0
					for _, s := range is.Supplies {
						top = math.Max(top, s.Volts())
					}
					check(r.ID(), bound.StripPattern(r.strip), b.MinVolts, top, 0, func(s *circuit.Solution) float64 { return s.Strips[r.strip].Volts()[b.MinPixel] })
				}
			}
			t.Logf("%d patterns reach their bound within %.2g of it, %d leave pixels starved", reached, worst, starved)
			if reached == 0 {
				t.Error("no pattern leaves all its pixels at full current")
			}
		})
	}
}

// saturated reports whether all pixels draw what they want.
func saturated(is *Island, d circuit.Drive, sol *circuit.Solution) bool {
	for i, s := range is.Circuit.Strips {
		for k, amps := range sol.Strips[i].PixelAmps() {
			var row []float64
			if d[i].Each != nil {
				row = d[i].Each[k]
			}
			if math.Abs(amps-s.Law.Nominal(row)) > 1e-12 {
				return false
			}
		}
	}
	return true
}

// budgetsOf turns the ceilings into budgets for all of an island.
func budgetsOf(f *Figures, is *Island) []circuit.Budget {
	var out []circuit.Budget
	for _, c := range f.ceilings {
		b := circuit.Budget{Amps: c.amps}
		for _, r := range c.control.Runs {
			if r.Island == is && r.OK {
				b.Strips = append(b.Strips, r.strip)
			}
		}
		if len(b.Strips) > 0 {
			out = append(out, b)
		}
	}
	return out
}
