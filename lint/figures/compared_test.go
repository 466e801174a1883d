package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ohmstead/schema/bigplan"
)

// Those that differ are the same, with the same figures, whether or not what the plan leaves open was worked out of all.
func TestDifferingAreThose(t *testing.T) {
	some, none, near := 0, 0, 0
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 17))
		text := bigplan.Random(r)
		if seed < 6 {
			text = bigplan.Wall(1)
		}
		f := worked(t, text)
		var b strings.Builder
		for i, run := range f.Runs {
			c := &f.Cases[0].Runs[i]
			if !c.OK || run.Pixels == 0 || r.IntN(3) > 0 {
				continue
			}
			for k := range 1 + r.IntN(3) {
				pixel := r.IntN(run.Pixels)
				volts := c.Volts()[pixel] * (1 + math.Pow(10, -1-4*r.Float64())*(2*r.Float64()-1))
				fmt.Fprintf(&b, "reading \"x%d-%d\" {\n  at    = %s[%d]\n  volts = \"%.3f V\"\n}\n", i, k, run.ID(), pixel, volts)
			}
		}
		for i, l := range f.Leads {
			if c := f.Cases[0].Leads[i]; c.OK && r.IntN(4) == 0 {
				fmt.Fprintf(&b, "reading \"y%d\" {\n  at    = %s\n  amps = \"%.2f A\"\n}\n", i, l.ID(), math.Abs(c.Amps)*(0.8+0.4*r.Float64()))
			}
		}
		f = worked(t, text+b.String())
		var want []Reading
		all := f.Readings()
		for _, x := range all {
			if x.Differs() {
				want = append(want, x)
			}
			if off := x.off(x.Want); off > x.Leave/2 && off < 2*x.Leave {
				near++
			}
		}
		got := f.Differing()
		if len(got) != len(want) {
			t.Fatalf("seed %d: %d readings differ, %d among all %d", seed, len(got), len(want), len(all))
		}
		if len(got) > 0 {
			some++
		}
		none += len(all) - len(got)
		for i, x := range got {
			w := want[i]
			if x.Reading != w.Reading || x.From != w.From || math.Abs(x.Want-w.Want) > 1e-12 || math.Abs(x.Leave-w.Leave) > 1e-12*w.Leave {
				t.Errorf("seed %d: %s should be %g give or take %g (from %v); of all %s should be %g give or take %g (from %v)", seed, x.ID(), x.Want, x.Leave, x.From, w.ID(), w.Want, w.Leave, w.From)
			}
		}
	}
	if some < 50 || none < 200 || near < 100 {
		t.Errorf("%d plans with readings that differ, %d readings that do not, %d near what is left open: too few to tell", some, none, near)
	}
}
