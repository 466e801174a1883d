package circuit

// sourceGraph finds the currents of the sources from what leaves their terminals. Sources that
// form a ring without contradiction share as if all had the same vanishing resistance.
type sourceGraph struct {
	shape       *mesh
	solved      *factored // with 1 S for each source
	terminal    []int32   // of each point: its unknown here, or -1
	plus, minus []int32   // unknowns of each source
}

func newSourceGraph(c *Circuit, shorts *forest) sourceGraph {
	g := sourceGraph{terminal: make([]int32, len(shorts.up))}
	unknown := make(map[int32]int32)
	terminal := func(node int) int32 {
		root := shorts.rootOf(int32(node))
		u, ok := unknown[root]
		if !ok {
			u = int32(len(unknown))
			unknown[root] = u
		}
		return u
	}
	var edges [][2]int32
	for _, s := range c.Sources {
		plus, minus := terminal(s.Plus), terminal(s.Minus)
		g.plus = append(g.plus, plus)
		g.minus = append(g.minus, minus)
		edges = append(edges, [2]int32{plus, minus})
	}
	for i := range g.terminal {
		g.terminal[i] = -1
		if u, ok := unknown[shorts.rootOf(int32(i))]; ok {
			g.terminal[i] = u
		}
	}
	g.shape = newMesh(len(unknown), edges)
	g.solved = newFactored(g.shape)
	groups := newForest(len(unknown))
	for i, e := range edges {
		g.solved.vals[g.shape.slot(e[0], e[1])]++
		groups.join(g.plus[i], g.minus[i], 0)
	}
	for u := range groups.up {
		if groups.up[u] == int32(u) {
			g.solved.vals[u]++ // the currents of a group add up to 0, so nothing takes this way
		}
	}
	g.solved.factor()
	return g
}

// amps returns the current that each source delivers; leaving holds what leaves each terminal, and
// is spoiled.
func (g *sourceGraph) amps(leaving []float64) []float64 {
	g.solved.solve(leaving)
	amps := make([]float64, len(g.plus))
	for i := range amps {
		amps[i] = leaving[g.plus[i]] - leaving[g.minus[i]]
	}
	return amps
}

// weights returns how much of the current that leaves each terminal is delivered by source s.
func (g *sourceGraph) weights(s int) []float64 {
	w := make([]float64, g.shape.n+1)
	w[g.plus[s]]++
	w[g.minus[s]]--
	g.solved.solve(w)
	return w
}
