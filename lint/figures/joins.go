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

// terminals gives those at which leads end numbers from 0 on.
type terminals map[terminal]int

func (t terminals) number(x terminal) int {
	n, ok := t[x]
	if !ok {
		n = len(t)
		t[x] = n
	}
	return n
}

// joins says which terminals hang together: a union-find over their numbers,
// in which none leads to a higher one.
type joins []int

func (j *joins) join(a, b int) {
	for n := len(*j); n <= max(a, b); n++ {
		*j = append(*j, n)
	}
	x, y := j.root(a), j.root(b)
	(*j)[max(x, y)] = min(x, y)
}

func (j joins) root(n int) int {
	for j[n] != n {
		j[n] = j[j[n]]
		n = j[n]
	}
	return n
}

// flatten gives all of so many terminals a place and shortens every way to one
// step, after which one number stands for all that hang together.
func (j *joins) flatten(terminals int) {
	if terminals > 0 {
		j.join(terminals-1, terminals-1)
	}
	for n, to := range *j {
		(*j)[n] = (*j)[to]
	}
}
