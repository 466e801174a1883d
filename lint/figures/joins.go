package figures

import "ohmstead/schema"

// terminal is what a side of leads ends at: a block or, for the plus of a
// supply, one of its outputs.
type terminal struct {
	block  *schema.Header
	output int
}

func minusOf(b schema.Block) terminal { return terminal{block: schema.HeaderOf(b)} }

func plusOf(pt *schema.Point) terminal {
	if pt.Supply != nil {
		return Output{pt.Supply, pt.Output}.terminal()
	}
	return minusOf(pt.Block())
}

func (o Output) terminal() terminal { return terminal{&o.Supply.Header, o.Number} }

// joins says which terminals hang together: a union-find.
type joins struct {
	number map[terminal]int
	parent []int // by number; never a higher one
}

func newJoins() *joins { return &joins{number: map[terminal]int{}} }

func (j *joins) join(a, b terminal) {
	x, y := j.root(a), j.root(b)
	j.parent[max(x, y)] = min(x, y)
}

func (j *joins) root(t terminal) int {
	n, ok := j.number[t]
	if !ok {
		n = len(j.parent)
		j.number[t], j.parent = n, append(j.parent, n)
	}
	for j.parent[n] != n {
		j.parent[n] = j.parent[j.parent[n]]
		n = j.parent[n]
	}
	return n
}

// settle shortens every way to one step, for find.
func (j *joins) settle() {
	for n, p := range j.parent {
		j.parent[n] = j.parent[p]
	}
}

// find gives the number that all that hang together with a terminal share. It
// writes nothing, so that settled joins may be shared.
func (j *joins) find(t terminal) (int, bool) {
	n, ok := j.number[t]
	if !ok {
		return 0, false
	}
	return j.parent[n], true
}
