package protect

// block is a largest set of conductors any two of which lie on a common ring,
// or a single conductor that lies on none. Blocks meet in nodes only, and no
// ring runs through two of them.
type block struct {
	conductors []int
	nodes      []int // the first is the one nearest the root of its tree
}

// bridge reports whether the block is a single conductor, which cuts its side
// of the grid in two when removed.
func (b block) bridge() bool { return len(b.conductors) == 1 }

// forest holds the blocks of one side of a grid and how they hang together:
// going down from a root, a node leads to the blocks below it, and a block to
// its nodes but the first.
type forest struct {
	blocks []block // each comes after all the blocks that hang below it
	below  [][]int // by node: the blocks of which it is the first node
	above  []int   // by node: the block in which it is another node, or -1 for a root
	loops  []int   // conductors that join a node to itself; they are in no block

	// Nodes are numbered in the order of a depth-first search. The part of
	// the side that hangs off node v is numbered first[v] to last[v].
	first, last []int
	root        []int // by node: the root of its tree
}

// newForest finds the blocks of one side by depth-first search (R. E. Tarjan,
// "Depth-first search and linear graph algorithms", SIAM Journal on Computing
// 1, 1972). The time is linear in nodes and conductors.
func newForest(g Grid, side Side) *forest {
	f := &forest{
		below: make([][]int, g.Nodes),
		above: make([]int, g.Nodes),
		first: make([]int, g.Nodes),
		last:  make([]int, g.Nodes),
		root:  make([]int, g.Nodes),
	}
	at := make([][]int, g.Nodes) // by node: its conductors
	for i, c := range g.Conductors {
		switch {
		case c.Side != side:
		case c.A == c.B:
			f.loops = append(f.loops, i)
		default:
			at[c.A] = append(at[c.A], i)
			at[c.B] = append(at[c.B], i)
		}
	}
	const unseen = -1
	for v := range g.Nodes {
		f.first[v], f.above[v] = unseen, -1
	}
	var (
		low     = make([]int, g.Nodes) // the earliest node that a ring from here leads back to
		pending []int                  // conductors walked that are not yet in a block
		clock   int
		visit   func(v, via, root int)
	)
	visit = func(v, via, root int) {
		f.first[v], low[v], f.root[v] = clock, clock, root
		clock++
		for _, i := range at[v] {
			w := g.Conductors[i].A + g.Conductors[i].B - v
			switch {
			case i == via:
			case f.first[w] == unseen:
				mark := len(pending)
				pending = append(pending, i)
				visit(w, i, root)
				low[v] = min(low[v], low[w])
				if low[w] >= f.first[v] {
					f.add(g, v, append([]int(nil), pending[mark:]...))
					pending = pending[:mark]
				}
			case f.first[w] < f.first[v]:
				pending = append(pending, i)
				low[v] = min(low[v], f.first[w])
			}
		}
		f.last[v] = clock - 1
	}
	for v := range g.Nodes {
		if f.first[v] == unseen {
			visit(v, -1, v)
		}
	}
	return f
}

// add records a block that hangs below node top.
func (f *forest) add(g Grid, top int, conductors []int) {
	b := block{conductors: conductors, nodes: []int{top}}
	n := len(f.blocks)
	for _, i := range conductors {
		for _, v := range [2]int{g.Conductors[i].A, g.Conductors[i].B} {
			if v != top && f.above[v] != n {
				f.above[v] = n
				b.nodes = append(b.nodes, v)
			}
		}
	}
	f.blocks = append(f.blocks, b)
	f.below[top] = append(f.below[top], n)
}
