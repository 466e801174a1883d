package cutting

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

const (
	// maxSteps bounds the search: well under a second. A job of provable pieces or
	// fewer gets thoroughSteps, a second or two at the worst.
	maxSteps      = 1_000_000
	thoroughSteps = 100_000_000
	provable      = 30
	// mostGrains is the longest bar of which useful is worked out.
	mostGrains = 10_000_000
	// exactSteps is what useful counts for where it reckons in whole millimetres.
	exactSteps = 50
	// fewSteps are not worth beginning with.
	fewSteps = 1000
	// maxFills bounds the ways to fill one bar that are kept for trying.
	maxFills = 1000
	// mostFailed bounds what is remembered.
	mostFailed = 200_000
)

// steps is how long a job may be searched.
func (j Job) steps() int {
	if len(j.Pieces) <= provable {
		return thoroughSteps
	}
	return maxSteps
}

// pick is a number of pieces of one length.
type pick struct{ kind, count int }

// bin is one bar with what is cut from it.
type bin struct {
	leftover int // -1 for a new reel
	picks    []pick
}

// search packs pieces into bars. Pieces of equal length are one kind. Lengths
// include the kerf.
type search struct {
	size     []float64 // of each kind, falling
	count    []int     // pieces of each kind
	reel     float64
	leftover []float64
	rising   []int // leftovers from the shortest up

	best  []bin
	below int // only what needs fewer new reels is wanted; in the end those of best

	left  []int // pieces of each kind not yet packed
	used  []bool
	stack []bin
	steps int
	limit int  // on steps
	cut   bool // something was left untried

	usefulReel float64 // see useful
	usefulLeft []float64
	grain      float64
	exact      bool // all sizes are multiples of a millimetre
	sums       []uint64

	failed map[string]bool // what pieces and bars are left where no packing was found
	key    []byte
}

func newSearch(job Job, limit int) *search {
	s := &search{failed: map[string]bool{}, reel: job.Reel + job.Kerf + rounding, used: make([]bool, len(job.Leftovers)), below: math.MaxInt, limit: limit}
	for _, i := range falling(job.Pieces) {
		size := job.Pieces[i] + job.Kerf
		if n := len(s.size); n == 0 || s.size[n-1] != size {
			s.size, s.count = append(s.size, size), append(s.count, 0)
		}
		s.count[len(s.count)-1]++
	}
	for _, l := range job.Leftovers {
		s.leftover = append(s.leftover, l+job.Kerf+rounding)
	}
	s.rising = falling(job.Leftovers)
	slices.Reverse(s.rising)
	s.left = slices.Clone(s.count)
	s.usefulReel, s.usefulLeft = s.reel, s.leftover
	if len(job.Pieces) <= provable {
		s.measure()
		s.usefulReel, s.usefulLeft = s.useful(s.reel), nil
		for _, l := range s.leftover {
			s.usefulLeft = append(s.usefulLeft, s.useful(l))
		}
	}
	return s
}

// offer keeps a packing that needs fewer new reels than the best so far.
func (s *search) offer(bins []bin, ok bool) {
	if !ok {
		return
	}
	cost := 0
	for _, b := range bins {
		if b.leftover < 0 {
			cost++
		}
	}
	if cost < s.below {
		s.best, s.below = append([]bin{}, bins...), cost
	}
}

// firstFit and bestFit say whether a bar with a smaller room b is preferred to
// an earlier one with room a.
func firstFit(_, _ float64) bool { return false }
func bestFit(a, b float64) bool  { return b < a }

// decreasing takes the pieces from the longest down and puts each into a bar
// that has room, an unused leftover included, else into a new reel. It fails
// where a piece longer than a reel finds no leftover.
func (s *search) decreasing(prefer func(a, b float64) bool) ([]bin, bool) {
	var bins []bin
	var room []float64
	for _, i := range s.rising {
		bins, room = append(bins, bin{leftover: i}), append(room, s.leftover[i])
	}
	for kind, n := range s.count {
		for range n {
			at := -1
			for i, r := range room {
				if r >= s.size[kind] && (at < 0 || prefer(room[at], r)) {
					at = i
				}
			}
			if at < 0 {
				if s.reel < s.size[kind] {
					return nil, false
				}
				at = len(bins)
				bins, room = append(bins, bin{leftover: -1}), append(room, s.reel)
			}
			bins[at].add(kind)
			room[at] -= s.size[kind]
		}
	}
	return slices.DeleteFunc(bins, func(b bin) bool { return len(b.picks) == 0 }), true
}

func (b *bin) add(kind int) {
	if n := len(b.picks); n > 0 && b.picks[n-1].kind == kind {
		b.picks[n-1].count++
		return
	}
	b.picks = append(b.picks, pick{kind, 1})
}

// bound is the least number of new reels that the pieces left can do with: by
// their total length, and for each length by how many pieces no shorter a reel
// or leftover can hold.
func (s *search) bound() int {
	var total, spare float64
	for kind, n := range s.left {
		total += float64(n) * s.size[kind]
	}
	for i, l := range s.leftover {
		if !s.used[i] {
			spare += l
		}
	}
	least := max(0, atLeast((total-spare)/s.reel))
	s.steps += len(s.size) * (1 + len(s.leftover)) / 8
	pieces := 0
	for kind, n := range s.left {
		if n == 0 {
			continue
		}
		pieces += n
		each := int(s.reel / s.size[kind])
		if each == 0 { // these go to leftovers or nowhere
			continue
		}
		held := 0
		for i, l := range s.leftover {
			if !s.used[i] {
				held += int(l / s.size[kind])
			}
		}
		least = max(least, (pieces-held+each-1)/each)
	}
	return least
}

// solve searches for the packing with the fewest new reels and says whether it
// has tried everything. It stops where the best needs no more than enough.
func (s *search) solve(enough int) bool {
	s.offer(s.decreasing(bestFit))
	s.offer(s.decreasing(firstFit))
	s.descend(0, enough)
	return !s.cut
}

func (s *search) done(enough int) bool { return s.best != nil && s.below <= enough }

// descend fills the next bar. Only fills to
// which no further piece could be added need trying: moving a piece there from
// a later bar never costs a reel. Nor do fills that leave more than what all bars have too much.
func (s *search) descend(cost, enough int) {
	longest := slices.IndexFunc(s.left, func(n int) bool { return n > 0 })
	if longest < 0 {
		s.offer(s.stack, true)
		return
	}
	if s.done(enough) || cost+s.bound() >= s.below {
		return
	}
	key := s.state(cost)
	if s.failed[key] {
		return
	}
	below, cut, useful := s.below, s.cut, s.usefulReel
	s.cut = false
	if s.exact { // with fewer pieces left less of a reel is useful
		s.usefulReel = s.useful(s.reel)
		s.steps += exactSteps
	}
	if s.slack(cost) >= -rounding {
		if i := s.needed(cost); i >= 0 {
			s.used[i] = true
			s.fillAll(i, s.leftover[i], -1, cost, enough)
			s.used[i] = false
		} else {
			s.around(longest, cost, enough)
		}
	}
	if !s.cut && s.below == below && len(s.failed) < mostFailed {
		s.failed[key] = true
	}
	s.cut, s.usefulReel = s.cut || cut, useful
}

// needed is the shortest leftover without which there is not room enough; -1 for none. To fill such short bars
// first leaves little to choose.
func (s *search) needed(cost int) int {
	slack := s.slack(cost)
	for _, i := range s.rising {
		if !s.used[i] && s.usefulLeft[i] > slack+rounding && s.leftover[i] < s.reel/2 {
			return i
		}
	}
	return -1
}

// around fills the next bar, whichever, around the longest piece left.
func (s *search) around(longest, cost, enough int) {
	tried := -1.0
	for _, i := range s.rising {
		l := s.leftover[i]
		if s.used[i] || l == tried || l < s.size[longest] {
			continue
		}
		tried = l
		s.used[i] = true
		s.fillAll(i, l, longest, cost, enough)
		s.used[i] = false
	}
	if s.reel >= s.size[longest] {
		s.fillAll(-1, s.reel, longest, cost+1, enough)
	}
}

// state tells apart what is left to pack and what to pack it into. New reels are told by how many are allowed
// beyond those that were taken, which can only become fewer.
func (s *search) state(cost int) string {
	s.key = s.key[:0]
	for _, n := range s.left {
		s.key = binary.AppendUvarint(s.key, uint64(n))
	}
	for _, u := range s.used {
		if u {
			s.key = append(s.key, 1)
		} else {
			s.key = append(s.key, 0)
		}
	}
	return string(binary.AppendUvarint(s.key, uint64(cost)))
}

// slack is by how much the room of all bars exceeds the pieces left, with so many new reels taken.
func (s *search) slack(cost int) float64 {
	if s.below == math.MaxInt {
		return math.Inf(1)
	}
	slack := float64(s.below-1-cost) * s.usefulReel
	for i, l := range s.usefulLeft {
		if !s.used[i] {
			slack += l
		}
	}
	for kind, n := range s.left {
		slack -= float64(n) * s.size[kind]
	}
	return slack
}

// fillAll tries each way to fill one bar, the best first.
func (s *search) fillAll(leftover int, room float64, longest, cost, enough int) {
	for _, f := range s.fills(room, longest, s.slack(cost)+room) {
		if s.done(enough) {
			return
		}
		if s.steps >= s.limit {
			s.cut = true
			return
		}
		for _, p := range f.picks {
			s.left[p.kind] -= p.count
		}
		s.stack = append(s.stack, bin{leftover, f.picks})
		s.descend(cost, enough)
		s.stack = s.stack[:len(s.stack)-1]
		for _, p := range f.picks {
			s.left[p.kind] += p.count
		}
	}
}

// fill is one way to fill a bar.
type fill struct {
	picks []pick
	spare float64
}

// fills lists the ways to fill a bar that hold the longest piece (-1 for none in particular) and to which
// no piece left could be added, the fullest first; see fairSpare. None leaves more than most.
func (s *search) fills(room float64, longest int, most float64) []fill {
	var found []fill
	var picks []pick
	most += rounding
	rest := make([]float64, len(s.size)+1) // of all pieces from a kind on
	for kind := len(s.size) - 1; kind >= 0; kind-- {
		rest[kind] = rest[kind+1] + float64(s.left[kind])*s.size[kind]
	}
	// passed is the shortest piece that was left out though it was there.
	var choose func(kind int, room, passed float64)
	choose = func(kind int, room, passed float64) {
		s.steps++
		if s.steps >= s.limit || len(found) == maxFills {
			s.cut = true
			return
		}
		for kind < len(s.size) && (s.left[kind] == 0 || s.size[kind] > room) {
			kind++
			s.steps++
		}
		if room-rest[kind] > most {
			return
		}
		if kind == len(s.size) {
			if room < passed {
				found = append(found, fill{slices.Clone(picks), room})
			}
			return
		}
		most := min(s.left[kind], int(room/s.size[kind]))
		fewest := 0
		if kind == longest {
			fewest = 1
		}
		for n := most; n >= fewest; n-- {
			if n < s.left[kind] {
				passed = s.size[kind]
			}
			if n > 0 {
				picks = append(picks, pick{kind, n})
			}
			choose(kind+1, room-float64(n)*s.size[kind], passed)
			if n > 0 {
				picks = picks[:len(picks)-1]
			}
		}
	}
	choose(max(longest, 0), room, room+1)
	fair := s.fairSpare()
	slices.SortStableFunc(found, func(a, b fill) int {
		return cmp.Compare(max(a.spare, fair), max(b.spare, fair))
	})
	return found
}

// fairSpare is what each reel may leave over if the pieces left are to take the
// fewest their total allows. Fills that leave less are as good as each other,
// and the one of the longest pieces is tried first: short ones fit anywhere
// later.
func (s *search) fairSpare() float64 {
	var total float64
	for kind, n := range s.left {
		total += float64(n) * s.size[kind]
	}
	reels := float64(max(1, atLeast(total/s.reel)))
	return max(0, s.reel-total/reels)
}
