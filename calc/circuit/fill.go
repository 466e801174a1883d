package circuit

import "math"

// stretch is a series of n pixels whose factors change evenly, with the same cap on each.
type stretch struct {
	first, last float64 // factor of the first and of the last pixel
	n           int
	most        float64 // full current less idle, A
}

// knapsack is what one budget may light: the stretches of its strips.
type knapsack struct {
	amps      float64 // +Inf without a budget
	falling   []slope // the stretches with a factor above 0, highest factor first
	threshold float64 // of the last fill; the pixels above it are lit
}

type slope struct {
	high, fall, n, most float64
}

// add puts in a stretch with factors times sign.
func (p *knapsack) add(s *stretch, sign float64) {
	if line := s.falling(sign); line.n > 0 {
		p.falling = append(p.falling, line)
	}
}

// falling returns the stretch with factors times sign, highest first. It has no pixels if no factor is
// above 0.
func (s *stretch) falling(sign float64) slope {
	high, low := sign*s.first, sign*s.last
	if high < low {
		high, low = low, high
	}
	if high <= 0 || s.n == 0 {
		return slope{}
	}
	fall := 0.0
	if s.n > 1 {
		fall = (high - low) / float64(s.n-1)
	}
	return slope{high, fall, float64(s.n), s.most}
}

// above returns the sum over pixels of most*max(0, factor-t), and the sum of the caps of the pixels
// whose factor is above t.
func (s *slope) above(t float64) (g, amps float64) {
	d := s.high - t
	if d <= 0 {
		return 0, 0
	}
	n := s.n
	if d < s.fall*(n-1) {
		n = float64(int(d/s.fall)) + 1
	}
	return s.most * n * (d - s.fall*(n-1)/2), s.most * n
}

// above returns g(t) = t*amps + the sum over pixels of most*max(0, factor-t), and the sum of the caps of
// the pixels whose factor is above t. For each t from 0 up, g(t) is at least what any pattern
// within the budget can reach, and the least g is reached: t is the price of an ampere (linear
// programming duality).
func (p *knapsack) above(t float64) (g, amps float64) {
	for i := range p.falling {
		dg, da := p.falling[i].above(t)
		g += dg
		amps += da
	}
	if t > 0 {
		g += t * p.amps
	}
	return g, amps
}

// fill returns the greatest sum of factor times current within the budget. It walks down the convex
// g between two tangents until they meet it; even if cut short it stays on the safe side.
func (p *knapsack) fill() float64 {
	if p.amps == 0 || len(p.falling) == 0 {
		p.threshold = math.Inf(1)
		return 0
	}
	var low, high tangent
	haveLow := false
	if t := p.threshold; t > 0 && !math.IsInf(t, 1) {
		g, amps := p.above(t)
		at := tangent{t, g, p.amps - amps}
		if at.slope < 0 {
			low, haveLow = at, true
		} else {
			high = at
		}
	}
	if !haveLow {
		g, amps := p.above(0)
		if amps <= p.amps {
			p.threshold = 0
			return g
		}
		low = tangent{0, g, p.amps - amps}
	}
	if high.at == 0 {
		for i := range p.falling {
			high.at = max(high.at, p.falling[i].high)
		}
		high.g, high.slope = high.at*p.amps, p.amps
	}
	best := low
	if high.g < best.g {
		best = high
	}
	for range 100 {
		t := (high.g - high.slope*high.at - low.g + low.slope*low.at) / (low.slope - high.slope)
		least := low.g + low.slope*(t-low.at)
		if !(t > low.at && t < high.at) || best.g-least <= 1e-11*best.g {
			break
		}
		g, amps := p.above(t)
		at := tangent{t, g, p.amps - amps}
		if g < best.g {
			best = at
		}
		if at.slope < 0 {
			low = at
		} else {
			high = at
		}
	}
	p.threshold = best.at
	return best.g
}

type tangent struct {
	at, g, slope float64
}
