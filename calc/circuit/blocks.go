package circuit

// blocks finds the biconnected components of a graph of n vertices: the largest sets of edges any two of
// which lie on a common ring, and edges that lie on none (J. Hopcroft and R. Tarjan, "Algorithm 447:
// efficient algorithms for graph manipulation", Communications of the ACM 16, 1973). An edge from a vertex
// to itself is one of its own. top is the vertex of a block that the search came in by. order is that in which
// the search came by the vertices: those of a block come after its top.
func blocks(n int, edges [][2]int32, visit func(top int32, block []int32)) (order []int32) {
	start := make([]int32, n+1)
	for _, e := range edges {
		if e[0] != e[1] {
			start[e[0]]++
			start[e[1]]++
		}
	}
	sum := int32(0)
	for v := range start {
		sum += start[v]
		start[v] = sum
	}
	arcs := make([]int32, sum)
	for i := len(edges) - 1; i >= 0; i-- {
		if e := edges[i]; e[0] != e[1] {
			for _, v := range e {
				start[v]--
				arcs[start[v]] = int32(i)
			}
		}
	}
	type step struct{ vertex, via int32 }
	var (
		low     = make([]int32, n) // the earliest vertex that a ring from here leads back to
		next    = make([]int32, n) // the first arc not yet tried
		count   = int32(0)
		path    []step
		pending []int32 // edges not yet in a block
	)
	order = make([]int32, n) // 1 and up; 0 for those to come
	copy(next, start)
	enter := func(v, via int32) {
		count++
		order[v], low[v] = count, count
		path = append(path, step{v, via})
	}
	for i, e := range edges {
		if e[0] == e[1] {
			visit(e[0], []int32{int32(i)})
		}
	}
	for root := range int32(n) {
		if order[root] > 0 {
			continue
		}
		enter(root, -1)
		for len(path) > 0 {
			at := path[len(path)-1]
			v := at.vertex
			if next[v] < start[v+1] {
				e := arcs[next[v]]
				next[v]++
				w := edges[e][0] + edges[e][1] - v
				switch {
				case e == at.via:
				case order[w] == 0:
					pending = append(pending, e)
					enter(w, e)
				case order[w] < order[v]:
					pending = append(pending, e)
					low[v] = min(low[v], order[w])
				}
				continue
			}
			path = path[:len(path)-1]
			if len(path) == 0 {
				break
			}
			up := path[len(path)-1].vertex
			low[up] = min(low[up], low[v])
			if low[v] >= order[up] {
				from := len(pending) - 1
				for pending[from] != at.via {
					from--
				}
				visit(up, pending[from:])
				pending = pending[:from]
			}
		}
	}
	return order
}
