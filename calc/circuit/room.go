package circuit

import "sync"

// room is working room for rows of numbers. It is used again and again, so that it stays in the caches: what is worked out while
// somebody types would else go through ever new memory.
type room struct {
	free  []float64 // of the last of all
	all   [][]float64
	given int
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// row gives n zeroes until all are taken back; of no room they are new.
func (r *room) row(n int) []float64 {
	if r == nil {
		return make([]float64, n)
	}
	if len(r.free) < n {
		r.free = make([]float64, max(n, 2*r.given, 1024))
		r.all = append(r.all, r.free)
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

// clear takes all rows back, and makes one stretch of what it took to give them.
func (r *room) clear() {
	if len(r.all) > 1 {
		r.all = [][]float64{make([]float64, r.given)}
	}
	if len(r.all) == 1 {
		r.free = r.all[0]
	}
	r.given = 0
}
