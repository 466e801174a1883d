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
	below  lists   // by node: the blocks of which it is the first node
	above  []int   // by node: the block in which it is another node, or -1 for a root
	loops  []int   // conductors that join a node to itself; they are in no block
	at     lists   // by node: its conductors, loops aside

	// Nodes are numbered in the order of a depth-first search. The part of
	// the side that hangs off node v is numbered first[v] to last[v].
	first, last []int
	root        []int // by node: the root of its tree

	room []int // what is left of the memory of all blocks
}

// lists are lists of numbers, one for each of n things, in one piece of memory.
type lists struct{ start, all []int }

// newLists makes the lists of n things: each visits all pairs of a thing and a number of its
// list in the order of the lists, and is called twice.
func newLists(n int, each func(put func(thing, number int))) lists {
	l := lists{start: make([]int, n+2)} // one to the right at first, so that filling moves them into place
	each(func(thing, _ int) { l.start[thing+2]++ })
	for i := range n {
		l.start[i+2] += l.start[i+1]
	}
	l.all = make([]int, l.start[n+1])
	each(func(thing, number int) {
		l.all[l.start[thing+1]] = number
		l.start[thing+1]++
	})
	return l
}

func (l *lists) of(thing int) []int { return l.all[l.start[thing]:l.start[thing+1]] }

// newForest finds the blocks of one side by depth-first search (R. E. Tarjan,
// "Depth-first search and linear graph algorithms", SIAM Journal on Computing
// 1, 1972). The time is linear in nodes and conductors.
func newForest(g Grid, side Side) *forest {
	f := &forest{
		above: make([]int, g.Nodes),
		first: make([]int, g.Nodes),
		last:  make([]int, g.Nodes),
		root:  make([]int, g.Nodes),
	}
	f.at = newLists(g.Nodes, func(put func(node, conductor int)) {
		for i := range g.Conductors {
			if c := &g.Conductors[i]; c.Side == side && c.A != c.B {
				put(c.A, i)
				put(c.B, i)
			}
		}
	})
	for i := range g.Conductors {
		if c := &g.Conductors[i]; c.Side == side && c.A == c.B {
			f.loops = append(f.loops, i)
		}
	}
	f.room = make([]int, 0, len(f.at.all)/2*3) // a block has no more nodes than conductors, and one
	f.blocks = make([]block, 0, len(f.at.all)/2)
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
		for _, i := range f.at.of(v) {
			w := g.Conductors[i].A + g.Conductors[i].B - v
			switch {
			case i == via:
			case f.first[w] == unseen:
				mark := len(pending)
				pending = append(pending, i)
				visit(w, i, root)
				low[v] = min(low[v], low[w])
				if low[w] >= f.first[v] {
					f.add(g, v, pending[mark:])
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
	f.below = newLists(g.Nodes, func(put func(node, block int)) {
		for n := range f.blocks {
			put(f.blocks[n].nodes[0], n)
		}
	})
	return f
}

// add records a block that hangs below node top.
func (f *forest) add(g Grid, top int, conductors []int) {
	n, start := len(f.blocks), len(f.room)
	f.room = append(f.room, conductors...)
	nodes := len(f.room)
	f.room = append(f.room, top)
	for _, i := range conductors {
		for _, v := range [2]int{g.Conductors[i].A, g.Conductors[i].B} {
			if v != top && f.above[v] != n {
				f.above[v] = n
				f.room = append(f.room, v)
			}
		}
	}
	f.blocks = append(f.blocks, block{conductors: f.room[start:nodes:nodes], nodes: f.room[nodes:len(f.room):len(f.room)]})
}
