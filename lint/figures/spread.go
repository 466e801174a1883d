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

// Spread is, of some places, what moves that which a meter shows there. Each thing that may vary is so little that what
// it moves is in proportion.
type Spread [][]Move

// Move is by how much one thing that may vary moves it, at the end of its range.
type Move struct {
	Of int // which of what Unsure lists; a place has them in that order
	By float64
}

// SpreadOf works it out, and what is shown where nothing varies. Where the meter does not look nothing that varies moves
// what it shows, so that is not solved for.
func (f *Figures) SpreadOf(is *Island, c *Case, tips []Tips) (shown []float64, s Spread, err error) {
	planned, err := f.Wall(is, c)
	if err != nil {
		return nil, nil, err
	}
	shown, s = make([]float64, len(tips)), make(Spread, len(tips))
	reads := map[int][]int{} // of each part: the places that depend on it
	for i, t := range tips {
		clear(planned.read)
		if shown[i], err = planned.Shows(t); err != nil {
			return nil, nil, err
		}
		for part := range planned.read {
			reads[part] = append(reads[part], i)
		}
	}
	for of, changes := range f.Unsure(is) {
		at := map[int]bool{}
		changes = slices.DeleteFunc(changes, func(ch Change) bool {
			unseen := true
			for _, part := range planned.concerns(ch) {
				for _, i := range reads[part] {
					at[i], unseen = true, false
				}
			}
			return unseen
		})
		if len(changes) == 0 {
			continue
		}
		w, err := f.Wall(is, c, changes...)
		if err != nil {
			return nil, nil, err
		}
		w.keeps = true
		for i := range at {
			moved, err := w.Shows(tips[i])
			if err != nil {
				return nil, nil, err
			}
			s[i] = append(s[i], Move{of, moved - shown[i]})
		}
	}
	return shown, s, nil
}

// Leaves is how far what is shown at a place may lie off on a wall that is as planned: what each thing that may vary moves
// at the end of its range, added as squares (JCGM 100:2008, 5.1.2), so that a lone one leaves its range.
func (s Spread) Leaves(place int) float64 { return leaves(s[place], nil) }

// Between is the same of how far a place lies above another.
func (s Spread) Between(place, other int) float64 { return leaves(s[place], s[other]) }

func leaves(a, b []Move) float64 {
	squares := 0.0
	for len(a) > 0 || len(b) > 0 {
		moved := 0.0
		of := math.MaxInt
		for _, m := range [][]Move{a, b} {
			if len(m) > 0 {
				of = min(of, m[0].Of)
			}
		}
		if len(a) > 0 && a[0].Of == of {
			moved, a = a[0].By, a[1:]
		}
		if len(b) > 0 && b[0].Of == of {
			moved, b = moved-b[0].By, b[1:]
		}
		squares += moved * moved
	}
	return math.Sqrt(squares)
}
