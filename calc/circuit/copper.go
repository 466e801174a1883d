package circuit

import "math"

// newCopper is the rails and the wires of an island alone, with its nodes taken out. Plus and minus
// do not touch in it, and no load is part of it: it serves every case in which all loads draw their full
// current, and the bounds.
func (is *island) newCopper() *factored {
	f := newFactored(is.form.copper())
	is.conduct(func(a, b int32, s float64) { f.vals[f.slot(a, b)] += s })
	f.factor()
	f.vals = nil
	return f
}

// conduct visits each conductance of the rails and the wires.
func (is *island) conduct(add func(a, b int32, siemens float64)) {
	for i := range is.branches {
		b := &is.branches[i]
		add(b.a, b.b, b.siemens)
	}
	for i := range is.segments {
		if g := &is.segments[i]; g.through > 0 {
			add(g.a.plus, g.b.plus, 2*g.through)
			add(g.a.minus, g.b.minus, 2*g.through)
		}
	}
}

// coupled is the mesh of an island with its loads, and where its elements have their place in it.
type coupled struct {
	*mesh
	branches, drains []int32
	segments         [][6]int32 // plus to plus, minus to minus, plus to minus and back between the ends; across each end
}

func (is *island) newCoupled() *coupled {
	edges := make([][2]int32, 0, len(is.branches)+len(is.drains)+6*len(is.segments))
	for i := range is.branches {
		b := &is.branches[i]
		edges = append(edges, [2]int32{b.a, b.b})
	}
	for i := range is.drains {
		d := &is.drains[i]
		edges = append(edges, [2]int32{d.plus, d.minus})
	}
	for i := range is.segments {
		pairs := is.segments[i].pairs()
		edges = append(edges, pairs[:]...)
	}
	c := &coupled{
		mesh: newMesh(is.unknowns, edges), branches: make([]int32, 0, len(is.branches)), drains: make([]int32, 0, len(is.drains)),
		segments: make([][6]int32, 0, len(is.segments)),
	}
	for _, e := range edges[:len(is.branches)] {
		c.branches = append(c.branches, c.slot(e[0], e[1]))
	}
	for i := range is.drains {
		d := &is.drains[i]
		c.drains = append(c.drains, c.slot(d.plus, d.minus))
	}
	for i := range is.segments {
		var slots [6]int32
		for k, e := range is.segments[i].pairs() {
			slots[k] = c.slot(e[0], e[1])
		}
		c.segments = append(c.segments, slots)
	}
	return c
}

func (g *segment) pairs() [6][2]int32 {
	a, b := &g.a, &g.b
	return [6][2]int32{{a.plus, b.plus}, {a.minus, b.minus}, {a.plus, b.minus}, {a.minus, b.plus}, {a.plus, a.minus}, {b.plus, b.minus}}
}

// edges are those of the rails and the wires.
func (is *island) edges() [][2]int32 {
	out := make([][2]int32, 0, len(is.branches)+2*len(is.segments))
	is.conduct(func(a, b int32, _ float64) { out = append(out, [2]int32{a, b}) })
	return out
}

// full returns the potentials of an island in which every load draws its full current, whatever the
// voltage. Without parts that loads alone link, that is one solution of the copper; a second one
// takes back the rounding of the first. Where wires warm up each further one takes back most of what the
// cold copper leaves: a step with its conductances, the greatest that there are, never goes too far. Where they get so warm
// that this takes long it is given up, and settled is false.
func (n *Network) full(r *room, is *island, loads []load) (x []float64, settled bool) {
	const rounds = 60
	x = make([]float64, is.unknowns+1)
	step := r.row(is.unknowns + 1)
	copper := is.copper()
	flow := func(from, to int32, amps float64) {
		step[from] -= amps
		step[to] += amps
	}
	drawn := make([][2]float64, len(is.segments))
	for i := range is.segments {
		g := &is.segments[i]
		drawn[i][0], drawn[i][1] = g.drawn(&loads[g.strip], math.Inf(1))
	}
	last := math.Inf(1)
	for round := range rounds {
		clear(step)
		for i := range is.branches {
			b := &is.branches[i]
			amps, _ := b.flow(x[b.a] - x[b.b] + b.rise)
			flow(b.a, b.b, amps)
		}
		for i := range is.drains {
			d := &is.drains[i]
			flow(d.plus, d.minus, n.drained(d, loads).full(d.k))
		}
		for i := range is.segments {
			g := &is.segments[i]
			both, loop := g.through*(g.a.total(x)-g.b.total(x)), g.through*(g.a.over(x)-g.b.over(x))
			flow(g.a.plus, g.b.plus, both+loop)
			flow(g.a.minus, g.b.minus, both-loop)
			flow(g.a.plus, g.a.minus, drawn[i][0])
			flow(g.b.plus, g.b.minus, drawn[i][1])
		}
		copper.solve(step)
		greatest := 0.0
		for i := range x {
			x[i] += step[i]
			greatest = max(greatest, math.Abs(step[i]))
		}
		if round > 0 && (!is.warm || greatest <= onlyRounding || greatest <= promised && greatest >= last) {
			return x, true
		}
		last = greatest
	}
	return x, false
}

// drained returns the load of a drain.
func (n *Network) drained(d *drain, loads []load) *load {
	if d.strip < 0 {
		return &loads[len(n.c.Strips)+d.k]
	}
	return &loads[d.strip]
}
