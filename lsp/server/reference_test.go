package server

import (
	"math"
	"slices"
	"testing"
	"time"
)

// reference is a fixed load to compare times with: a sum that no processor can
// shorten, and a walk all over more memory than caches hold. Times that are
// given as its multiples hold for slow machines and busy ones too.
type reference struct {
	next []int32
	sink float64
	took []time.Duration
}

func newReference() *reference {
	r := &reference{next: make([]int32, 1<<23)} // 32 MB
	// One ring through all of them: a full-period generator (Knuth, The Art of
	// Computer Programming, volume 2, 3.2.1.2, theorem A).
	at := uint32(0)
	for range r.next {
		then := (at*1664525 + 1013904223) % uint32(len(r.next))
		r.next[at] = int32(then)
		at = then
	}
	return r
}

// measure runs the load once.
func (r *reference) measure() {
	start := time.Now()
	x := 1.0
	for i := range 400_000 {
		x = math.Sqrt(x + float64(i))
	}
	at := int32(x)
	for range 10_000 {
		at = r.next[at]
	}
	r.sink += x + float64(at)
	r.took = append(r.took, time.Since(start))
}

// time is the load's usual time since the last call.
func (r *reference) time() time.Duration {
	slices.Sort(r.took)
	d := r.took[len(r.took)/2]
	r.took = r.took[:0]
	return d
}

// BenchmarkReference shows what the load is on this machine.
func BenchmarkReference(b *testing.B) {
	r := newReference()
	for b.Loop() {
		r.measure()
	}
}
