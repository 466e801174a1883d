package circuit

import "math"

// segment is a stretch of a strip between two taps, or between a tap and an end of the strip; the
// end without a tap is loose.
//
// Both rails have one resistance, so sum and difference of their potentials part. The sum has no
// load and runs straight. The difference u obeys a ladder of loop conductances 1/(2R) with a
// pixel at each rung.
type segment struct {
	strip    int
	first, n int     // pixels of the strip in between
	from, to float64 // m
	a, b     end
	ga, gb   float64 // loop conductance from each end to the nearest pixel, 0 if loose, S
	g        float64 // the same from pixel to pixel
	through  float64 // the same from end to end past all pixels, 0 if either is loose
	wA, wB   float64 // share of end b in what the first and the last pixel draw; the rest is that of end a
}

// end is one end of a segment. A loose end has the reference for its unknowns and -1 for its points.
type end struct {
	plus, minus           int32   // unknowns
	differ, sum           float64 // of the rises of plus and minus, V
	plusPoint, minusPoint int32
}

func (e *end) loose() bool { return e.plusPoint < 0 }

// over returns how far plus lies above minus, V.
func (e *end) over(x []float64) float64 { return x[e.plus] - x[e.minus] + e.differ }

// total returns the sum of both potentials, V.
func (e *end) total(x []float64) float64 { return x[e.plus] + x[e.minus] + e.sum }

// share returns the share of end b in what pixel first+j draws.
func (g *segment) share(j int) float64 {
	if g.n == 1 {
		return g.wA
	}
	return g.wA + (g.wB-g.wA)*float64(j)/float64(g.n-1)
}

// drawn returns what all pixels draw through each end with volts between the rails, A.
func (g *segment) drawn(ld *load, volts float64) (byA, byB float64) {
	if ld.each == nil {
		amps, _ := ld.at(0, volts)
		all := amps * float64(g.n)
		byB = all * (g.wA + g.wB) / 2
		return all - byB, byB
	}
	for j := range g.n {
		amps, _ := ld.at(g.first+j, volts)
		w := g.share(j)
		byA += amps * (1 - w)
		byB += amps * w
	}
	return byA, byB
}

// profile is the voltage along a segment whose pixels all draw the same: a parabola. From one pixel to
// the next it falls by drop, then by bend less each time, as each pixel leaves less to flow on.
type profile struct {
	n          int
	first      float64 // V at the first pixel
	drop, bend float64 // V
	amps       float64 // of each pixel
	ja, jb     float64 // loop currents into the segment from its ends, A
}

// profile returns that of pixels that draw amps each, with ua and ub between the rails at the ends, V.
func (g *segment) profile(amps, ua, ub float64) profile {
	p := profile{n: g.n, amps: amps}
	n, all := float64(g.n), amps*float64(g.n)
	switch {
	case g.n == 0:
		p.ja = g.through * (ua - ub)
		p.jb = -p.ja
		return p
	case g.a.loose():
		p.jb = all
	case g.b.loose():
		p.ja = all
	default:
		byB := all * (g.wA + g.wB) / 2
		p.ja = g.through*(ua-ub) + all - byB
		p.jb = g.through*(ub-ua) + byB
	}
	p.bend = amps / g.g
	p.drop = (p.ja - amps) / g.g
	if g.a.loose() {
		p.first = ub - all/g.gb - p.bend*n*(n-1)/2
	} else {
		p.first = ua - p.ja/g.ga
	}
	return p
}

// at returns the voltage at pixel j of the segment.
func (p *profile) at(j int) float64 {
	k := float64(j)
	return p.first - k*p.drop + p.bend*k*(k-1)/2
}

// lowest returns the first pixel of the segment with the least voltage.
func (p *profile) lowest() int {
	last := p.n - 1
	switch {
	case p.bend > 0:
		// Towards the next pixel it falls by drop - j*bend. Where that is nothing but rounding both
		// are the least.
		return int(min(max(math.Ceil(p.drop/p.bend-1e-9), 0), float64(last)))
	case p.drop > 0:
		return last
	}
	return 0
}

// sum returns the sum of the voltages of all pixels.
func (p *profile) sum() float64 {
	n := float64(p.n)
	return n*p.first - p.drop*n*(n-1)/2 + p.bend*n*(n-1)*(n-2)/6
}

// walk fills u with the voltages of the pixels where each draws its full current, V, and returns
// the least of them.
func (g *segment) walk(ld *load, ua, ub float64, u []float64) (least float64) {
	least = math.Inf(1)
	if ld.each == nil {
		p := g.profile(ld.total, ua, ub)
		for j := range u {
			u[j] = p.at(j)
			least = min(least, u[j])
		}
		return least
	}
	byA, byB := g.drawn(ld, math.Inf(1))
	here, ohms, flow := ua, 1/g.ga, g.through*(ua-ub)+byA
	if g.a.loose() {
		flow = 0
		here, ohms = ub-byB/g.gb, 0 // the last pixel; the rest is summed up back to the first
		on := 0.0
		for j := range g.n - 1 {
			on += ld.full(g.first + j)
			here -= on / g.g
		}
	}
	for j := range u {
		here -= flow * ohms
		u[j] = here
		least = min(least, here)
		flow -= ld.full(g.first + j)
		ohms = 1 / g.g
	}
	return least
}
