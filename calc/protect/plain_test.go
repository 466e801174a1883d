package protect

import "math"

// plainExposure works out one exposure as the rules say it, with no thought
// for speed: augmenting paths over all conductors, and every path by trial.
func plainExposure(g Grid, i int) float64 {
	c := g.Conductors[i]
	if c.Side == Plus {
		at := plainEnters(g, i)
		return math.Max(at[0], at[1])
	}
	near := plainReach(g, i, c.A)
	if !near[c.B] {
		// Either side of the cut: what its loads get from sources that return
		// on the other side.
		far := plainReach(g, i, c.B)
		return math.Max(plainReturn(g, near, far), plainReturn(g, far, near))
	}
	most := 0.0
	for _, s := range g.Sources {
		for _, l := range g.Loads {
			if plainThrough(g, l.Minus, s.Minus, i, map[int]bool{}, false) {
				most = math.Max(most, math.Min(s.Limit, plainWidest(g, s.Plus, l.Plus, map[int]bool{})))
			}
		}
	}
	return most
}

// plainEnters is what can enter plus conductor i at its ends.
func plainEnters(g Grid, i int) [2]float64 {
	c := g.Conductors[i]
	all := func(int) bool { return true }
	a := plainFlow(g, i, all, func(v int) bool { return v == c.A })
	b := plainFlow(g, i, all, func(v int) bool { return v == c.B })
	if c.Fuse > 0 {
		a = math.Min(a, c.Fuse)
	}
	return [2]float64{a, b}
}

// plainReach is the set of minus nodes joined to v without conductor i.
func plainReach(g Grid, i, v int) map[int]bool {
	in := map[int]bool{v: true}
	for grown := true; grown; {
		grown = false
		for k, c := range g.Conductors {
			if k != i && c.Side == Minus && in[c.A] != in[c.B] {
				in[c.A], in[c.B], grown = true, true, true
			}
		}
	}
	return in
}

// plainReturn is the flow from sources that return in one set of minus nodes
// through loads that return in another.
func plainReturn(g Grid, sources, loads map[int]bool) float64 {
	at := map[int]bool{}
	for _, l := range g.Loads {
		if loads[l.Minus] {
			at[l.Plus] = true
		}
	}
	return plainFlow(g, none, func(s int) bool { return sources[g.Sources[s].Minus] }, func(v int) bool { return at[v] })
}

// plainFlow is the greatest flow from the admitted sources to the target nodes
// together through the plus conductors but i.
func plainFlow(g Grid, i int, admit func(source int) bool, target func(node int) bool) float64 {
	// The last two nodes are the common source and the common target.
	n := g.Nodes + 2
	from, to := g.Nodes, g.Nodes+1
	const wide = 1e9
	room := make([][]float64, n)
	for v := range room {
		room[v] = make([]float64, n)
	}
	for k, s := range g.Sources {
		if admit(k) {
			room[from][s.Plus] += s.Limit
		}
	}
	for k, c := range g.Conductors {
		if c.Side == Plus && k != i {
			amps := c.Fuse
			if amps == 0 {
				amps = wide
			}
			room[c.A][c.B] += amps
			room[c.B][c.A] += amps
		}
	}
	for v := range g.Nodes {
		if target(v) {
			room[v][to] = wide
		}
	}
	total := 0.0
	for {
		via := make([]int, n)
		for v := range via {
			via[v] = none
		}
		queue := []int{from}
		for len(queue) > 0 && via[to] == none {
			v := queue[0]
			queue = queue[1:]
			for w := range n {
				if w != from && via[w] == none && room[v][w] > 1e-7 {
					via[w] = v
					queue = append(queue, w)
				}
			}
		}
		if via[to] == none {
			return total
		}
		amps := math.Inf(1)
		for v := to; v != from; v = via[v] {
			amps = math.Min(amps, room[via[v]][v])
		}
		for v := to; v != from; v = via[v] {
			room[via[v]][v] -= amps
			room[v][via[v]] += amps
		}
		total += amps
	}
}

// plainThrough reports whether a simple minus path from v to w passes
// conductor i.
func plainThrough(g Grid, v, w, i int, been map[int]bool, passed bool) bool {
	if v == w {
		return passed
	}
	been[v] = true
	defer delete(been, v)
	for k, c := range g.Conductors {
		if c.Side != Minus || c.A == c.B || (c.A != v && c.B != v) {
			continue
		}
		if next := c.A + c.B - v; !been[next] && plainThrough(g, next, w, i, been, passed || k == i) {
			return true
		}
	}
	return false
}

// plainWidest is the greatest of the least fuses over all simple plus paths.
func plainWidest(g Grid, v, w int, been map[int]bool) float64 {
	if v == w {
		return math.Inf(1)
	}
	been[v] = true
	defer delete(been, v)
	most := 0.0
	for _, c := range g.Conductors {
		if c.Side != Plus || c.A == c.B || (c.A != v && c.B != v) {
			continue
		}
		if next := c.A + c.B - v; !been[next] {
			amps := plainWidest(g, next, w, been)
			if c.Fuse > 0 {
				amps = math.Min(amps, c.Fuse)
			}
			most = math.Max(most, amps)
		}
	}
	return most
}
