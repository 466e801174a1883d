package circuit

import (
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"testing"
	"weak"

	"ohmstead/calc/thorough"
)

// A network that takes over what hangs on its shape is the one made from the start, to the last bit: solutions, bounds and what
// may come loose, in a chain of edits of values as somebody types them.
func TestPrepareLike(t *testing.T) {
	taken := 0
	for seed := range uint64(thorough.Or(500, 60)) {
		r := rand.New(rand.NewPCG(seed, 77))
		c := randomCircuit(r, 60)
		var last *Network
		for range 4 {
			n, err := PrepareLike(c, last)
			if err != nil {
				t.Fatal(err)
			}
			anew, err := Prepare(c)
			if err != nil {
				t.Fatal(err)
			}
			if last != nil && len(n.islands) > 0 && n.islands[0].form == last.islands[0].form {
				taken++
			}
			got, gotErr := n.Solve(nil)
			want, wantErr := anew.Solve(nil)
			if (gotErr == nil) != (wantErr == nil) || got != nil && !reflect.DeepEqual(got.Volts, want.Volts) || got != nil && !reflect.DeepEqual(got.WireAmps, want.WireAmps) {
				t.Fatalf("seed %d: solved as %v (%v), from the start as %v (%v)", seed, got, gotErr, want, wantErr)
			}
			for i := range want.Strips {
				if !slices.Equal(got.Strips[i].Volts(), want.Strips[i].Volts()) {
					t.Fatalf("seed %d: strip %d is another one from the start", seed, i)
				}
			}
			budgets := randomBudgets(r, c)
			bound, gotErr := n.Any(budgets)
			fresh, wantErr := anew.Any(budgets)
			if (gotErr == nil) != (wantErr == nil) {
				t.Fatalf("seed %d: bounded with %v, from the start with %v", seed, gotErr, wantErr)
			}
			if gotErr == nil {
				for _, b := range []*Bound{bound, fresh} {
					b.network, b.given = nil, nil
				}
				if !reflect.DeepEqual(bound, fresh) {
					t.Fatalf("seed %d: the bound is %+v, from the start %+v", seed, bound, fresh)
				}
			}
			last = n
			d := *c
			d.Wires, d.Sinks, d.Strips = slices.Clone(c.Wires), slices.Clone(c.Sinks), slices.Clone(c.Strips)
			for i := range d.Wires {
				if r.IntN(2) == 0 {
					d.Wires[i].Ohms *= 0.5 + r.Float64()
				}
				if r.IntN(3) == 0 { // some become warm, others cold
					d.Wires[i].Heat, d.Wires[i].Most = 0.01*float64(r.IntN(2)), 15
				}
			}
			for i := range d.Sinks {
				d.Sinks[i].Amps *= 0.5 + r.Float64()
			}
			for i := range d.Strips {
				s := &d.Strips[i]
				if r.IntN(2) == 0 {
					s.Rail *= 0.5 + r.Float64()
				}
				if r.IntN(2) == 0 {
					law := *s.Law
					law.Idle *= 1.5
					s.Law = &law
				}
			}
			if r.IntN(5) == 0 {
				d.Wires[r.IntN(len(d.Wires))].A = r.IntN(d.Nodes) // another shape
			}
			c = &d
		}
	}
	if taken < 60 {
		t.Errorf("a shape was taken over %d times only", taken)
	}
}

// What is taken over holds nothing of the network before: in a chain of edits the first of them would stay.
func TestPrepareLikeLetsGo(t *testing.T) {
	c := ring(600, 10)
	n, err := Prepare(c)
	if err != nil {
		t.Fatal(err)
	}
	first := weak.Make(&n.islands[0])
	for range 2 {
		if _, err := n.Solve(nil); err != nil {
			t.Fatal(err)
		}
		if _, err := n.Any(nil); err != nil {
			t.Fatal(err)
		}
		d := *c
		d.Wires = slices.Clone(c.Wires)
		d.Wires[0].Ohms *= 2
		if n, err = PrepareLike(&d, n); err != nil {
			t.Fatal(err)
		}
	}
	runtime.GC()
	if first.Value() != nil {
		t.Error("the first network is held")
	}
	runtime.KeepAlive(n)
}
