package circuit

import "slices"

// adjoint solves a factored mesh for currents fed into few nodes. Taking out a node changes only the nodes
// above it in the elimination tree (R. Schreiber, "A new implementation of sparse Gaussian elimination",
// ACM Transactions on Mathematical Software 8, 1982; from memory), so those above the fed ones are worked
// out first. Below them a node's potential is a mean of those at the ends of its star: where all of
// these have died away, so has everything in its branch of the tree, which is left out.
type adjoint struct {
	*factored
	above []int32 // of each node the next one up in the tree, -1 for a root
	below []int32 // nodes under each node
	first []int32 // first[v] to first[v+1]: those under v in below

	x       []float64 // of all nodes and the reference; 0 but for touched
	touched []int32   // nodes that take part
	marks   []int32
	mark    int32
}

// diedAway is the share of the greatest potential under which potentials count as none. All of them
// together stay below 1e-9 V or A.
const diedAway = 1e-14

func newAdjoint(f *factored) *adjoint {
	a := &adjoint{factored: f, above: make([]int32, f.n), first: make([]int32, f.n+1), x: make([]float64, f.n+1), marks: make([]int32, f.n)}
	for k, v := range f.order {
		if a.above[v] = -1; f.start[k] < f.start[k+1] {
			a.above[v] = f.ends[f.start[k]] // the one that is taken out first
			a.first[a.above[v]+1]++
		}
	}
	for v := range f.n {
		a.first[v+1] += a.first[v]
	}
	a.below = make([]int32, a.first[f.n])
	next := slices.Clone(a.first)
	for v, up := range a.above {
		if up >= 0 {
			a.below[next[up]] = int32(v)
			next[up]++
		}
	}
	return a
}

// reset takes all potentials back to 0.
func (a *adjoint) reset() {
	for _, v := range a.touched {
		a.x[v] = 0
	}
	a.touched = a.touched[:0]
	a.mark++
}

// feed adds a current into a node; into the reference it does nothing.
func (a *adjoint) feed(v int32, amps float64) {
	if int(v) == a.n {
		return
	}
	a.x[v] += amps
	for v >= 0 && a.marks[v] != a.mark {
		a.marks[v] = a.mark
		a.touched = append(a.touched, v)
		v = a.above[v]
	}
}

// solve replaces the currents fed by the potentials that they cause.
func (a *adjoint) solve() {
	slices.SortFunc(a.touched, func(v, w int32) int { return int(a.rank[v] - a.rank[w]) })
	for _, v := range a.touched {
		k := a.rank[v]
		for i := a.start[k]; i < a.start[k+1]; i++ {
			a.x[a.ends[i]] += a.ratio[i] * a.x[v]
		}
	}
	a.x[a.n] = 0
	greatest := 0.0
	for i := len(a.touched) - 1; i >= 0; i-- {
		v := a.touched[i]
		a.x[v] = a.x[v]*a.inv[v] + a.mean(v)
		greatest = max(greatest, a.x[v], -a.x[v])
	}
	small := diedAway * greatest
	for i := 0; i < len(a.touched); i++ { // it grows on the way
		v := a.touched[i]
		for _, w := range a.below[a.first[v]:a.first[v+1]] {
			if a.marks[w] != a.mark && a.alive(w, small) {
				a.marks[w] = a.mark
				a.x[w] = a.mean(w)
				a.touched = append(a.touched, w)
			}
		}
	}
}

// mean returns what the ends of its star make of a node.
func (a *adjoint) mean(v int32) (x float64) {
	k := a.rank[v]
	for i := a.start[k]; i < a.start[k+1]; i++ {
		x += a.ratio[i] * a.x[a.ends[i]]
	}
	return x
}

// alive reports whether any end of a node's star has a potential to speak of.
func (a *adjoint) alive(v int32, small float64) bool {
	k := a.rank[v]
	for _, e := range a.ends[a.start[k]:a.start[k+1]] {
		if x := a.x[e]; x > small || x < -small {
			return true
		}
	}
	return false
}
