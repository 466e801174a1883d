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
//
// A Headroom under MinHeadroom, 0 included, stands for a step; it is solved as a
// ramp of that width, which keeps the law monotone and continuous.
type Law struct {
	Idle     float64 // A, at any share
	Channels []Channel
	Series   bool
}

// Channel is one colour of a pixel.
type Channel struct {
	Amps     float64 // A at share 1
	Forward  float64 // V, LEDs in series times the forward voltage of one
	Headroom float64 // V
}

// Current returns the current of a pixel at v volts, A. A nil share is dark; else there is
// one share for each channel.
func (l *Law) Current(v float64, share []float64) float64 {
	ld := newLoad(l, StripDrive{Share: share})
	amps, _ := ld.at(0, v)
	return amps
}

// Slope returns dI/dV of a pixel at v volts, A/V; at a kink, that on the right.
func (l *Law) Slope(v float64, share []float64) float64 {
	ld := newLoad(l, StripDrive{Share: share})
	_, slope := ld.at(0, v)
	return slope
}

// Nominal returns the current of a pixel where voltage is ample, A.
func (l *Law) Nominal(share []float64) float64 {
	if share == nil {
		return l.Idle
	}
	return l.drawn(func(c int) float64 { return share[c] })
}

// drawn is that with a share for each channel.
func (l *Law) drawn(share func(channel int) float64) float64 {
	amps, most := l.Idle, 0.0
	for c, ch := range l.Channels {
		if one := ch.Amps * share(c); l.Series {
			most = max(most, one)
		} else {
			amps += one
		}
	}
	return amps + most
}

// Full returns the current of a pixel at full light where voltage is ample, A.
func (l *Law) Full() float64 {
	return l.drawn(func(int) float64 { return 1 })
}

// span returns the current of a pixel at full light over its idle current, where voltage is ample, A.
func (l *Law) span() float64 { return l.Full() - l.Nominal(nil) }

// FullVolts returns the least voltage at which every colour holds its full current, V: the
// greatest Forward + Headroom; of colours in series the sum of all Forward and the largest
// Headroom.
func (l *Law) FullVolts() float64 {
	if l.Series {
		forward, headroom, _ := l.chain(make([]float64, len(l.Channels)))
		return forward + headroom
	}
	volts := 0.0
	for _, c := range l.Channels {
		volts = max(volts, c.Forward+c.Headroom)
	}
	return volts
}

// chain returns the one ramp of a pixel whose colours sit in series, each with its own amps.
func (l *Law) chain(amps []float64) (forward, headroom, most float64) {
	for c, ch := range l.Channels {
		forward += ch.Forward
		headroom = max(headroom, ch.Headroom)
		most = max(most, amps[c])
	}
	return forward, headroom, most
}
