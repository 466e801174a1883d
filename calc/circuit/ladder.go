package circuit

import "math"

// ladder holds, for each pixel of a segment, its voltage and the reduced row of its equation. Only
// segments with a pixel below its full current need one.
type ladder struct {
	u      []float64 // V
	step   []float64 // V, Newton's
	rest   []float64 // V, of the step: what does not depend on the steps beside it
	toNext []float64 // share of the next pixel's step
	toA    []float64 // share of the step of end a
}

// newLadder makes one in some room, but for its voltages, which stay.
func (r *room) newLadder(pixels int) *ladder {
	all := r.row(4 * pixels)
	return &ladder{make([]float64, pixels), all[:pixels], all[pixels : 2*pixels], all[2*pixels : 3*pixels], all[3*pixels:]}
}

// secant returns a ladder at the voltages that the pixels would have as resistors, each drawing at
// volts what its law says.
func (g *segment) secant(r *room, ld *load, volts, ua, ub float64) *ladder {
	amps, _ := ld.at(0, volts)
	line := load{top: volts, total: amps, ramps: []ramp{newRamp(0, volts, amps)}}
	if ld.each != nil {
		line = load{each: make([][]float64, g.n), ramps: []ramp{newRamp(0, volts, 0), newRamp(0, volts, 1)}}
		for j := range line.each {
			amps, _ := ld.at(g.first+j, volts)
			line.each[j] = []float64{amps}
		}
	}
	own := *g
	own.first = 0
	l := r.newLadder(g.n)
	l.reduce(&own, &line, 0, ua, ub) // from 0 V, where the slopes are those of the resistors
	l.advance(0, 0, 0)
	l.take()
	return l
}

// reduced is what the ends of a segment see of it.
type reduced struct {
	atA, atB, across float64 // loop conductances, S
	ja, jb           float64 // loop currents into the segment from its ends, A
	fa, fb           float64 // what the imbalance of the pixels adds to the balance of the ends, A
	descent          float64 // fall of the co-content along the step, W
	power            float64 // W, see factored.solve
	worst            float64 // greatest imbalance of a pixel, A
}

// reduce eliminates the pixels of a segment from a to b at the voltages u + t*step. It is the star
// rule of mesh, one pixel after the other: each star has an arm to end a, one to the next pixel and
// one to its own slope.
func (l *ladder) reduce(g *segment, ld *load, t, ua, ub float64) (r reduced) {
	u, step, rest, toNext, toA := l.u, l.step, l.rest, l.toNext, l.toA
	top := ld.top
	if ld.each != nil {
		top = math.Inf(1)
	}
	arm, slope, carry := g.ga, 0.0, 0.0
	here := u[0] + t*step[0]
	flow := g.ga * (ua - here)
	r.ja = flow
	for k := range u {
		next, siemens := ub, g.gb
		if k+1 < len(u) {
			next, siemens = u[k+1]+t*step[k+1], g.g
		}
		amps := ld.total
		if here < top {
			var di float64
			amps, di = ld.at(g.first+k, here)
			slope += di
		}
		on := siemens * (here - next)
		f := flow - on - amps
		r.worst = max(r.worst, f, -f)
		r.descent += f * step[k]
		f += carry
		q := 1 / (arm + siemens + slope)
		n, a := siemens*q, arm*q
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
func (l *ladder) advance(t, da, db float64) (greatest float64) {
	u, step, rest, toNext, toA := l.u, l.step, l.rest, l.toNext, l.toA
	next := db
	for k := len(u) - 1; k >= 0; k-- {
		u[k] += t * step[k]
		next = rest[k] + toNext[k]*next + toA[k]*da
		step[k] = next
		greatest = max(greatest, next, -next)
	}
	return greatest
}

// take takes the last step whole.
func (l *ladder) take() {
	for k := range l.u {
		l.u[k] += l.step[k]
		l.step[k] = 0
	}
}
