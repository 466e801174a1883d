package circuit

// forest joins points into trees. Each point has a rise: how far its potential lies above that of
// the root of its tree.
type forest struct {
	up   []int32
	rise []float64 // above the point at up, V
}

func newForest(n int) *forest {
	f := &forest{make([]int32, n), make([]float64, n)}
	for i := range f.up {
		f.up[i] = int32(i)
	}
	return f
}

// root returns the root of p and the rise of p above it.
func (f *forest) root(p int32) (root int32, rise float64) {
	root = p
	for f.up[root] != root {
		rise += f.rise[root]
		root = f.up[root]
	}
	for above := rise; f.up[p] != root && p != root; {
		next, step := f.up[p], f.rise[p]
		f.up[p], f.rise[p] = root, above
		p, above = next, above-step
	}
	return root, rise
}

// add makes a new point.
func (f *forest) add() int32 {
	p := int32(len(f.up))
	f.up = append(f.up, p)
	f.rise = append(f.rise, 0)
	return p
}

func (f *forest) rootOf(p int32) int32 {
	root, _ := f.root(p)
	return root
}

// join puts a at volts above b. Where both are in one tree already it returns false and how far a lies
// above b there.
func (f *forest) join(a, b int32, volts float64) (joined bool, had float64) {
	ra, va := f.root(a)
	rb, vb := f.root(b)
	if ra == rb {
		return false, va - vb
	}
	f.up[ra] = rb
	f.rise[ra] = volts + vb - va
	return true, volts
}
