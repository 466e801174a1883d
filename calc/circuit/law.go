package circuit

// IdleKnee is the voltage at which the idle current of a pixel, and the current of
// a sink that names no knee, has risen to its full value, V. It is an assumption
// of the model (chips start to work near it); common practice, no source.
const IdleKnee = 3.0

// Law says what one pixel draws at the voltage V between its rails:
//
//	I(V) = Idle*s(V/IdleKnee) + sum over channels c of share[c]*Amps[c]*s((V-Forward[c])/Headroom[c])
//
// with s(x) = min(1, max(0, x)). A constant-current driver holds its current until
// less than Headroom is left over the forward voltage of its LEDs, then loses it
// linearly. Dimming switches the current on and off; share is its average.
//
// With Series the colours of a pixel sit in one string and share its current: the
// sum is then one term with the largest share*Amps, the sum of all Forward and
// the largest Headroom.
type Law struct {
	Idle     float64 // A
	Channels []Channel
	Series   bool
}

// Channel is one colour of a pixel.
type Channel struct {
	Amps     float64 // A at share 1
	Forward  float64 // V, LEDs in series times the forward voltage of one
	Headroom float64 // V
}

// Current returns the current of a pixel at v volts, A. A share that is missing
// counts as 0.
func (l *Law) Current(v float64, share []float64) float64 {
	i, _ := l.at(v, share)
	return i
}

// Slope returns dI/dV of a pixel at v volts, A/V; at a kink, that on the right.
func (l *Law) Slope(v float64, share []float64) float64 {
	_, g := l.at(v, share)
	return g
}

func (l *Law) at(v float64, share []float64) (amps, slope float64) {
	amps, slope = ramp(v, 0, IdleKnee, l.Idle)
	var one Channel
	for c, ch := range l.Channels {
		a := 0.0
		if c < len(share) {
			a = share[c] * ch.Amps
		}
		if l.Series {
			one.Amps = max(one.Amps, a)
			one.Forward += ch.Forward
			one.Headroom = max(one.Headroom, ch.Headroom)
			continue
		}
		i, g := ramp(v, ch.Forward, ch.Headroom, a)
		amps += i
		slope += g
	}
	if l.Series {
		i, g := ramp(v, one.Forward, one.Headroom, one.Amps)
		amps += i
		slope += g
	}
	return amps, slope
}

// ramp is amps*s((v-foot)/width) and its slope.
func ramp(v, foot, width, amps float64) (current, slope float64) {
	width = max(width, MinHeadroom)
	switch x := v - foot; {
	case x >= width:
		return amps, 0
	case x < 0:
		return 0, 0
	default:
		return amps / width * x, amps / width
	}
}
