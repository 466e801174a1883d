package figures

import (
	"math"

	"ohmstead/calc/timing"
)

// MostPixels is how many pixels of the port's kind it can refresh at a rate,
// Hz, by itself: those of its slowest chip. ok is false where a timing is not
// known.
func (p *Port) MostPixels(rate float64) (n int, ok bool) {
	n = math.MaxInt
	for _, r := range p.Runs {
		s := r.Strip.V
		if _, known := frameTime(r, r.Pixels); !known {
			return 0, false
		}
		most, err := timing.Protocol{Bits: s.Bits.V, BitRate: s.BitRate.V.SI, Latch: s.Latch.V.SI, Clocked: s.Clocked.V}.MostPixels(rate)
		if err != nil {
			return 0, false
		}
		n = min(n, most)
	}
	return n, n != math.MaxInt
}

// Lanes is how many of its ports a controller drives at once; ok is false
// where its board does not say.
func (c *Controller) Lanes() (n int, ok bool) {
	if b := c.Board.V; b != nil && b.Lanes.Known() {
		return b.Lanes.V, true
	}
	return 0, false
}

// Busy lists the controller's ports that drive pixels.
func (c *Controller) Busy() []*Port {
	var out []*Port
	for _, p := range c.Ports {
		if len(p.Runs) > 0 {
			out = append(out, p)
		}
	}
	return out
}
