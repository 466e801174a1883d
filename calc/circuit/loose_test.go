package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// minusWires returns those on the minus side, and of each wire whether something else leads from its one end to
// its other. Terminals of a source count as one then.
func minusWires(c *Circuit) (minus []int, ringed []bool) {
	joined := func(without int, sources bool) []int {
		group := make([]int, c.Nodes)
		for i := range group {
			group[i] = i
		}
		join := func(a, b int) {
			if from, to := group[a], group[b]; from != to {
				for i := range group {
					if group[i] == from {
						group[i] = to
					}
				}
			}
		}
		for i, w := range c.Wires {
			if i != without {
				join(w.A, w.B)
			}
		}
		for _, s := range c.Strips {
			last := [2]int{-1, -1}
			for _, tap := range s.Taps {
				for side, n := range [2]int{tap.Plus, tap.Minus} {
					if n >= 0 {
						if last[side] >= 0 {
							join(last[side], n)
						}
						last[side] = n
					}
				}
			}
		}
		if sources {
			for _, s := range c.Sources {
				join(s.Plus, s.Minus)
			}
		}
		return group
	}
	copper := joined(-1, false)
	isMinus := map[int]bool{}
	for _, s := range c.Sources {
		isMinus[copper[s.Minus]] = true
	}
	for i, w := range c.Wires {
		if isMinus[copper[w.A]] {
			minus = append(minus, i)
		}
		group := joined(i, true)
		ringed = append(ringed, group[w.A] == group[w.B])
	}
	return minus, ringed
}

// looseAlike compares random networks with the same networks wired anew, each minus wire missing in turn: once
// in plain numbers, 1e-6 relative.
func looseAlike(t *testing.T, networks uint64) {
	compared, moved, rails := 0, 0, 0
	for seed := range networks {
		r := rand.New(rand.NewPCG(seed, 41))
		c := tiedCircuit(r, 30)
		if seed%2 == 0 {
			c = randomCircuit(r, 30)
		}
		warm := seed%4 > 1
		if warm {
			warmUp(r, c)
		}
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		minus, ringed := minusWires(c)
		side := make([]int, len(c.Wires))
		for w := range side {
			side[w] = 1 + r.IntN(3)
		}
		budgets := randomBudgets(r, c)
		got, err := n.Loose(minus, side, budgets)
		intact, failed := n.Any(nil)
		intactHeld, _ := n.Any(budgets)
		if err != nil || failed != nil {
			if fmt.Sprint(err) != fmt.Sprint(failed) {
				t.Errorf("seed %d: %v, where the bound says %v", seed, err, failed)
			}
			continue
		}
		off := func(got, want float64) bool { return math.Abs(got-want) > 1e-6*math.Max(1e-3, math.Abs(want)) }
		// Warmth is reckoned with as without budgets, the safe side within them.
		apart := func(got, want float64, above bool) bool { return off(got, want) && !(above && got > want) }
		want, wantRails := make([]float64, len(c.Wires)), make([]float64, len(c.Strips))
		gone, wantHeld := make([]int, len(c.Wires)), make([]float64, len(c.Wires))
		for _, x := range minus {
			without := *c
			without.Wires = append(append([]Wire{}, c.Wires[:x]...), c.Wires[x+1:]...)
			after, err := Any(&without, nil)
			if err != nil {
				continue
			}
			held, err := Any(&without, budgets)
			if err != nil {
				t.Fatal(err)
			}
			for _, y := range minus {
				k := y
				if y > x {
					k--
				}
				if y == x {
					continue
				}
				if !ringed[x] {
					continue // what was the only way takes its current along
				}
				compared++
				wantHeld[y] = math.Max(wantHeld[y], held.Wires[k])
				if after.Wires[k] > want[y] && off(after.Wires[k], intact.Wires[y]) {
					want[y], gone[y] = after.Wires[k], x
				}
			}
			for s := range c.Strips {
				if ringed[x] && off(after.Strips[s].RailAmps, intact.Strips[s].RailAmps) {
					wantRails[s] = math.Max(wantRails[s], after.Strips[s].RailAmps)
				}
			}
		}
		for _, y := range minus {
			// Of what no loose connection changes nothing need be told.
			if g := got.Wires[y]; want[y] > 0 && off(g.Amps, want[y]) && (want[y] > intact.Wires[y] || g.Amps > intact.Wires[y]*(1+1e-6)) {
				t.Errorf("seed %d: wire %d carries %.9g A once %d is gone, anew %.9g A once %d is; intact %.9g A", seed, y, g.Amps, g.Gone, want[y], gone[y], intact.Wires[y])
			}
			if want[y] > intact.Wires[y] {
				moved++
			}
			if want := wantHeld[y]; want > intactHeld.Wires[y]*(1+1e-6) && apart(got.Wires[y].Held, want, warm) {
				t.Errorf("seed %d: wire %d carries %.9g A within the budgets, anew %.9g A; intact %.9g A", seed, y, got.Wires[y].Held, want, intactHeld.Wires[y])
			}
		}
		for s := range c.Strips {
			if want := wantRails[s]; want > intact.Strips[s].RailAmps {
				rails++
				if off(got.Rails[s].Amps, want) {
					t.Errorf("seed %d: the rail of strip %d carries %.9g A, anew %.9g A; intact %.9g A", seed, s, got.Rails[s].Amps, want, intact.Strips[s].RailAmps)
				}
			} else if g := got.Rails[s].Amps; g > intact.Strips[s].RailAmps+1e-9 {
				t.Errorf("seed %d: the rail of strip %d carries %.9g A, anew no more than the %.9g A before", seed, s, g, intact.Strips[s].RailAmps)
			}
		}
		for w := range c.Wires {
			if side[w] < 2 {
				continue
			}
			less := *c
			less.Wires = append([]Wire{}, c.Wires...)
			more := float64(side[w]) / float64(side[w]-1)
			less.Wires[w].Ohms *= more
			less.Wires[w].Heat *= more * more
			less.Wires[w].Most /= more
			after, err := Any(&less, nil)
			if err != nil {
				t.Fatal(err)
			}
			held, _ := Any(&less, budgets)
			if g := got.Left[w]; off(g.Amps, after.Wires[w]) || apart(g.Held, held.Wires[w], warm) {
				t.Errorf("seed %d: %d conductors of wire %d are left with %+v, anew %.9g A and %.9g A", seed, side[w]-1, w, g, after.Wires[w], held.Wires[w])
			}
		}
	}
	t.Logf("%d networks: %d pairs compared, %d wires and %d rails carry more than before", networks, compared, moved, rails)
	if moved < int(networks)/2 || rails < int(networks)/20 {
		t.Error("too few networks have returns in rings")
	}
}

func TestLooseAnew(t *testing.T) { looseAlike(t, 200) }

// Two returns of 10 and 40 mohm carry 4 and 1 parts of what comes back; either alone carries all of it. Of
// three conductors side by side in one of them, two have 15 mohm.
func TestLooseByHand(t *testing.T) {
	law := &Law{Channels: []Channel{{Amps: 0.05, Forward: 1, Headroom: 0.1}}}
	c := &Circuit{
		Nodes:   4,
		Sources: []Source{{0, 1, 12}},
		Wires:   []Wire{{A: 0, B: 2, Ohms: 0.01}, {A: 1, B: 3, Ohms: 0.01}, {A: 1, B: 3, Ohms: 0.04}},
		Strips:  []Strip{{Pixels: 100, Pitch: 0.01, Rail: 0.01, Law: law, Taps: []Tap{{0, 2, 3}}}},
	}
	n, err := Prepare(c)
	if err != nil {
		t.Fatal(err)
	}
	got, err := n.Loose([]int{1, 2}, []int{2, 3, 1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the thick one alone, A", got.Wires[1].Amps, 5, 1e-9)
	near(t, "the thin one alone, A", got.Wires[2].Amps, 5, 1e-9)
	if got.Wires[1].Gone != 2 || got.Wires[2].Gone != 1 || got.Wires[0].Amps != 0 {
		t.Errorf("%+v", got.Wires)
	}
	near(t, "the only plus, A", got.Left[0].Amps, 5, 1e-9)
	near(t, "two of three, A", got.Left[1].Amps, 5*(1/0.015)/(1/0.015+1/0.04), 1e-9)
}
