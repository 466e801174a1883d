package protect

import (
	"container/heap"
	"slices"
)

// path is the current that one path from a source to some place lets pass.
type path struct {
	amps   float64
	source int
	fuse   int // the plus conductor whose fuse is the least, or none if the source's limit is
}

func (p path) inflow() *inflow {
	if p.amps <= grain {
		return nil
	}
	in := &inflow{amps: p.amps, sources: []int{p.source}}
	if p.fuse != none {
		in.bound = func() ([]int, []*inflow) { return []int{p.fuse}, nil }
	}
	return in
}

// worstPaths returns, for each block of the minus side, the most that a single
// path from a source's plus through a load and through the block can carry.
//
// Between two different nodes of a block with rings there is a simple path
// through any one of its conductors, and none from a node back to itself. So a
// load counts for the blocks that lie between its minus node and the source's,
// which are found by walking away from the source's, but not down to where it feeds no load. The cost is that of
// one such walk and one search of the plus side for each source.
func (r *returns) worstPaths() []*inflow {
	worst := make([]path, len(r.blocks))
	behind := make([]path, r.Nodes) // by minus node: through the loads there
	best, done := make([]path, r.plus.points()), make([]bool, r.plus.points())
	var fed []int // nodes with a load that the source feeds, as the forest numbers them, rising
	for _, i := range r.sources {
		s := r.Sources[i]
		clear(behind)
		clear(best)
		clear(done)
		widest := r.widest(i, best, done)
		fed = fed[:0]
		for _, i := range r.loads {
			l := &r.Loads[i]
			if w := widest[r.plus.at[l.Plus]]; w.amps > 0 {
				behind[l.Minus] = wider(behind[l.Minus], w)
				fed = append(fed, r.first[l.Minus])
			}
		}
		feeds := func(v int) bool { // below v
			k, _ := slices.BinarySearch(fed, r.first[v])
			return k < len(fed) && fed[k] <= r.last[v]
		}
		var visit func(v, via int) path
		visit = func(v, via int) path {
			best := behind[v]
			cross := func(n int) {
				if n == none || n == via {
					return
				}
				through := path{}
				for k, w := range r.blocks[n].nodes {
					if w != v && (k == 0 || feeds(w)) {
						through = wider(through, visit(w, n))
					}
				}
				worst[n] = wider(worst[n], through)
				best = wider(best, through)
			}
			cross(r.above[v])
			for _, n := range r.below.of(v) {
				cross(n)
			}
			return best
		}
		visit(s.Minus, none)
	}
	all := make([]*inflow, len(worst))
	for n, p := range worst {
		all[n] = p.inflow()
	}
	return all
}

func wider(a, b path) path {
	if b.amps > a.amps {
		return b
	}
	return a
}

// widest returns, by point of the plus side, the path from source i that lets
// the greatest current pass. It works in the memory given, which is empty.
func (r *returns) widest(i int, best []path, done []bool) []path {
	start := r.plus.at[r.Sources[i].Plus]
	best[start] = path{r.Sources[i].Limit, i, none}
	edge := &frontier{{start, best[start].amps}}
	for edge.Len() > 0 {
		p := heap.Pop(edge).(label).point
		if done[p] {
			continue
		}
		done[p] = true
		for _, l := range r.plus.arcs[r.plus.start[p]:r.plus.start[p+1]] {
			next := best[p]
			if f := r.links[l].fuse; f <= next.amps {
				next.amps, next.fuse = f, r.conductor[l]
			}
			if q := r.plus.other(l, p); next.amps > best[q].amps {
				best[q] = next
				heap.Push(edge, label{q, next.amps})
			}
		}
	}
	return best
}

// frontier is a heap of the points that a search has reached, widest first.
type frontier []label

type label struct {
	point int
	amps  float64
}

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].amps > f[j].amps }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(label)) }
func (f *frontier) Pop() any {
	old := *f
	x := old[len(old)-1]
	*f = old[:len(old)-1]
	return x
}
