package circuit

import (
	"cmp"
	"slices"
)

// mesh is the shape of a resistor network between n nodes and a common reference. It is
// solved by taking out node after node: a star of conductances c_i with the sum d (the one to
// the reference included) is replaced by conductances c_i*c_j/d between its ends (A. Rosen, "A
// new network theorem", Journal of the IEE 62, 1924; from memory). That is Gaussian elimination
// of the Laplacian, but nothing is ever subtracted, so each conductance keeps its full relative
// accuracy however far the values lie apart.
//
// The order is that of minimum degree: in turn the nodes with the fewest neighbours left
// (W. F. Tinney and J. W. Walker, Proceedings of the IEEE 55, 1967; from memory).
type mesh struct {
	n     int
	order []int32 // nodes as they are taken out
	start []int32 // start[k] to start[k+1]: the part of ends that belongs to order[k]
	ends  []int32 // nodes at the ends of its star
	pair  []int32 // value slot of each pair of ends, in the order of factor
	rank  []int32 // place of each node in order
}

// Values of a mesh are one slice: the conductance of each node to the reference, then that of
// each star's arms in the order of ends, then one slot that takes what has no place (an
// element with both ends at one node).
func (m *mesh) values() int { return m.n + len(m.ends) + 1 }

// slot returns where the conductance between nodes a and b is summed up; n is the reference.
func (m *mesh) slot(a, b int32) int32 {
	ref := int32(m.n)
	switch {
	case a == b:
		return ref + int32(len(m.ends))
	case a == ref:
		return b
	case b == ref:
		return a
	}
	if m.rank[a] > m.rank[b] {
		a, b = b, a
	}
	k := m.rank[a]
	for e := m.start[k]; e < m.start[k+1]; e++ {
		if m.ends[e] == b {
			return ref + e
		}
	}
	panic("circuit: a conductance outside the mesh")
}

// newMesh orders n nodes with the given edges. An edge to the reference, node n, or from a node to
// itself takes no place.
func newMesh(n int, edges [][2]int32) *mesh {
	m := &mesh{n: n, rank: make([]int32, n), order: make([]int32, 0, n), start: make([]int32, 1, n+1)}
	g := newEliminator(n, edges)
	for len(m.order) < n {
		v := g.least()
		m.rank[v] = int32(len(m.order))
		m.order = append(m.order, v)
		m.ends = append(m.ends, g.remove(v)...)
		m.start = append(m.start, int32(len(m.ends)))
	}
	for k := range m.order {
		slices.SortFunc(m.star(k), func(a, b int32) int { return cmp.Compare(m.rank[a], m.rank[b]) })
	}
	m.pairUp()
	return m
}

// star returns the ends of the star of order[k].
func (m *mesh) star(k int) []int32 { return m.ends[m.start[k]:m.start[k+1]] }

// pairUp finds the slots of all pairs. Stars are sorted by rank, and the ends of one that come after
// its end a are all in the star of a.
func (m *mesh) pairUp() {
	for k := range m.order {
		ends := m.star(k)
		for i, a := range ends {
			at := m.start[m.rank[a]]
			for _, b := range ends[i+1:] {
				for m.ends[at] != b {
					at++
				}
				m.pair = append(m.pair, int32(m.n)+at)
			}
		}
	}
}

// factored is a mesh with its nodes taken out.
type factored struct {
	*mesh
	vals  []float64
	inv   []float64 // 1/d of each node
	ratio []float64 // c_i/d of each arm
}

func newFactored(m *mesh) *factored { return (*room)(nil).newFactored(m) }

// newFactored makes one in some room.
func (r *room) newFactored(m *mesh) *factored {
	return &factored{m, r.row(m.values()), r.row(m.n), r.row(len(m.ends))}
}

// factor takes out all nodes. It spoils vals.
func (f *factored) factor() {
	arms := f.vals[f.n:]
	pair := f.pair
	for k, v := range f.order {
		s, e := f.start[k], f.start[k+1]
		ground := f.vals[v]
		d := ground
		for _, c := range arms[s:e] {
			d += c
		}
		q := 1 / d
		f.inv[v] = q
		for i := s; i < e; i++ {
			r := arms[i] * q
			f.ratio[i] = r
			f.vals[f.ends[i]] += r * ground
			for j := i + 1; j < e; j++ {
				f.vals[pair[0]] += r * arms[j]
				pair = pair[1:]
			}
		}
	}
}

// solve replaces the currents fed into each node by the potentials they cause. x has one
// entry more than nodes, for the reference; it becomes 0. The result is the power that the
// currents put in.
func (f *factored) solve(x []float64) (power float64) {
	for k, v := range f.order {
		xv := x[v]
		for i := f.start[k]; i < f.start[k+1]; i++ {
			x[f.ends[i]] += f.ratio[i] * xv
		}
		power += xv * xv * f.inv[v]
	}
	x[f.n] = 0
	for k := f.n - 1; k >= 0; k-- {
		v := f.order[k]
		xv := x[v] * f.inv[v]
		for i := f.start[k]; i < f.start[k+1]; i++ {
			xv += f.ratio[i] * x[f.ends[i]]
		}
		x[v] = xv
	}
	return power
}

// eliminator is the graph of the nodes not yet taken out, with the nodes of each degree in
// a list of their own.
type eliminator struct {
	near   [][]int32 // neighbours; may hold nodes already taken out
	degree []int32
	gone   []bool
	head   []int32 // first node of each degree, -1 for none
	next   []int32
	prev   []int32
	low    int32 // no node has a lower degree
	mark   []int32
	marks  int32

	round   int32 // the lowest degree when this round began
	waiting []int32
	waits   []bool
}

func newEliminator(n int, edges [][2]int32) *eliminator {
	g := &eliminator{
		near:   make([][]int32, n),
		degree: make([]int32, n),
		gone:   make([]bool, n),
		head:   make([]int32, n+1),
		next:   make([]int32, n),
		prev:   make([]int32, n),
		mark:   make([]int32, n),
		waits:  make([]bool, n),
		round:  -2, // none yet
	}
	for _, e := range edges {
		if e[0] != e[1] && e[0] < int32(n) && e[1] < int32(n) {
			g.join(e[0], e[1])
		}
	}
	for i := range g.head {
		g.head[i] = -1
	}
	for v := range n {
		g.link(int32(v))
	}
	return g
}

// join adds an edge unless it is there.
func (g *eliminator) join(a, b int32) {
	if len(g.near[a]) > len(g.near[b]) {
		a, b = b, a
	}
	for _, v := range g.near[a] {
		if v == b {
			return
		}
	}
	g.near[a] = append(g.near[a], b)
	g.near[b] = append(g.near[b], a)
	g.degree[a]++
	g.degree[b]++
}

// joinAll adds the edges that are missing among nodes.
func (g *eliminator) joinAll(nodes []int32) {
	const few = 8
	if len(nodes) <= few { // without a look at all neighbours of a hub
		for i, a := range nodes {
			for _, b := range nodes[i+1:] {
				g.join(a, b)
			}
		}
		return
	}
	for i, a := range nodes {
		g.marks++
		for _, b := range g.near[a] {
			g.mark[b] = g.marks
		}
		for _, b := range nodes[i+1:] {
			if g.mark[b] != g.marks {
				g.near[a] = append(g.near[a], b)
				g.near[b] = append(g.near[b], a)
				g.degree[a]++
				g.degree[b]++
			}
		}
	}
}

func (g *eliminator) link(v int32) {
	d := g.degree[v]
	g.prev[v], g.next[v] = -1, g.head[d]
	if g.head[d] >= 0 {
		g.prev[g.head[d]] = v
	}
	g.head[d] = v
	g.low = min(g.low, d)
}

func (g *eliminator) unlink(v int32) {
	if g.prev[v] >= 0 {
		g.next[g.prev[v]] = g.next[v]
	} else {
		g.head[g.degree[v]] = g.next[v]
	}
	if g.next[v] >= 0 {
		g.prev[g.next[v]] = g.prev[v]
	}
}

// least returns a node with few more neighbours than any. Neighbours of one that was taken out wait for the
// next round, so that the elimination goes on all over the network at once instead of along it: that keeps
// the tree of eliminations low (J. W. H. Liu, "Modification of the minimum-degree algorithm by multiple
// elimination", ACM Transactions on Mathematical Software 11, 1985; from memory).
func (g *eliminator) least() int32 {
	const slack = 4
	for g.low < int32(len(g.head)) && g.head[g.low] < 0 {
		g.low++
	}
	if g.low == int32(len(g.head)) || g.low > g.round+slack {
		for _, v := range g.waiting {
			if !g.gone[v] {
				g.waits[v] = false
				g.link(v)
			}
		}
		g.waiting = g.waiting[:0]
		for g.head[g.low] < 0 {
			g.low++
		}
		g.round = g.low
	}
	return g.head[g.low]
}

// remove takes out v, joins its neighbours with each other and returns them.
func (g *eliminator) remove(v int32) []int32 {
	g.unlink(v)
	g.gone[v] = true
	ends := g.alive(v)
	for _, a := range ends {
		if !g.waits[a] {
			g.unlink(a)
			g.waits[a] = true
			g.waiting = append(g.waiting, a)
		}
		if len(g.near[a]) > 2*int(g.degree[a])+8 {
			g.near[a] = g.alive(a)
		}
	}
	g.joinAll(ends)
	for _, a := range ends {
		g.degree[a]--
	}
	return ends
}

func (g *eliminator) alive(v int32) []int32 {
	kept := g.near[v][:0]
	for _, a := range g.near[v] {
		if !g.gone[a] {
			kept = append(kept, a)
		}
	}
	return kept
}
