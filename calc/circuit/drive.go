package circuit

import "math"

// Drive says how the strips of a circuit are lit, one entry for each strip.
type Drive []StripDrive

// StripDrive is the drive of one strip: as Share and Each of Strip.
type StripDrive struct {
	Share []float64
	Each  [][]float64
}

// ramp is amps*s((v-foot)/width).
type ramp struct {
	foot, width, amps, slope float64
}

func newRamp(foot, width, amps float64) ramp {
	width = max(width, MinHeadroom)
	return ramp{foot, width, amps, amps / width}
}

// at returns the current at v and its slope, on the right at a kink.
func (r *ramp) at(v float64) (amps, slope float64) {
	switch x := v - r.foot; {
	case x >= r.width:
		return r.amps, 0
	case x < 0:
		return 0, 0
	default:
		return r.slope * x, r.slope
	}
}

// load is a law under a drive: what the pixels of a strip draw, or a sink.
type load struct {
	ramps []ramp  // the idle current first, then the colours
	top   float64 // V; all ramps are at their top there
	total float64 // A of a pixel above top, where all pixels are alike
	each  [][]float64
	lone  []float64 // with each and Series: the currents of the channels, A at share 1
}

func newLoad(l *Law, d StripDrive) load {
	ld := load{each: d.Each, ramps: make([]ramp, 0, 1+len(l.Channels))}
	ld.ramps = append(ld.ramps, newRamp(0, IdleKnee, l.Idle))
	amps := make([]float64, len(l.Channels))
	for c, ch := range l.Channels {
		switch {
		case d.Each != nil:
			amps[c] = ch.Amps
		case d.Share != nil:
			amps[c] = ch.Amps * d.Share[c]
		}
	}
	if l.Series {
		forward, headroom, most := l.chain(amps)
		if d.Each != nil {
			ld.lone, most = amps, 1
		}
		ld.ramps = append(ld.ramps, newRamp(forward, headroom, most))
	} else {
		for c, ch := range l.Channels {
			ld.ramps = append(ld.ramps, newRamp(ch.Forward, ch.Headroom, amps[c]))
		}
	}
	ld.close()
	return ld
}

func sinkLoad(s Sink) load {
	knee := s.Knee
	if knee == 0 {
		knee = IdleKnee
	}
	ld := load{ramps: []ramp{newRamp(0, knee, s.Amps)}}
	ld.close()
	return ld
}

func (l *load) close() {
	for _, r := range l.ramps {
		l.top = max(l.top, r.foot+r.width)
		l.total += r.amps
	}
}

// at returns the current of pixel k at v volts and its slope.
func (l *load) at(k int, v float64) (amps, slope float64) {
	if l.each == nil {
		if v >= l.top {
			return l.total, 0
		}
		for i := range l.ramps {
			a, g := l.ramps[i].at(v)
			amps += a
			slope += g
		}
		return amps, slope
	}
	amps, slope = l.ramps[0].at(v)
	share := l.each[k]
	switch {
	case share == nil:
	case l.lone != nil:
		most := 0.0
		for c, x := range share {
			most = max(most, x*l.lone[c])
		}
		a, g := l.ramps[1].at(v)
		amps += most * a
		slope += most * g
	default:
		for c, x := range share {
			a, g := l.ramps[1+c].at(v)
			amps += x * a
			slope += x * g
		}
	}
	return amps, slope
}

// full returns the current of pixel k where voltage is ample.
func (l *load) full(k int) float64 {
	if l.each == nil {
		return l.total
	}
	amps, _ := l.at(k, math.Inf(1))
	return amps
}
