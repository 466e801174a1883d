package protect

// grain is the current in A below which a remainder counts as nothing. It only
// swallows rounding: the least fuse is a billion times larger.
const grain = 1e-9

// link is a conductor of a net: current may pass it either way, up to its
// fuse, or without limit if fuse is 0.
type link struct {
	a, b int
	fuse float64
}

// net answers how much current can reach given places from given supplies. Its
// points are the nodes, those joined by unfused links taken together, so that
// only fuses are left as links between points.
//
// A flow costs no more than the part of the net that it has to look at. A net
// is not safe for concurrent use.
type net struct {
	links []link
	at    []int  // by node: its point
	tree  []bool // by link: it is unfused and was needed to take its two nodes together
	skip  int    // a fused link that is left out, or none

	arcs  []int // links by point: those of point p are arcs[start[p]:start[p+1]]
	start []int

	flow    []float64 // by link, positive from a to b
	spent   []float64 // by point, of its supply
	level   []int     // by point: steps from the targets, valid if seen
	next    []int     // by point: the first arc worth trying
	seen    []int     // by point: the search that reached it last
	search  int
	reached []int // points that the search reached, nearest first
	touched []int // links with flow
	drawn   []int // points with spent supply
}

// newNet makes a net of nodes 0 to n-1.
func newNet(n int, links []link) *net {
	t := new(net)
	t.build(n, links, none)
	return t
}

// none stands for no link, no node, nothing left out.
const none = -1

// build makes the net one of nodes 0 to n-1 with one link or none left out. It
// uses the memory of what the net was before.
func (t *net) build(n int, links []link, without int) {
	t.links, t.skip = links, without
	points := t.gather(n, links, func(i int) bool { return links[i].fuse == 0 && i != without })

	t.start = sized(t.start, points+1)
	fused := func(each func(link, point int)) {
		for i, l := range links {
			if l.fuse > 0 && i != without && t.at[l.a] != t.at[l.b] {
				each(i, t.at[l.a])
				each(i, t.at[l.b])
			}
		}
	}
	fused(func(_, p int) { t.start[p+1]++ })
	for p := range points {
		t.start[p+1] += t.start[p]
	}
	t.arcs = sized(t.arcs, t.start[points])
	t.next = append(t.next[:0], t.start[:points]...)
	fused(func(i, p int) { t.arcs[t.next[p]] = i; t.next[p]++ })

	t.flow = sized(t.flow, len(links))
	t.spent = sized(t.spent, points)
	t.level = sized(t.level, points)
	t.seen = sized(t.seen, points)
	t.search = 0
	t.touched, t.drawn = t.touched[:0], t.drawn[:0]
}

// gather takes together what some links join, and returns the number of points.
func (t *net) gather(n int, links []link, joins func(link int) bool) (points int) {
	t.at = sized(t.at, n)
	t.tree = sized(t.tree, len(links))
	for v := range t.at {
		t.at[v] = v
	}
	find := func(v int) int {
		for t.at[v] != v {
			t.at[v] = t.at[t.at[v]]
			v = t.at[v]
		}
		return v
	}
	for i := range links {
		if !joins(i) {
			continue
		}
		if a, b := find(links[i].a), find(links[i].b); a != b {
			// The lower number wins, so that a point is numbered before the
			// nodes that it stands for.
			t.at[max(a, b)] = min(a, b)
			t.tree[i] = true
		}
	}
	for v := range t.at {
		if r := t.at[v]; r == v {
			t.at[v] = points
			points++
		} else {
			t.at[v] = t.at[r]
		}
	}
	return points
}

// sized returns n zeroes, in the memory of s if that is enough.
func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// points returns the number of points.
func (t *net) points() int { return len(t.spent) }

// supply is the current that can enter a net.
type supply struct {
	at  []float64 // by point
	sum float64
}

// reset makes the supply none for the points of a net.
func (s *supply) reset(t *net) *supply {
	s.at, s.sum = sized(s.at, t.points()), 0
	return s
}

func (s *supply) add(point int, amps float64) {
	s.at[point] += amps
	s.sum += amps
}

// maxFlow returns the greatest current that the supply can send to the target
// points together.
//
// It searches from the targets towards the supplies (E. A. Dinic, "Algorithm
// for solution of a problem of maximum flow in a network with power
// estimation", Soviet Mathematics Doklady 11, 1970).
func (t *net) maxFlow(s *supply, targets []int) float64 {
	for _, i := range t.touched {
		t.flow[i] = 0
	}
	for _, p := range t.drawn {
		t.spent[p] = 0
	}
	t.touched, t.drawn = t.touched[:0], t.drawn[:0]
	total := 0.0
	for s.sum-total > grain && t.layer(s, targets) {
		for _, p := range targets {
			total += t.pull(s, p, unlimited)
		}
	}
	return total
}

const unlimited = 1e300

// layer numbers the points by their steps from the targets along links that
// still take current, up to the first with supply left, and reports whether
// there is one. If there is none, reached is all that the targets can still
// draw from, and the fuses at its edge bound the flow.
func (t *net) layer(s *supply, targets []int) bool {
	t.search++
	t.reached = t.reached[:0]
	mark := func(p, level int) {
		t.seen[p], t.level[p], t.next[p] = t.search, level, t.start[p]
		t.reached = append(t.reached, p)
	}
	for _, p := range targets {
		if t.seen[p] != t.search {
			mark(p, 0)
		}
	}
	found := false
	for k := 0; k < len(t.reached); k++ {
		p := t.reached[k]
		if s.at[p]-t.spent[p] > grain {
			found = true
		}
		if found {
			continue // points further out are not wanted, only the rest of this layer
		}
		for _, i := range t.arcs[t.start[p]:t.start[p+1]] {
			if q := t.other(i, p); t.seen[q] != t.search && t.room(i, q) > grain {
				mark(q, t.level[p]+1)
			}
		}
	}
	return found
}

// pull draws up to want through point p from the supplies further out, and
// returns how much came.
func (t *net) pull(s *supply, p int, want float64) (got float64) {
	if left := s.at[p] - t.spent[p]; left > grain {
		got = min(want, left)
		if t.spent[p] == 0 {
			t.drawn = append(t.drawn, p)
		}
		t.spent[p] += got
	}
	// An arc is passed by only when it can give no more in this search.
	for ; t.next[p] < t.start[p+1] && want-got > grain; t.next[p]++ {
		i := t.arcs[t.next[p]]
		q := t.other(i, p)
		if t.seen[q] != t.search || t.level[q] != t.level[p]+1 {
			continue
		}
		room := t.room(i, q)
		if room <= grain {
			continue
		}
		if more := t.pull(s, q, min(want-got, room)); more > 0 {
			if t.flow[i] == 0 {
				t.touched = append(t.touched, i)
			}
			if t.at[t.links[i].a] == q {
				t.flow[i] += more
			} else {
				t.flow[i] -= more
			}
			got += more
			if want-got <= grain {
				break
			}
		}
	}
	return got
}

func (t *net) other(i, p int) int {
	l := t.links[i]
	if a := t.at[l.a]; a != p {
		return a
	}
	return t.at[l.b]
}

// room is how much more current link i takes from point p.
func (t *net) room(i, p int) float64 {
	l := t.links[i]
	switch {
	case i == t.skip:
		return 0
	case t.at[l.a] == p:
		return l.fuse - t.flow[i]
	}
	return l.fuse + t.flow[i]
}

// cut returns the links whose fuses bound the last flow, nearest to its
// targets, and the points whose supplies it spends in full.
func (t *net) cut(s *supply, targets []int) (fuses, points []int) {
	t.layer(s, targets)
	for _, p := range t.reached {
		points = append(points, p)
		for _, i := range t.arcs[t.start[p]:t.start[p+1]] {
			if i != t.skip && t.seen[t.other(i, p)] != t.search {
				fuses = append(fuses, i)
			}
		}
	}
	return fuses, points
}
