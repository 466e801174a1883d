package circuit

import "sync"

// room is working room for rows of numbers. It is used again and again, so that it stays in the caches: what is worked out while
// somebody types would else go through ever new memory.
type room struct {
	stretch []float64
	free    []float64 // of that
	given   int       // numbers since it was cleared, of stretches outgrown too
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// row gives n zeroes until all are taken back; of no room they are new.
func (r *room) row(n int) []float64 {
	if r == nil {
		return make([]float64, n)
	}
	if len(r.free) < n {
		r.stretch = make([]float64, max(n, 2*r.given, 1024))
		r.free = r.stretch
	}
	out := r.free[:n:n]
	r.free = r.free[n:]
	r.given += n
	clear(out)
	return out
}

// back gives the room to the next one.
func (r *room) back() {
	r.clear()
	rooms.Put(r)
}

// clear takes all rows back, and makes the stretch so long that as many fit in it.
func (r *room) clear() {
	if r.given > len(r.stretch) {
		r.stretch = make([]float64, r.given)
	}
	r.free, r.given = r.stretch, 0
}
