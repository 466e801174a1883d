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
	var unfused []link
	for i, c := range g.Conductors {
		if c.Side == Plus {
			r.links = append(r.links, link{c.A, c.B, c.Fuse})
			r.conductor = append(r.conductor, i)
			unfused = append(unfused, link{c.A, c.B, 0})
		}
	}
	r.plus = newNet(g.Nodes, r.links)
	r.connected = newNet(g.Nodes, unfused).at
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

// Returning is the most that all loads of a grid together can send back through
// minus conductor i, A, once conductor gone (-1 for none) is out of the way. It
// is more than an exposure: in a ring every load counts, not the worst single
// path. It fails if the grid does not pass Check.
func (g Grid) Returning(i, gone int) (float64, error) {
	if err := g.Check(); err != nil {
		return 0, err
	}
	if gone >= 0 {
		g.Conductors = slices.Clone(g.Conductors)
		g.Conductors[gone].B = g.Conductors[gone].A
	}
	r := newReturns(g)
	for _, b := range r.blocks {
		switch {
		case !slices.Contains(b.conductors, i):
		case b.bridge():
			return r.bridge(b).current(), nil
		default:
			sources, loads := r.under(r.root[b.nodes[0]])
			return r.flow(r.sources[sources.start:sources.end], r.loads[loads.start:loads.end]).current(), nil
		}
	}
	return 0, nil // it leads from a place to itself
}
