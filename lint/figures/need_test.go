package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/bigplan"
)

// TestNeedSolvesItsPartAlone asks for the figures of a run and a lead: they are
// those of the whole, and most of the plan is left alone.
func TestNeedSolvesItsPartAlone(t *testing.T) {
	p := decode(t, "x", bigplan.Wall(1))
	whole := figuresOf(t, p, nil)
	f := Prepare(p, NewMemo())
	solved := func() (n, of int) {
		for _, is := range f.Islands {
			for _, p := range is.parts {
				if p.Live {
					if of++; p.known() {
						n++
					}
				}
			}
		}
		return n, of
	}
	r := f.Runs[30]
	f.Need(r.Run)
	if n, of := solved(); n != 1 || of < 40 {
		t.Errorf("%d of %d parts are solved for one run", n, of)
	}
	for k, c := range f.Cases {
		want := whole.Cases[k].Runs[30]
		if got := c.Runs[30]; !got.OK || math.Abs(got.MinVolts-want.MinVolts) > 1e-9 || math.Abs(got.Amps-want.Amps) > 1e-9 {
			t.Errorf("case %s: %v A, %v V; want %v A, %v V", c.Name, got.Amps, got.MinVolts, want.Amps, want.MinVolts)
		}
		if c.Runs[31].OK {
			t.Errorf("case %s: another run has figures", c.Name)
		}
	}
	if got, want := f.WorstVolts(r, 0), whole.WorstVolts(whole.Runs[30], 0); math.Abs(got.Value-want.Value) > 1e-9 {
		t.Errorf("at worst %v V, want %v V", got.Value, want.Value)
	}
	for i, c := range p.Controllers {
		f.Need(c)
		for k := range f.Cases {
			if got, want := f.Cases[k].Controllers[i].Volts, whole.Cases[k].Controllers[i].Volts; want < 1 || math.Abs(got-want) > 1e-9 {
				t.Errorf("%s has %v V, want %v V", c.ID(), got, want)
			}
		}
	}
	for _, s := range p.Supplies {
		f.Need(s)
	}
	if n, of := solved(); n != of {
		t.Errorf("%d of %d parts are solved for all supplies", n, of)
	}
	if err := f.Solve(t.Context()); err != nil || !alike9(told(f), told(whole)) {
		t.Error("the plan is told otherwise when blocks were needed first", err)
	}
}

// TestNeedWhileSolving asks for blocks in any order while the whole is solved:
// for the race detector, and each block has its figures when its turn comes.
func TestNeedWhileSolving(t *testing.T) {
	p := decode(t, "x", bigplan.Wall(1))
	want := told(figuresOf(t, p, nil))
	memo := NewMemo()
	for range 3 {
		f := Prepare(p, memo)
		var all sync.WaitGroup
		for worker := range 4 {
			all.Add(1)
			go func() {
				defer all.Done()
				rng := rand.New(rand.NewPCG(uint64(worker), 5))
				for range 40 {
					switch b := p.Blocks[rng.IntN(len(p.Blocks))].(type) {
					case *schema.Run:
						f.Need(b)
						r, _ := f.Run(b)
						if c := f.Cases[0].Runs[r.place]; !c.OK || fmt.Sprint(r.Rails) == "" {
							t.Errorf("%s has no figures", b.ID())
						}
					case *schema.Lead:
						f.Need(b)
						l, _ := f.Lead(b)
						if c := f.Cases[1].Leads[l.place]; !c.OK || !f.Any.Leads[l.place].OK {
							t.Errorf("%s has no figures", b.ID())
						}
					case *schema.Supply, *schema.Joint, *schema.Controller:
						f.Need(b)
					}
				}
			}()
		}
		if err := f.Solve(t.Context()); err != nil {
			t.Error(err)
		}
		all.Wait()
		if !alike9(told(f), want) {
			t.Error("the plan is told otherwise when blocks are needed meanwhile")
		}
	}
}
