package protect

// walkPlus fills in the exposures of the plus conductors.
//
// A fault in a conductor is fed from both its ends, so its exposure is the
// greater of what can arrive at either end without passing the conductor
// itself. Blocks hang together as a tree, so what one block sends to the next
// is a single inflow; it is worked out once for each direction, and only
// blocks with rings in them need a search for the greatest flow.
func walkPlus(g Grid, exposures []*inflow) {
	f := newForest(g, Plus)
	place := make([]int, g.Nodes)
	own := make([]*inflow, g.Nodes)
	for i, s := range g.Sources {
		if s.Limit > 0 {
			own[s.Plus] = join(own[s.Plus], &inflow{amps: s.Limit, sources: []int{i}})
		}
	}

	// Upwards: rise is what a node gets from its own sources and from all
	// that hangs below it, up what a block sends to its first node.
	rise := append([]*inflow(nil), own...)
	up := make([]*inflow, len(f.blocks))
	supply := func(b block, first *inflow) []*inflow {
		in := []*inflow{first}
		for _, v := range b.nodes[1:] {
			in = append(in, rise[v])
		}
		return in
	}
	for n, b := range f.blocks {
		if b.bridge() {
			i := b.conductors[0]
			up[n] = fused(rise[b.nodes[1]], g.Conductors[i].Fuse, i)
		} else {
			up[n] = newMesh(g, b, supply(b, nil), place).onward(0)
		}
		rise[b.nodes[0]] = join(rise[b.nodes[0]], up[n])
	}

	// Downwards: fall is what a node gets from the block above it, down what
	// a block gets at its first node from all but itself.
	fall := make([]*inflow, g.Nodes)
	down := make([]*inflow, len(f.blocks))
	wanted := make([]bool, g.Nodes) // somebody asks for fall
	for v, below := range f.below {
		wanted[v] = len(below) > 0
	}
	for _, i := range f.loops {
		wanted[g.Conductors[i].A] = true
	}
	spread := func(v int) {
		each := []*inflow{own[v], fall[v]}
		for _, n := range f.below[v] {
			each = append(each, up[n])
		}
		_, others := joinOthers(each)
		for k, n := range f.below[v] {
			down[n] = others[2+k]
		}
	}
	for v := range g.Nodes {
		if f.above[v] == none {
			spread(v)
		}
	}
	for n := len(f.blocks) - 1; n >= 0; n-- {
		b := f.blocks[n]
		if b.bridge() {
			i, v := b.conductors[0], b.nodes[1]
			c := g.Conductors[i]
			fall[v] = fused(down[n], c.Fuse, i)
			a, z := down[n], rise[v]
			if c.A == v {
				a, z = z, a
			}
			exposures[i] = greater(fused(a, c.Fuse, i), z)
		} else {
			m := newMesh(g, b, supply(b, down[n]), place)
			for k, v := range b.nodes {
				if k > 0 && wanted[v] {
					fall[v] = m.onward(k)
				}
			}
			for k, i := range b.conductors {
				exposures[i] = m.exposure(k)
			}
		}
		for _, v := range b.nodes[1:] {
			spread(v)
		}
	}
	for _, i := range f.loops {
		v := g.Conductors[i].A
		exposures[i] = join(rise[v], fall[v])
	}
}
