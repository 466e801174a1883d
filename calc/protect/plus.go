package protect

// walkPlus fills in the exposures of the plus conductors.
//
// A fault in a conductor is fed from both its ends, so its exposure is the
// greater of what can arrive at either end without passing the conductor
// itself. Blocks hang together as a tree, so what one block sends to the next
// is a single inflow; it is worked out once for each direction, and only
// blocks with rings in them need a search for the greatest flow.
func walkPlus(g Grid, exposures []Exposure) {
	w := newPlusWalk(g)
	w.climb()
	w.descend(exposures)
	for _, i := range w.f.loops {
		c := g.Conductors[i]
		in := join(w.rise[c.A], w.fall[c.A])
		exposures[i] = exposed(fused(in, c.Fuse, i), in)
	}
}

// plusWalk holds what the nodes and blocks of the plus side get from each other.
type plusWalk struct {
	g    Grid
	f    *forest
	room room // of meshes

	own  []*inflow // by node: from its own sources
	rise []*inflow // by node: from its own sources and all that hangs below it
	fall []*inflow // by node: from the block above it
	up   []*inflow // by block: what it sends to its first node
	down []*inflow // by block: what it gets at its first node from all but itself
}

func newPlusWalk(g Grid) *plusWalk {
	f := newForest(g, Plus)
	w := &plusWalk{
		g: g, f: f,
		room: room{place: make([]int, g.Nodes)},
		own:  make([]*inflow, g.Nodes),
		fall: make([]*inflow, g.Nodes),
		up:   make([]*inflow, len(f.blocks)),
		down: make([]*inflow, len(f.blocks)),
	}
	for i, s := range g.Sources {
		if s.Limit > 0 {
			w.own[s.Plus] = join(w.own[s.Plus], &inflow{amps: s.Limit, sources: []int{i}})
		}
	}
	w.rise = append([]*inflow(nil), w.own...)
	return w
}

// climb fills in up and rise.
func (w *plusWalk) climb() {
	for n, b := range w.f.blocks {
		if b.bridge() {
			i := b.conductors[0]
			w.up[n] = fused(w.rise[b.nodes[1]], w.g.Conductors[i].Fuse, i)
		} else {
			w.up[n] = w.mesh(b, nil).onward(0)
		}
		w.rise[b.nodes[0]] = join(w.rise[b.nodes[0]], w.up[n])
	}
}

// mesh is a block with what rises to its nodes and what arrives at its first.
func (w *plusWalk) mesh(b block, first *inflow) *mesh {
	in := []*inflow{first}
	for _, v := range b.nodes[1:] {
		in = append(in, w.rise[v])
	}
	return newMesh(w.g, b, in, &w.room)
}

// descend fills in down and fall, where somebody asks for it, and with them the
// exposures of all conductors but loops.
func (w *plusWalk) descend(exposures []Exposure) {
	wanted := make([]bool, w.g.Nodes) // somebody asks for fall
	for v := range wanted {
		wanted[v] = len(w.f.below.of(v)) > 0
	}
	for _, i := range w.f.loops {
		wanted[w.g.Conductors[i].A] = true
	}
	for v := range w.g.Nodes {
		if w.f.above[v] == none {
			w.spread(v)
		}
	}
	for n := len(w.f.blocks) - 1; n >= 0; n-- {
		b := w.f.blocks[n]
		if b.bridge() {
			w.cross(n, exposures)
		} else {
			m := w.mesh(b, w.down[n])
			for k, v := range b.nodes {
				if k > 0 && wanted[v] {
					w.fall[v] = m.onward(k)
				}
			}
			for k, i := range b.conductors {
				exposures[i] = m.exposure(k)
			}
		}
		for _, v := range b.nodes[1:] {
			w.spread(v)
		}
	}
}

// spread gives each block below a node what arrives there from all others.
func (w *plusWalk) spread(v int) {
	each := []*inflow{w.own[v], w.fall[v]}
	for _, n := range w.f.below.of(v) {
		each = append(each, w.up[n])
	}
	_, others := joinOthers(each)
	for k, n := range w.f.below.of(v) {
		w.down[n] = others[2+k]
	}
}

// cross takes block n, a single conductor, downwards.
func (w *plusWalk) cross(n int, exposures []Exposure) {
	b := w.f.blocks[n]
	i, v := b.conductors[0], b.nodes[1]
	c := w.g.Conductors[i]
	w.fall[v] = fused(w.down[n], c.Fuse, i)
	a, z := w.down[n], w.rise[v]
	if c.A == v {
		a, z = z, a
	}
	exposures[i] = exposed(fused(a, c.Fuse, i), z)
}
