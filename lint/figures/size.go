package figures

import (
	"math"

	"ohmstead/calc/supply"
	"ohmstead/schema"
)

// RatingFor is the rating, A, that a supply needs so that a load in A takes no
// more than a share of what the plan's ambient temperature leaves of it,
// rounded up to whole amperes.
func (f *Figures) RatingFor(s *schema.Supply, load, share float64) float64 {
	return supply.RatingFor(load, share, f.Derated(s))
}

// CeilingFor is the ceiling, A, with which what a supply feeds takes no more
// than a share of its derated rating, rounded down to half an ampere. It is
// there only where the supply has one output, is alone in its island, and one
// controller drives every run in it; what is not pixels comes off first.
func (f *Figures) CeilingFor(s *schema.Supply, share float64) (c *Controller, amps float64, ok bool) {
	for _, is := range f.Islands {
		if len(is.Supplies) != 1 || is.Supplies[0] != s || s.Outputs.V != 1 || !s.Rating.Known() {
			continue
		}
		others := 0.0
		for _, x := range is.Control {
			others += x.draws()
		}
		for _, r := range is.Runs {
			if r.Port == nil || c != nil && c.Controller != r.Port.Controller {
				return nil, 0, false
			}
			c = f.controllers[r.Port.Controller]
		}
		if c == nil {
			return nil, 0, false
		}
		amps = math.Floor(2*(share*s.Rating.V.SI*f.Derated(s)-others)+1e-9) / 2
		return c, amps, amps > c.Idle
	}
	return nil, 0, false
}
