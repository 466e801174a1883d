package protect

// mesh is a block of the plus side that holds rings, and what arrives at its
// nodes from outside it: their own sources and the other blocks. Links and
// nodes go by their position in the block.
type mesh struct {
	block
	links  []link
	supply []*inflow // by node
	all    *inflow   // the supply of all nodes
	others []*inflow // by node: the supply of all the others
	*room
}

// room is what a mesh works in. The next mesh takes it over.
type room struct {
	place []int  // by node of the grid
	whole net    // with nothing taken apart
	ample supply // all that enters it
	apart net    // with a link taken out
	rest  supply // what enters a net
}

// newMesh makes the mesh of a block.
func newMesh(g Grid, b block, arriving []*inflow, in *room) *mesh {
	m := &mesh{block: b, supply: arriving, links: make([]link, len(b.conductors)), room: in}
	for k, v := range b.nodes {
		m.place[v] = k
	}
	for k, i := range b.conductors {
		c := &g.Conductors[i]
		m.links[k] = link{m.place[c.A], m.place[c.B], c.Fuse}
	}
	m.all, m.others = joinOthers(arriving)
	m.whole.build(len(b.nodes), m.links, none)
	m.enter(&m.ample, &m.whole, none)
	return m
}

// without is the net of the mesh with a link left out, and its supply, until
// the next call. A fused link is only skipped; an unfused one may have held a
// point together, which then has to fall apart.
func (m *mesh) without(k int) (*net, *supply) {
	if k == none || m.links[k].fuse > 0 || !m.whole.tree[k] {
		m.whole.skip = k
		return &m.whole, &m.ample
	}
	m.apart.build(len(m.nodes), m.links, k)
	return &m.apart, m.enter(&m.rest, &m.apart, none)
}

// into is the most that a net of the mesh with link left out brings to node k,
// from the supply of all nodes but except.
func (m *mesh) into(k int, t *net, s *supply, left, except int) *inflow {
	amps := t.maxFlow(s, []int{t.at[k]})
	if amps <= grain {
		return nil
	}
	parts := m.all
	if except != none {
		parts = m.others[except]
	}
	return &inflow{amps: amps, parts: []*inflow{parts}, bound: func() (fuses []int, spent []*inflow) {
		// A net of its own, so that inflows may be asked by several
		// goroutines at once.
		var t net
		t.build(len(m.nodes), m.links, left)
		s, targets := m.enter(new(supply), &t, except), []int{t.at[k]}
		t.maxFlow(s, targets)
		links, points := t.cut(s, targets)
		for _, l := range links {
			fuses = append(fuses, m.conductors[l])
		}
		inside := make([]bool, t.points())
		for _, p := range points {
			inside[p] = true
		}
		for v, in := range m.supply {
			if in != nil && v != except && inside[t.at[v]] {
				spent = append(spent, in)
			}
		}
		return fuses, spent
	}}
}

// onward is the most that the mesh can send out of it at node k.
func (m *mesh) onward(k int) *inflow {
	t, _ := m.without(none)
	return m.into(k, t, m.enter(&m.rest, t, k), none, k)
}

// exposure is what can enter link k of the mesh at either end.
func (m *mesh) exposure(k int) Exposure {
	t, s := m.without(k)
	l := m.links[k]
	b := m.into(l.b, t, s, k, none)
	if t.at[l.a] == t.at[l.b] {
		return exposed(fused(b, l.fuse, m.conductors[k]), b) // the same arrives at both
	}
	return exposed(fused(m.into(l.a, t, s, k, none), l.fuse, m.conductors[k]), b)
}

// enter sets s to the supply of all nodes but one as it enters the points of
// t.
func (m *mesh) enter(s *supply, t *net, except int) *supply {
	s.reset(t)
	for k, in := range m.supply {
		if k != except {
			s.add(t.at[k], in.current())
		}
	}
	return s
}
