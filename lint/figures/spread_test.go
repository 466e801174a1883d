package figures

import (
	"math"
	"math/rand/v2"
	"testing"

	"ohmstead/calc/circuit"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
)

// unseen is what spreads may be off by where wires warm up, V and A: no meter shows it.
const unseen = 1e-5

// What varies where a meter does not look is left out; that moves nothing of what is left open.
func TestSpreadIsWhole(t *testing.T) {
	texts := []string{bigplan.Wall(1)}
	for seed := range uint64(20) {
		texts = append(texts, randomPlan(rand.New(rand.NewPCG(seed, 23))))
	}
	type kind struct {
		reads Reads
		what  What
	}
	kinds := map[kind]int{}
	for n, text := range texts {
		rng := rand.New(rand.NewPCG(uint64(n), 5))
		f := figuresOf(t, decode(t, "x", text), nil)
		for _, is := range f.Islands {
			if is.split == nil {
				continue
			}
			probes := probesIn(is)
			rng.Shuffle(len(probes), func(i, k int) { probes[i], probes[k] = probes[k], probes[i] })
			for _, probe := range probes[:min(len(probes), 12)] {
				_, spread, err := f.SpreadOf(is, f.Cases[0], []Probes{probe})
				planned, e := f.Wall(is, f.Cases[0])
				if err != nil || e != nil {
					t.Fatalf("plan %d: %v, %v", n, err, e)
				}
				shown, _ := planned.Shows(probe)
				for i, changes := range is.Unsure() {
					w, err := f.Wall(is, f.Cases[0], changes...)
					if err != nil {
						t.Fatal(err)
					}
					got, err := w.Shows(probe)
					moved := 0.0
					if len(spread[0]) > 0 && spread[0][0].Of == i {
						moved, spread[0] = spread[0][0].By, spread[0][1:]
					}
					if want := got - shown; err != nil || math.Abs(moved-want) > unseen {
						t.Errorf("plan %d: %v of %v: %v moves %g, worked out whole %g, %v", n, probe.Reads, schema.HeaderOf(probe.At.Block()).ID(), changes[0].What, moved, want, err)
					} else if want != 0 {
						kinds[kind{probe.Reads, changes[0].What}]++
					}
				}
			}
		}
	}
	for _, what := range []What{Trimmed, Railed, Drawn, Idled, Stretched} {
		if kinds[kind{Volts, what}] == 0 || kinds[kind{Amps, what}] == 0 {
			t.Errorf("no change %d moves both a voltage and a current: %v", what, kinds)
		}
	}
	if kinds[kind{Ohms, Stretched}] == 0 {
		t.Error("no length moves a resistance")
	}
}

// probesIn lists the places of an island where a meter may be held.
func probesIn(is *Island) (out []Probes) {
	both := func(pt *schema.Point) { out = append(out, Probes{At: pt}, Probes{At: pt, Reads: Amps}) }
	for _, r := range is.Runs {
		both(&schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtStart})
		both(&schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtEnd})
	}
	for _, j := range is.Joints {
		both(&schema.Point{Kind: schema.JointPlace, Joint: j})
	}
	for _, s := range is.Supplies {
		both(&schema.Point{Kind: schema.SupplyOut, Supply: s, Output: 1})
	}
	for _, l := range is.Leads {
		pt := &schema.Point{Kind: schema.LeadPlace, Lead: l.Lead, Where: schema.LeadPlaces[l.place%len(schema.LeadPlaces)]}
		both(pt)
		out = append(out, Probes{At: pt, Reads: Ohms})
	}
	return out
}

// An island is cut once with a supply trimmed, however many places are asked about: of a large one that takes longest of all.
func TestTrimmedIsCutOnce(t *testing.T) {
	f := worked(t, bigplan.Wall(1))
	planned, err := f.Wall(f.Islands[0], f.Cases[0])
	if err != nil {
		t.Fatal(err)
	}
	cut := func(part int) *circuit.Split {
		w, err := planned.variety([]int{apart, part}).wall(0, planned)
		if err != nil || w.changes[0].What != Trimmed {
			t.Fatalf("%v: %v", w.changes, err)
		}
		return w.rises()
	}
	if one, other := cut(0), cut(1); one == planned.split || one != other {
		t.Error("it is cut for each of them, or not at all")
	}
}
