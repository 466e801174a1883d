package circuit

import (
	"slices"
	"sort"
)

// adjoint finds the potentials that currents fed into few nodes cause, for as much of a network as they
// reach. Nodes are numbered in postorder of the elimination tree, so that each branch of it is a
// range. Taking out a node changes only the nodes above it (R. Schreiber, "A new implementation of sparse
// Gaussian elimination", ACM Transactions on Mathematical Software 8, 1982; from memory): those above the
// fed ones come first. All else is copper without a current of its own, whose potentials lie between
// those at the ends of its star. Where these agree a branch is level, and is left out as a whole.
type adjoint struct {
	n       int
	number  []int32 // of each unknown; of the reference n
	unknown []int32 // of each node
	inv     []float64
	start   []int32 // start[v] to start[v+1]: the arms of v
	ends    []int32
	arms    []int32 // where each of ends lies in the mesh
	ratio   []float64
	border  []int32 // borders[v] to borders[v+1]: the nodes outside that the branch of v touches by copper or loads
	borders []int32
	above   []int32 // the next node up in the tree, -1 for a root
	first   []int32 // first[v] to v: the branch of v
	tie     []tie   // of each branch
	side    []side  // of each node

	x       [2][]float64 // by node; what a level branch left out is stale
	columns int
	small   [2]float64 // differences that count as none
	fed     []int32    // nodes with a current, and all above them
	marks   []bool
	flat    []int32 // tops of the level branches left out, falling
}

// side is where a node lies in the copper between the sources' terminals.
type side int8

const (
	plusSide side = iota
	minusSide
	bothSides // a terminal
)

// tie is what a branch holds that makes its potentials one.
type tie int8

const (
	apart    tie = iota // plus and minus may differ
	together            // a terminal: all are one
	grounded            // the reference: all are 0
)

// diedAway is the share of the greatest potential under which a difference counts as none.
const diedAway = 1e-13

// fewNodes is the size of a branch up to which it is quicker to visit its nodes than to see whether it is level.
const fewNodes = 6

// newAdjoint makes that of an island, see share; sides and tied tell what its unknowns and the loads at them are.
func newAdjoint(is *island, sides []side, tied []tie) *adjoint {
	room := rooms.Get().(*room)
	defer room.back()
	f := is.laid(room)
	touchesGround := make([]bool, f.n)
	for v := range touchesGround {
		touchesGround[v] = f.vals[v] > 0
	}
	f.factor()

	order := f.postorder()
	n, arms := f.n, len(f.ends)
	a := &adjoint{
		n: n, number: make([]int32, n+1), unknown: order, columns: 1,
		inv: make([]float64, 0, n), first: make([]int32, 0, n), above: make([]int32, 0, n), side: make([]side, 0, n), tie: make([]tie, 0, n),
		border: make([]int32, 0, arms), ends: make([]int32, 0, arms), arms: make([]int32, 0, arms), ratio: make([]float64, 0, arms),
	}
	for i, v := range order {
		a.number[v] = int32(i)
	}
	a.number[f.n] = int32(f.n)
	a.start, a.borders = make([]int32, 1, f.n+1), make([]int32, 1, f.n+1)
	for i, v := range order {
		k := f.rank[v]
		a.inv = append(a.inv, f.inv[v])
		a.first = append(a.first, int32(i))
		a.above = append(a.above, -1)
		a.side = append(a.side, sides[v])
		a.tie = append(a.tie, tied[v])
		if touchesGround[v] {
			a.tie[i] = grounded
		}
		for j := f.start[k]; j < f.start[k+1]; j++ {
			end := a.number[f.ends[j]]
			a.border = append(a.border, end)
			if f.ratio[j] > 0 {
				a.ends = append(a.ends, end)
				a.arms = append(a.arms, j)
				a.ratio = append(a.ratio, f.ratio[j])
			}
		}
		if k := f.start[k]; k < f.start[f.rank[v]+1] {
			a.above[i] = a.number[f.ends[k]] // the one that is taken out first
		}
		a.start = append(a.start, int32(len(a.ends)))
		a.borders = append(a.borders, int32(len(a.border)))
	}
	for v, up := range a.above {
		if up >= 0 {
			a.first[up] = min(a.first[up], a.first[v])
			a.tie[up] = max(a.tie[up], a.tie[v])
		}
	}
	return a
}

// laid is the copper of an island in the order that its loads need too, no node taken out yet.
func (is *island) laid(r *room) *factored {
	f := r.newFactored(is.form.coupled().mesh)
	is.conduct(func(a, b int32, siemens float64) { f.vals[f.slot(a, b)] += siemens })
	return f
}

// revalued is that of the same network with other conductances.
func (a *adjoint) revalued(is *island) *adjoint {
	room := rooms.Get().(*room)
	defer room.back()
	f := is.laid(room)
	f.factor()
	b := *a
	b.inv, b.ratio = make([]float64, len(a.inv)), make([]float64, len(a.ratio))
	for v, unknown := range a.unknown {
		b.inv[v] = f.inv[unknown]
	}
	for i, at := range a.arms {
		b.ratio[i] = f.ratio[at]
	}
	return &b
}

// share makes a work on the same network as b, with currents of its own, in the memory that it has.
func (a *adjoint) share(b *adjoint) {
	x, marks, fed, flat := a.x, a.marks, a.fed[:0], a.flat[:0]
	*a = *b
	for c := range x {
		a.x[c] = sized(x[c], a.n+1)
	}
	a.marks, a.fed, a.flat = sized(marks, a.n), fed, flat
}

// postorder returns the nodes of a mesh so that those of each branch of the elimination tree stand
// together, the one on top last.
func (m *mesh) postorder() []int32 {
	// below and beside chain the nodes below one, the last in order first.
	below, beside := make([]int32, m.n), make([]int32, m.n)
	for v := range below {
		below[v] = -1
	}
	stack, out := make([]int32, 0, m.n), make([]int32, 0, m.n)
	for k, v := range m.order {
		if m.start[k] < m.start[k+1] {
			up := m.ends[m.start[k]]
			below[up], beside[v] = v, below[up]
		}
	}
	for k := m.n - 1; k >= 0; k-- {
		if m.start[k] == m.start[k+1] {
			stack = append(stack, m.order[k])
		}
	}
	for len(stack) > 0 { // the top first, then its branches: turned round that is postorder
		v := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		out = append(out, v)
		for w := below[v]; w >= 0; w = beside[w] {
			stack = append(stack, w)
		}
	}
	slices.Reverse(out)
	return out
}

// reset takes all currents back.
func (a *adjoint) reset(columns int) {
	for _, v := range a.fed {
		a.marks[v] = false
	}
	a.fed = a.fed[:0]
	a.columns = columns
}

// feed adds a current into an unknown; into the reference it does nothing.
func (a *adjoint) feed(column int, unknown int32, amps float64) {
	v := a.number[unknown]
	if int(v) == a.n {
		return
	}
	for up := v; up >= 0 && !a.marks[up]; up = a.above[up] {
		a.marks[up] = true
		a.fed = append(a.fed, up)
		for c := range a.columns {
			a.x[c][up] = 0
		}
	}
	a.x[column][v] += amps
}

// solve works out the potentials. It visits each node that has its own once those above have theirs,
// and each branch that is level.
func (a *adjoint) solve(visit func(node int32), level func(top int32)) {
	slices.Sort(a.fed)
	a.flat = a.flat[:0]
	for c := range a.columns {
		x, small := a.x[c], 0.0
		x[a.n] = 0
		for _, v := range a.fed {
			for i := a.start[v]; i < a.start[v+1]; i++ {
				x[a.ends[i]] += a.ratio[i] * x[v]
			}
		}
		for i := len(a.fed) - 1; i >= 0; i-- {
			v := a.fed[i]
			x[v] = x[v]*a.inv[v] + a.mean(x, v)
			small = max(small, diedAway*x[v], -diedAway*x[v])
		}
		a.small[c] = small
	}
	for v := int32(a.n - 1); v >= 0; v-- {
		if !a.marks[v] {
			if v-a.first[v] >= fewNodes && a.level(v) {
				level(v)
				a.flat = append(a.flat, v)
				v = a.first[v]
				continue
			}
			for c := range a.columns {
				a.x[c][v] = a.mean(a.x[c], v)
			}
		}
		visit(v)
	}
}

// between returns how far an unknown lies above another one that copper joins it to.
func (a *adjoint) between(from, to int32) float64 {
	v, w := a.number[from], a.number[to]
	if a.isFlat(v) || a.isFlat(w) {
		return 0
	}
	return a.x[0][v] - a.x[0][w]
}

func (a *adjoint) isFlat(v int32) bool {
	i := sort.Search(len(a.flat), func(i int) bool { return a.flat[i] < v }) - 1 // the least top at or above v
	return i >= 0 && a.first[a.flat[i]] <= v
}

// mean returns what the ends of its star make of a node.
func (a *adjoint) mean(x []float64, v int32) (sum float64) {
	for i := a.start[v]; i < a.start[v+1]; i++ {
		sum += a.ratio[i] * x[a.ends[i]]
	}
	return sum
}

// level reports whether plus and minus have one potential each in a branch.
func (a *adjoint) level(v int32) bool {
	border := a.border[a.borders[v]:a.borders[v+1]]
	for c := range a.columns {
		x, small := a.x[c], a.small[c]
		var level [2]float64
		seen := [2]bool{a.tie[v] == grounded, a.tie[v] == grounded}
		for _, e := range border {
			plus, minus := a.side[e] != minusSide, a.side[e] != plusSide
			if a.tie[v] != apart {
				plus, minus = true, true
			}
			at := x[e]
			if plus {
				if !seen[0] {
					seen[0], level[0] = true, at
				} else if d := at - level[0]; d > small || d < -small {
					return false
				}
			}
			if minus {
				if !seen[1] {
					seen[1], level[1] = true, at
				} else if d := at - level[1]; d > small || d < -small {
					return false
				}
			}
		}
	}
	return true
}

// across returns how far plus lies above minus in a level branch.
func (a *adjoint) across(v int32, column int) float64 {
	x := a.x[column]
	var at [2]float64
	for _, e := range a.border[a.borders[v]:a.borders[v+1]] {
		switch a.side[e] {
		case plusSide:
			at[0] = x[e]
		case minusSide:
			at[1] = x[e]
		default:
			at[0], at[1] = x[e], x[e]
		}
	}
	if d := at[0] - at[1]; a.tie[v] == apart && (d > a.small[column] || d < -a.small[column]) {
		return d
	}
	return 0
}
