package cutting

import (
	"math"
	"slices"
)

// step is how finely the longest offcut is sought, m: half of what a tape measure shows.
const step = 0.0005

// lengthen looks, among the plans that need no more new reels, for the one that leaves the longest piece: an offcut,
// or a leftover that is not touched at all. It says how long that can be at most; it is that to within step.
//
// A bar has x left over just when all pieces still fit with that bar shorter by x and a kerf. So one of each length
// is shortened, by halving what lies between the longest found and what the total length allows.
func (j Job) lengthen(p Plan) Plan {
	best, budget, atMost := p, j.steps(), 0.0
	best.Longest = j.longest(p)
	if p.NewReels > 0 {
		atMost = j.shorten(&best, -1, j.Reel, &budget)
	}
	for i, l := range j.Leftovers {
		if slices.Index(j.Leftovers, l) == i {
			atMost = max(atMost, j.shorten(&best, i, l, &budget))
		}
	}
	best.AtMost, best.Least = max(atMost, best.Longest), p.Least
	best.Optimal = best.NewReels == best.Least
	return best
}

// shorten tries one bar, a leftover by its index or with -1 a new reel, and gives the most that it may have left over
// as far as that is known. Near what the total length allows there is little room, and soon tried that there
// is no plan; so it goes down from there in growing steps, and halves where a plan was found. No try takes more
// than half of what is left of the budget.
func (j Job) shorten(best *Plan, bar int, length float64, budget *int) (atMost float64) {
	high := min(length, j.room(bar, best.NewReels)-j.Kerf) // all above is known to be too much
	atMost = high
	for gap := 0.0; high-best.Longest > step; {
		x := max(high-gap, (best.Longest+high)/2)
		p, found, sure := j.with(bar, length-x-j.Kerf, best.NewReels, budget)
		switch {
		case found:
			p.Longest = j.longest(p)
			*best, gap = p, math.Inf(1)
		case sure:
			if high == atMost {
				atMost = x
			}
			high, gap = x, max(2*gap, step)
		case *budget < fewSteps:
			return atMost
		default: // leave it open, and look for something better than what there is
			high, gap = x, math.Inf(1)
		}
	}
	return atMost
}

// room is by how much all bars exceed all pieces, one bar as it is and of the others what is useful.
func (j Job) room(bar, reels int) float64 {
	s := newSearch(j, 0)
	s.below = reels + 1
	if bar < 0 {
		return s.slack(1) + s.reel
	}
	s.used[bar] = true
	return s.slack(0) + s.leftover[bar]
}

// with looks for a plan in which one bar is so short. sure tells that there is none where none is found.
func (j Job) with(bar int, short float64, reels int, budget *int) (p Plan, found, sure bool) {
	other := Job{Pieces: j.Pieces, Reel: j.Reel, Kerf: j.Kerf}
	var index []int // of other's leftovers in j's
	for i, l := range j.Leftovers {
		if i != bar {
			other.Leftovers, index = append(other.Leftovers, l), append(index, i)
		}
	}
	if bar < 0 {
		reels--
	}
	if short > 0 {
		other.Leftovers, index = append(other.Leftovers, short), append(index, bar)
	}
	s := newSearch(other, *budget/2)
	s.below = reels + 1
	sure = s.solve(reels)
	*budget -= s.steps
	if s.best == nil {
		return p, false, sure
	}
	for i, b := range s.best {
		if b.leftover >= 0 {
			s.best[i].leftover = index[b.leftover]
		}
	}
	return j.plan(s), true, true
}

// longest is the longest piece that a plan leaves.
func (j Job) longest(p Plan) float64 {
	left := slices.Clone(j.Leftovers)
	for _, b := range p.Bars {
		if b.Leftover >= 0 {
			left[b.Leftover] = 0
		}
		left = append(left, b.Offcut)
	}
	return slices.Max(append(left, 0))
}
