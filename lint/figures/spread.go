package figures

import (
	"math"
	"slices"

	"ohmstead/schema"
)

// How far the values of a plan may lie from a wall that is as it says, as a share of each: common practice, no source.
const (
	setPoint     = 0.01 // of a supply's output, where nobody wrote its trim
	railSpread   = 0.10 // of the copper of a strip: its foil is thinner or thicker
	lightSpread  = 0.10 // of the current of its light
	idleSpread   = 0.30 // of that of its chips
	lengthSpread = 0.05 // of a lead's length as written
	guessSpread  = 0.20 // of one that was estimated from positions
	// contactSpread is what the connections of one side of a lead may have beyond what is written, ohm: a healthy
	// contact has some milliohms.
	contactSpread = 0.004
)

// Unsure lists what may vary on an island that is as planned, each at the end of its range.
func (f *Figures) Unsure(is *Island) [][]Change {
	var out [][]Change
	for _, s := range is.Supplies {
		if !s.Trim.Set {
			out = append(out, []Change{{What: Trimmed, Supply: s, By: 1 + setPoint}})
		}
	}
	of := map[*schema.Strip][]*Run{}
	var strips []*schema.Strip // in the order of the plan
	for _, r := range is.Runs {
		if of[r.Strip.V] == nil {
			strips = append(strips, r.Strip.V)
		}
		of[r.Strip.V] = append(of[r.Strip.V], r)
	}
	for _, s := range strips {
		for _, x := range []Change{{What: Railed, By: 1 + railSpread}, {What: Drawn, By: 1 + lightSpread}, {What: Idled, By: 1 + idleSpread}} {
			var all []Change
			for _, x.Run = range of[s] {
				all = append(all, x)
			}
			out = append(out, all)
		}
	}
	for _, l := range is.Leads {
		open := lengthSpread
		if l.Estimated {
			open = guessSpread
		}
		out = append(out, []Change{{What: Stretched, Lead: l, By: 1 + open + contactSpread/float64(l.Parallel.V)/l.copper()}})
	}
	return out
}

// Spread is by how much each thing that may vary moves what a meter shows at some places, at the end of its range.
// Each is so little that what it moves is in proportion.
type Spread [][]float64

// SpreadOf works it out, and what is shown where nothing varies. What varies where the meter does not look moves
// nothing and is not solved for.
func (f *Figures) SpreadOf(is *Island, c *Case, tips []Tips) (shown []float64, s Spread, err error) {
	planned, shown, err := f.showsAll(is, c, tips)
	if err != nil {
		return nil, nil, err
	}
	for _, changes := range f.Unsure(is) {
		changes = slices.DeleteFunc(changes, func(ch Change) bool { return !planned.moves(ch) })
		moved := make([]float64, len(tips))
		if len(changes) > 0 {
			if _, moved, err = f.showsAll(is, c, tips, changes...); err != nil {
				return nil, nil, err
			}
			for i := range moved {
				moved[i] -= shown[i]
			}
		}
		s = append(s, moved)
	}
	return shown, s, nil
}

func (f *Figures) showsAll(is *Island, c *Case, tips []Tips, changes ...Change) (*Wall, []float64, error) {
	w, err := f.Wall(is, c, changes...)
	if err != nil {
		return nil, nil, err
	}
	w.keeps = true
	out := make([]float64, len(tips))
	for i, t := range tips {
		if out[i], err = w.Shows(t); err != nil {
			return nil, nil, err
		}
	}
	return w, out, nil
}

// Leaves is how far a sum of what is shown, each so many times, may lie off on a wall that is as planned: what each thing
// that may vary moves at the end of its range, added as squares (JCGM 100:2008, 5.1.2), so that a lone one leaves its range.
func (s Spread) Leaves(times map[int]float64) float64 {
	squares := 0.0
	for _, moved := range s {
		sum := 0.0
		for i, n := range times {
			sum += n * moved[i]
		}
		squares += sum * sum
	}
	return math.Sqrt(squares)
}
