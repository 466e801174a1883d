// Package cutting plans which piece is cut from which reel or bar, so that the
// fewest new ones are bought and the longest offcut remains.
package cutting

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/quantity"
)

const (
	// MaxPieces is the most pieces, and the most leftovers, of one job.
	MaxPieces = 10_000
	// MaxLength in m of a piece, a reel or a leftover; more is taken for a slip.
	MaxLength = 10_000.0
	// WorthKeeping is the length, m, from which an offcut is stock rather than
	// waste. Common practice, no source.
	WorthKeeping = 0.1
	// rounding in m: lengths added up may pass a reel's end by this much.
	rounding = 1e-9
)

// Job is what is to be cut, all in metres.
type Job struct {
	Pieces    []float64 // to cut
	Reel      float64   // length of each new reel or bar
	Kerf      float64   // lost at each cut: 0 with a knife, 2-3 mm with a saw
	Leftovers []float64 // lengths in hand, used before a new reel is
}

// Bar is one reel, bar or leftover and what is cut from it.
type Bar struct {
	Leftover int     // index into Job.Leftovers; -1 for a new reel
	Length   float64 // m
	Pieces   []int   // indexes into Job.Pieces, longest first
	Offcut   float64 // m that remains after the last cut
}

// Plan says where each piece comes from.
type Plan struct {
	Bars     []Bar   // leftovers first, then new reels; only those that are cut
	NewReels int     // to buy
	Least    int     // no plan needs fewer new reels than this
	Optimal  bool    // it is proven that no plan needs fewer than NewReels
	Waste    float64 // m lost to kerfs and offcuts of the bars in the plan
	Longest  float64 // m, the longest offcut or untouched leftover
	AtMost   float64 // m, no plan with so many new reels leaves a longer one, to half a millimetre
}

// Solve plans the cuts. The same job always gives the same plan.
//
// k pieces fit a bar of length L when their sum and k-1 kerfs do: what is left
// after the last piece may be less than a kerf. With l+kerf for each piece and
// L+kerf for each bar this is one-dimensional bin packing. First-fit and
// best-fit decreasing give plans to start from; branch and bound, bar by bar
// with the longest piece left in each, then looks for a better one until it is
// done, until the plan meets the lower bound Least, or until it has taken
// so many steps. In the last case Optimal is false, and the plan is at most
// NewReels-Least reels from the best.
//
// Source of the bin packing methods: S. Martello and P. Toth, Knapsack
// Problems: Algorithms and Computer Implementations, 1990, chapter 8 (from
// memory).
//
// It is an error where a length is out of range and where a piece fits neither
// a reel nor a leftover.
func Solve(job Job) (Plan, error) {
	plan, err := Fewest(job)
	if err == nil {
		plan = job.lengthen(plan)
	}
	return plan, err
}

// Fewest is Solve without the search for the longest piece left, which takes most
// of its time, for who only asks what to buy. Longest and AtMost are 0.
func Fewest(job Job) (Plan, error) {
	if err := job.check(); err != nil {
		return Plan{}, err
	}
	s := newSearch(job, job.steps())
	least := s.bound()
	proven := s.solve(least)
	if s.best == nil {
		return Plan{}, quantity.Say("the pieces longer than a reel of %s do not all fit the leftovers",
			quantity.Shown(quantity.Length, job.Reel))
	}
	plan := job.plan(s)
	plan.Least = least
	if proven {
		plan.Least = plan.NewReels
	}
	plan.Optimal = plan.NewReels == plan.Least
	return plan, nil
}

func (j Job) check() error {
	if len(j.Pieces) > MaxPieces {
		return fmt.Errorf("%d pieces are too many to plan: at most %d", len(j.Pieces), MaxPieces)
	}
	if len(j.Leftovers) > MaxPieces {
		return fmt.Errorf("%d leftovers are too many to plan: at most %d", len(j.Leftovers), MaxPieces)
	}
	if err := checkLength("reel", j.Reel); err != nil {
		return err
	}
	if !(j.Kerf >= 0 && j.Kerf <= 1) {
		return fmt.Errorf("kerf %g m is out of range: 0 to 1 m", j.Kerf)
	}
	longest := j.Reel
	for i, l := range j.Leftovers {
		if err := checkLength(fmt.Sprintf("leftover %d", i+1), l); err != nil {
			return err
		}
		longest = max(longest, l)
	}
	for i, l := range j.Pieces {
		if err := checkLength(fmt.Sprintf("piece %d", i+1), l); err != nil {
			return err
		}
		if l > longest+rounding {
			return quantity.Say("piece %d of %s is longer than any reel or leftover: the longest is %s", i+1,
				quantity.ShownAgainst(quantity.Length, l, longest), quantity.Shown(quantity.Length, longest))
		}
	}
	return nil
}

func checkLength(what string, l float64) error {
	if !(l > 0 && l <= MaxLength) {
		return fmt.Errorf("length %g m of %s is out of range: above 0, at most %g m", l, what, MaxLength)
	}
	return nil
}

// plan names the pieces and bars of the best packing.
func (j Job) plan(s *search) Plan {
	byLength := falling(j.Pieces)
	next := make([]int, len(s.size)) // first piece of each kind not yet named
	for k := 1; k < len(next); k++ {
		next[k] = next[k-1] + s.count[k-1]
	}
	var p Plan
	for _, b := range s.best {
		bar := Bar{Leftover: b.leftover, Length: j.Reel}
		if b.leftover >= 0 {
			bar.Length = j.Leftovers[b.leftover]
		} else {
			p.NewReels++
		}
		used := 0.0
		for _, c := range b.picks {
			for range c.count {
				piece := byLength[next[c.kind]]
				next[c.kind]++
				bar.Pieces = append(bar.Pieces, piece)
				used += j.Pieces[piece]
			}
		}
		p.Waste += bar.Length - used
		bar.Offcut = max(0, bar.Length-used-float64(len(bar.Pieces))*j.Kerf)
		if bar.Offcut < rounding {
			bar.Offcut = 0
		}
		p.Bars = append(p.Bars, bar)
	}
	p.Waste = max(0, p.Waste)
	slices.SortStableFunc(p.Bars, func(a, b Bar) int { // new reels, at -1, go last, the one with the longest offcut at the end
		return cmp.Or(cmp.Compare(uint(a.Leftover), uint(b.Leftover)), cmp.Compare(a.Offcut, b.Offcut))
	})
	return p
}

// falling is the order of lengths from the longest down, equal ones as given.
func falling(lengths []float64) []int {
	order := make([]int, len(lengths))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(lengths[b], lengths[a]) })
	return order
}

// atLeast is the whole number not below v, rounding aside.
func atLeast(v float64) int { return int(math.Ceil(v - 1e-9)) }
