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
	whole  *net      // with nothing left out
}

// newMesh makes the mesh of a block; place is scratch, one entry for each node
// of the grid.
func newMesh(g Grid, b block, supply []*inflow, place []int) *mesh {
	m := &mesh{block: b, supply: supply, links: make([]link, len(b.conductors))}
	for k, v := range b.nodes {
		place[v] = k
	}
	for k, i := range b.conductors {
		c := g.Conductors[i]
		m.links[k] = link{place[c.A], place[c.B], c.Fuse}
	}
	m.all, m.others = joinOthers(supply)
	m.whole = newNet(len(b.nodes), m.links, none)
	return m
}

// none stands for "nothing left out".
const none = -1

// without is the net of the mesh with a link left out. A fused link is only
// skipped; an unfused one may have held a point together, which then has to
// fall apart.
func (m *mesh) without(k int) *net {
	if k == none || m.links[k].fuse > 0 || !m.whole.tree[k] {
		m.whole.skip = k
		return m.whole
	}
	return newNet(len(m.nodes), m.links, k)
}

// into is the most that the net t of the mesh, which lacks link left, brings
// to node k from all the supply, or from that of the other nodes only.
func (m *mesh) into(k int, t *net, left int, supply *inflow) *inflow {
	except := none
	if supply != m.all {
		except = k
	}
	s := m.supplies(t, except)
	amps := t.maxFlow(s, []int{t.at[k]})
	if amps <= grain {
		return nil
	}
	return &inflow{amps: amps, parts: []*inflow{supply}, bound: func() (fuses []int, spent []*inflow) {
		// A net of its own, so that inflows may be asked by several
		// goroutines at once.
		t := newNet(len(m.nodes), m.links, left)
		s, targets := m.supplies(t, except), []int{t.at[k]}
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
	if m.others[k] == nil {
		return nil
	}
	return m.into(k, m.without(none), none, m.others[k])
}

// exposure is the greatest current that can enter link k of the mesh at either
// end.
func (m *mesh) exposure(k int) *inflow {
	if m.all == nil {
		return nil
	}
	t, l := m.without(k), m.links[k]
	b := m.into(l.b, t, k, m.all)
	if t.at[l.a] == t.at[l.b] {
		return b // the same arrives at A, where the link's own fuse may bound it
	}
	return greater(fused(m.into(l.a, t, k, m.all), l.fuse, m.conductors[k]), b)
}

// supplies is the supply of all nodes but one as it enters the points of t.
func (m *mesh) supplies(t *net, except int) *supply {
	s := newSupply(t)
	for k, in := range m.supply {
		if k != except {
			s.add(t.at[k], in.current())
		}
	}
	return s
}
