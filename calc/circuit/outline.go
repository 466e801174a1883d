package circuit

import "slices"

// outline is what the bounds of an island need whatever the budgets are.
type outline struct {
	*island
	groups  []group
	groupOf []int32 // of each segment, -1 for none
	byNode  []int32 // groups, by the first of their nodes
	from    []int32 // from[v] to from[v+1]: those of a node in byNode
	adjoint *adjoint
}

// outline is that of an island: of its shape where that has one.
func (n *Network) outline(i int32, d *darkness) *outline {
	is := &n.islands[i]
	if known := is.form.outline.Load(); known != nil {
		return known.again(is, d, d.states[i].x)
	}
	o := n.newOutline(i, d)
	shared := *o
	shared.island = nil // this one goes when its values are edited
	is.form.outline.Store(&shared)
	return o
}

func (n *Network) newOutline(i int32, d *darkness) *outline {
	is := &n.islands[i]
	o := &outline{island: is, groupOf: make([]int32, len(is.segments)), groups: make([]group, 0, len(is.segments)+len(is.drains))}
	add := func(p group) {
		p.stretch.n = p.n
		o.groups = append(o.groups, p)
	}
	for j := range is.segments {
		g := &is.segments[j]
		if o.groupOf[j] = -1; g.n == 0 {
			continue
		}
		o.groupOf[j] = int32(len(o.groups))
		add(group{
			strip: g.strip, first: g.first, n: g.n, a: g.a, b: g.b, from: g.from, to: g.to, wA: g.wA, wB: g.wB,
		})
	}
	for j := range is.drains {
		if dr := &is.drains[j]; dr.strip >= 0 {
			e := end{plus: dr.plus, minus: dr.minus, plusPoint: dr.plusPoint, minusPoint: dr.minusPoint}
			add(group{strip: dr.strip, first: dr.k, n: 1, a: e, b: e})
		}
	}
	o.darken(d, d.states[i].x)
	terminal := make([]bool, is.unknowns+1) // of a source
	for _, s := range n.c.Sources {
		for _, node := range []int{s.Plus, s.Minus} {
			if sp := n.spots[node]; sp.island == i {
				terminal[sp.unknown] = true
			}
		}
	}
	sides, ties := o.sides(terminal)
	o.adjoint = newAdjoint(is, sides, ties)

	o.from = make([]int32, is.unknowns+2)
	least := make([]int32, len(o.groups)) // node of each group
	for j := range o.groups {
		least[j] = int32(is.unknowns)
		for _, unknown := range o.groups[j].unknowns() {
			least[j] = min(least[j], o.adjoint.number[unknown])
		}
		o.from[least[j]+1]++
	}
	for v := range is.unknowns + 1 {
		o.from[v+1] += o.from[v]
	}
	o.byNode = make([]int32, len(o.groups))
	next := slices.Clone(o.from)
	for j, v := range least {
		o.byNode[next[v]] = int32(j)
		next[v]++
	}
	return o
}

// darken sets how voltages lie along the groups with all pixels dark and the potentials x, and what each of them may draw more.
func (o *outline) darken(d *darkness, x []float64) {
	for j := range o.groups {
		o.groups[j].stretch.most = d.caps[o.groups[j].strip]
	}
	at := 0
	for j := range o.segments {
		if g := &o.segments[j]; o.groupOf[j] >= 0 {
			o.groups[at].idle = g.profile(d.dark[g.strip].total, g.a.over(x), g.b.over(x))
			at++
		}
	}
	for j := range o.drains {
		if dr := &o.drains[j]; dr.strip >= 0 {
			o.groups[at].idle = profile{n: 1, first: x[dr.plus] - x[dr.minus] + dr.rise}
			at++
		}
	}
}

// again is that of an island of the same shape.
func (o *outline) again(is *island, d *darkness, x []float64) *outline {
	w := *o
	w.island, w.groups, w.adjoint = is, slices.Clone(o.groups), o.adjoint.revalued(is)
	w.darken(d, x)
	return &w
}

// here returns the groups of a node.
func (o *outline) here(v int32) []int32 { return o.byNode[o.from[v]:o.from[v+1]] }

// unknowns returns those of the ends.
func (p *group) unknowns() [4]int32 { return [4]int32{p.a.plus, p.a.minus, p.b.plus, p.b.minus} }

// sides finds out which unknowns are plus and which are minus, and what ties both together.
func (o *outline) sides(terminal []bool) ([]side, []tie) {
	copper := newForest(o.unknowns + 1)
	apartFrom := func(v int32) bool { return int(v) == o.unknowns || terminal[v] }
	o.conduct(func(a, b int32, _ float64) {
		if !apartFrom(a) && !apartFrom(b) {
			copper.join(a, b, 0)
		}
	})
	const unknown = bothSides + 1
	of := make([]side, o.unknowns+1) // of each root
	for i := range of {
		of[i] = unknown
	}
	set := func(v int32, s side) {
		if !apartFrom(v) {
			if root := copper.rootOf(v); of[root] == unknown || of[root] == s {
				of[root] = s
			} else {
				of[root] = bothSides
			}
		}
	}
	for i := range o.groups {
		p := &o.groups[i]
		set(p.a.plus, plusSide)
		set(p.b.plus, plusSide)
		set(p.a.minus, minusSide)
		set(p.b.minus, minusSide)
	}
	sides, ties := make([]side, o.unknowns), make([]tie, o.unknowns)
	for v := range sides {
		switch sides[v] = of[copper.rootOf(int32(v))]; {
		case terminal[v] || sides[v] == bothSides:
			sides[v], ties[v] = bothSides, together
		case sides[v] == unknown:
			sides[v] = plusSide // no load is there to tell
		}
	}
	for i := range o.groups { // a tap right at a terminal
		p := &o.groups[i]
		tied := apart
		for _, e := range []*end{&p.a, &p.b} {
			for _, v := range []int32{e.plus, e.minus} {
				switch {
				case e.loose():
				case int(v) == o.unknowns:
					tied = grounded
				case sides[v] == bothSides:
					tied = max(tied, together)
				}
			}
		}
		for _, v := range p.unknowns() {
			if int(v) < o.unknowns {
				ties[v] = max(ties[v], tied)
			}
		}
	}
	return sides, ties
}
