package protect

import (
	"slices"
	"sort"
)

// walkMinus fills in the exposures of the minus conductors.
//
// A bridge carries all that returns through it: the greatest flow from the
// sources on one side of it, through the plus conductors and the loads, into
// the other side. A conductor in a ring has another way round beside it, so
// there the worst single path counts: from a source's plus to a load and back
// through the conductor, with the least fuse or supply limit on it.
func walkMinus(g Grid, exposures []Exposure) {
	r := newReturns(g)
	var rings []*inflow
	for n, b := range r.blocks {
		if b.bridge() {
			exposures[b.conductors[0]] = returning(r.bridge(b))
			continue
		}
		if rings == nil {
			rings = r.worstPaths()
		}
		for _, i := range b.conductors {
			exposures[i] = returning(rings[n])
		}
	}
}

// returns knows which sources and loads return where on the minus side. A
// point is one of the net of plus conductors.
type returns struct {
	Grid
	*forest   // of the minus side
	links     []link
	conductor []int // by link
	plus      *net
	connected []int // by node: the part of the plus side that it belongs to

	// Those that feed and those that may be fed, in the order in which the
	// forest numbers their minus nodes, so that all that return in one part of
	// the minus side stand together.
	sources, loads []int

	into   *supply // scratch, empty between uses
	marked []bool  // scratch by point, false between uses
	live   []bool  // scratch by connected part, false between uses
}

func newReturns(g Grid) *returns {
	r := &returns{Grid: g, forest: newForest(g, Minus)}
	r.links, r.conductor = make([]link, 0, len(g.Conductors)), make([]int, 0, len(g.Conductors))
	for i := range g.Conductors {
		if c := &g.Conductors[i]; c.Side == Plus {
			r.links = append(r.links, link{c.A, c.B, c.Fuse})
			r.conductor = append(r.conductor, i)
		}
	}
	r.plus = newNet(g.Nodes, r.links)
	var all net
	all.gather(g.Nodes, r.links, func(int) bool { return true })
	r.connected = all.at
	r.into = new(supply).reset(r.plus)
	r.marked = make([]bool, r.plus.points())
	r.live = make([]bool, g.Nodes)

	for i, s := range g.Sources {
		if s.Limit > 0 {
			r.sources = append(r.sources, i)
		}
	}
	for i := range g.Loads {
		r.loads = append(r.loads, i)
	}
	slices.SortStableFunc(r.sources, func(i, j int) int { return r.first[g.Sources[i].Minus] - r.first[g.Sources[j].Minus] })
	slices.SortStableFunc(r.loads, func(i, j int) int { return r.first[g.Loads[i].Minus] - r.first[g.Loads[j].Minus] })
	return r
}

// under returns the sources and the loads that return in the part of the minus
// side that hangs off a node.
func (r *returns) under(v int) (sources, loads span) {
	find := func(n int, order func(k int) int) span {
		return span{
			sort.Search(n, func(k int) bool { return order(k) >= r.first[v] }),
			sort.Search(n, func(k int) bool { return order(k) > r.last[v] }),
		}
	}
	return find(len(r.sources), func(k int) int { return r.first[r.Sources[r.sources[k]].Minus] }),
		find(len(r.loads), func(k int) int { return r.first[r.Loads[r.loads[k]].Minus] })
}

// span is a range of a list, without the end.
type span struct{ start, end int }

// apart returns what lies in the span outer of a list, but not in the span
// inner within it.
func apart(list []int, outer, inner span) []int {
	return slices.Concat(list[outer.start:inner.start], list[inner.end:outer.end])
}

// bridge is what can return through a minus conductor that cuts its side in
// two: into the part below it from sources outside, or the other way where two
// supplies share a return.
func (r *returns) bridge(b block) *inflow {
	top, v := b.nodes[0], b.nodes[1]
	sources, loads := r.under(v)
	allSources, allLoads := r.under(r.root[top])
	in := r.flow(apart(r.sources, allSources, sources), r.loads[loads.start:loads.end])
	if sources.start == sources.end {
		return in
	}
	return greater(in, r.flow(r.sources[sources.start:sources.end], apart(r.loads, allLoads, loads)))
}

// flow is the greatest current that some sources can drive through some loads.
func (r *returns) flow(sources, loads []int) *inflow {
	var points, parts []int // where the loads are, each once
	for _, i := range loads {
		v := r.Loads[i].Plus
		if p := r.plus.at[v]; !r.marked[p] {
			r.marked[p] = true
			points = append(points, p)
		}
		if c := r.connected[v]; !r.live[c] {
			r.live[c] = true
			parts = append(parts, c)
		}
	}
	var feeding []int
	for _, i := range sources {
		if r.live[r.connected[r.Sources[i].Plus]] {
			feeding = append(feeding, i)
			r.into.add(r.plus.at[r.Sources[i].Plus], r.Sources[i].Limit)
		}
	}
	amps := r.plus.maxFlow(r.into, points)
	for _, p := range points {
		r.marked[p] = false
	}
	for _, c := range parts {
		r.live[c] = false
	}
	for _, i := range feeding {
		r.into.at[r.plus.at[r.Sources[i].Plus]] = 0
	}
	r.into.sum = 0
	if amps <= grain {
		return nil
	}
	return &inflow{amps: amps, sources: feeding, bound: func() (fuses []int, _ []*inflow) {
		// A net of its own, so that inflows may be asked by several
		// goroutines at once.
		t := newNet(r.Nodes, r.links)
		s := new(supply).reset(t)
		for _, i := range feeding {
			s.add(t.at[r.Sources[i].Plus], r.Sources[i].Limit)
		}
		t.maxFlow(s, points)
		links, _ := t.cut(s, points)
		for _, l := range links {
			fuses = append(fuses, r.conductor[l])
		}
		return fuses, nil
	}}
}

// Returns answers what can come back through the minus conductors of one grid once one of them is out of the
// way. It is not safe for concurrent use.
type Returns struct{ *returns }

// Returns gets the answers ready. It fails if the grid does not pass Check.
func (g Grid) Returns() (*Returns, error) {
	if err := g.Check(); err != nil {
		return nil, err
	}
	return &Returns{newReturns(g)}, nil
}

// Through is the most that all loads together can send back through minus
// conductor i, A, with conductor gone (-1 for none) out of the way. It
// is more than an exposure: in a ring every load counts, not the worst single
// path.
func (r *Returns) Through(i, gone int) float64 {
	c := &r.Conductors[i]
	if i == gone || c.A == c.B {
		return 0
	}
	sources, loads, near := r.beside(c.A, i, gone)
	if near[c.B] {
		return r.flow(sources, loads).current()
	}
	otherSources, otherLoads, _ := r.beside(c.B, i, gone)
	return max(r.flow(sources, otherLoads).current(), r.flow(otherSources, loads).current())
}

// beside returns the sources and the loads whose minus hangs together with a node, two conductors left out, and
// the nodes that do.
func (r *Returns) beside(node, without, gone int) (sources, loads []int, near []bool) {
	near = make([]bool, r.Nodes)
	near[node] = true
	for reached := []int{node}; len(reached) > 0; {
		v := reached[len(reached)-1]
		reached = reached[:len(reached)-1]
		for _, i := range r.at.of(v) {
			w := r.Conductors[i].A + r.Conductors[i].B - v
			if i != without && i != gone && !near[w] {
				near[w] = true
				reached = append(reached, w)
			}
		}
	}
	for _, i := range r.sources {
		if near[r.Sources[i].Minus] {
			sources = append(sources, i)
		}
	}
	for _, i := range r.loads {
		if near[r.Loads[i].Minus] {
			loads = append(loads, i)
		}
	}
	return sources, loads, near
}
