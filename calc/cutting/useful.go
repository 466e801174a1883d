package cutting

import (
	"math"
	"math/bits"
)

// How finely useful reckons, m: in whole millimetres where all sizes are multiples of one, else ever so finely.
const (
	millimetre = 1e-3
	grain      = 1e-5
)

// measure finds which.
func (s *search) measure() {
	s.grain, s.exact = millimetre, true
	for _, l := range s.size {
		if math.Abs(l/millimetre-math.Round(l/millimetre)) > 1e-3 {
			s.grain, s.exact = grain, false
		}
	}
}

// useful is the most of a bar that some of the pieces left can take up, or a little more: by the sums of all sets
// of pieces in grains, rounded down. What a bar has beyond that is lost whatever is cut from it.
//
// Source: the subset-sum problem by dynamic programming over a string of bits (S. Martello and P. Toth, Knapsack
// Problems, 1990, chapter 4, from memory).
func (s *search) useful(room float64) float64 {
	top := int(room/s.grain + 1e-3) // the most grains that fit
	if top > mostGrains {
		return room
	}
	words := top/64 + 1
	if cap(s.sums) < words {
		s.sums = make([]uint64, words)
	}
	sums := s.sums[:words] // bit n: some set is n grains long
	clear(sums)
	sums[0] = 1
	pieces := 0
	for kind, count := range s.left {
		n := int(s.size[kind]/s.grain + 1e-3)
		for range count {
			for w := words - 1; w >= n/64; w-- {
				x := sums[w-n/64] << (n % 64)
				if n%64 > 0 && w > n/64 {
					x |= sums[w-n/64-1] >> (64 - n%64)
				}
				sums[w] |= x
			}
			pieces++
		}
	}
	sums[words-1] &= 2<<(top%64) - 1
	w := words - 1
	for sums[w] == 0 {
		w--
	}
	longest := w*64 + bits.Len64(sums[w]) - 1
	if !s.exact {
		longest += pieces // what was rounded off
	}
	return math.Min(room, float64(longest)*s.grain+rounding)
}
