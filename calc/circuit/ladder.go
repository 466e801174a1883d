package circuit

import "math"

// stage says what the loads draw while the network is put together.
type stage int

const (
	byLaw  stage = iota // the law
	ample               // what they draw where voltage is ample, whatever it is
	secant              // the current at a given voltage as that of a resistor
)

// draw returns the current of pixel k at v volts in a stage, and its slope; volts is the voltage of
// the secant.
func (l *load) draw(in stage, volts float64, k int, v float64) (amps, slope float64) {
	switch in {
	case ample:
		return l.full(k), 0
	case secant:
		amps, _ = l.at(k, volts)
		return amps / volts * v, amps / volts
	}
	return l.at(k, v)
}

// ladders holds, for each pixel, its voltage and the reduced row of its equation.
type ladders struct {
	u      []float64 // V
	step   []float64 // V, Newton's
	rest   []float64 // V, of the step: what does not depend on the steps beside it
	toNext []float64 // share of the next pixel's step
	toA    []float64 // share of the step of end a
}

func newLadders(pixels int) *ladders {
	all := make([]float64, 4*pixels)
	return &ladders{make([]float64, pixels), all[:pixels], all[pixels : 2*pixels], all[2*pixels : 3*pixels], all[3*pixels:]}
}

// reduced is what the ends of a segment see of it.
type reduced struct {
	atA, atB, across float64 // loop conductances, S
	ja, jb           float64 // loop currents into the segment from its ends, A
	fa, fb           float64 // what the imbalance of the pixels adds to the balance of the ends, A
	descent          float64 // fall of the co-content along the step, W
	power            float64 // W, see factored.solve
	worst            float64 // greatest imbalance of a pixel, A
	short            int     // pixels below their full current
}

// reduce eliminates the pixels of a segment from a to b at the voltages u + t*step. It is the star
// rule of mesh, one pixel after the other: each star has an arm to end a, one to the next pixel and
// one to its own slope.
func (l *ladders) reduce(seg *segment, at int, ld *load, in stage, volts, t, ua, ub float64) (r reduced) {
	if seg.n == 0 {
		j := seg.through * (ua - ub)
		return reduced{across: seg.through, ja: j, jb: -j}
	}
	u, step := l.u[at:at+seg.n], l.step[at:at+seg.n]
	rest, toNext, toA := l.rest[at:at+seg.n], l.toNext[at:at+seg.n], l.toA[at:at+seg.n]
	top := ld.top
	if ld.each != nil || in == secant {
		top = math.Inf(1)
	} else if in == ample {
		top = math.Inf(-1)
	}
	arm, slope, carry := seg.ga, 0.0, 0.0
	here := u[0] + t*step[0]
	flow := seg.ga * (ua - here)
	r.ja = flow
	for k := range u {
		next, g := ub, seg.gb
		if k+1 < len(u) {
			next, g = u[k+1]+t*step[k+1], seg.g
		}
		amps := ld.total
		if here < top {
			var di float64
			amps, di = ld.draw(in, volts, seg.first+k, here)
			slope += di
			if here < ld.top {
				r.short++
			}
		}
		on := g * (here - next)
		f := flow - on - amps
		r.worst = max(r.worst, f, -f)
		r.descent += f * step[k]
		f += carry
		q := 1 / (arm + g + slope)
		n, a := g*q, arm*q
		rest[k], toNext[k], toA[k] = f*q, n, a
		r.power += f * f * q
		r.atA += a * slope
		r.fa += a * f
		carry = n * f
		arm *= n
		slope *= n
		flow, here = on, next
	}
	r.jb = -flow
	r.fb = carry
	r.across = arm
	r.atB = slope
	r.atA += arm
	r.atB += arm
	return r
}

// advance takes t of the last step and finds the next one from those of the ends. It returns the
// greatest.
func (l *ladders) advance(seg *segment, at int, t, da, db float64) (greatest float64) {
	u, step := l.u[at:at+seg.n], l.step[at:at+seg.n]
	rest, toNext, toA := l.rest[at:at+seg.n], l.toNext[at:at+seg.n], l.toA[at:at+seg.n]
	next := db
	for k := len(u) - 1; k >= 0; k-- {
		u[k] += t * step[k]
		next = rest[k] + toNext[k]*next + toA[k]*da
		step[k] = next
		greatest = max(greatest, next, -next)
	}
	return greatest
}
