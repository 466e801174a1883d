package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// behindALead puts what a circuit's first source feeds behind a lead of its own.
func behindALead(c *Circuit) *Circuit {
	s := c.Sources[0]
	plus, minus := c.Nodes, c.Nodes+1
	c.Nodes += 2
	c.Wires = append(c.Wires, Wire{A: plus, B: s.Plus, Ohms: 0.003}, Wire{A: minus, B: s.Minus, Ohms: 0.004})
	c.Sources[0] = Source{plus, minus, s.Volts}
	return c
}

// TestAdjointAgainstWhole works factors out for every node of large networks, and compares those found with
// whole branches left out; and what both can be filled to.
func TestAdjointAgainstWhole(t *testing.T) {
	uneven := func(c *Circuit, seed uint64) *Circuit {
		r := rand.New(rand.NewPCG(seed, 41))
		for i := range c.Wires {
			c.Wires[i].Ohms *= 0.5 + r.Float64()
		}
		return c
	}
	levels, left := 0, 0
	for i, c := range []*Circuit{
		trunk(1000, 100), ring(3000, 60), fourJoints(6000), behindALead(fourJoints(6000)),
		uneven(trunk(2000, 200), 1), uneven(ring(3000, 60), 2), uneven(behindALead(fourJoints(6000)), 3), uneven(behindALead(ring(500, 9)), 4),
	} {
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		budgets := []Budget{{Amps: 7}, {Amps: 11}}
		for s := range c.Strips {
			if s%5 > 0 {
				budgets[s%2].Strips = append(budgets[s%2].Strips, s)
			}
		}
		d, err := newBounder(n, budgets)
		if err != nil {
			t.Fatal(err)
		}
		f := &d.fields[0]
		x := make([]float64, f.unknowns+1)
		check := func(what string) {
			t.Helper()
			for _, l := range f.levels {
				if l.factor != 0 {
					levels++
				}
			}
			f.copper().solve(x)
			greatest := 0.0
			for _, v := range x {
				greatest = max(greatest, math.Abs(v))
			}
			before := [2]float64{f.fill(1), f.fill(-1)}
			f.expand()
			if len(f.active) < len(f.groups) {
				left++
			}
			for g := range f.groups {
				p := &f.groups[g]
				first, last := p.line(func(e *end) float64 { return x[e.plus] - x[e.minus] })
				s := stretch{}
				if f.marks[g] {
					s = p.stretch
				}
				near(t, what+": a factor", s.first, first, 1e-11*greatest)
				near(t, what+": a factor", s.last, last, 1e-11*greatest)
			}
			near(t, what+": filled", before[0], f.fill(1), 1e-9*before[0]+1e-15)
			near(t, what+": filled", before[1], f.fill(-1), 1e-9*before[1]+1e-15)
			if t.Failed() {
				t.Fatalf("network %d", i)
			}
		}
		for w := 0; w < len(c.Wires); w += 1 + len(c.Wires)/50 {
			d.wire(w)
			a, b := d.spots[c.Wires[w].A].unknown, d.spots[c.Wires[w].B].unknown
			clear(x)
			x[a] -= 1 / c.Wires[w].Ohms
			x[b] += 1 / c.Wires[w].Ohms
			check("a wire")
		}
		for g := 0; g < len(f.groups); g += 1 + len(f.groups)/20 {
			p := &f.groups[g]
			if p.a.loose() || p.b.loose() {
				continue
			}
			f.mix(f.rows(p), 0.25)
			clear(x)
			x[p.a.plus] += 0.75
			x[p.a.minus] -= 0.75
			x[p.b.plus] += 0.25
			x[p.b.minus] -= 0.25
			check("a draw between two taps")
		}
	}
	t.Logf("%d branches with one factor, in %d quantities some groups have none", levels, left)
	if levels < 20 || left < 20 {
		t.Error("too few to test with")
	}
}
