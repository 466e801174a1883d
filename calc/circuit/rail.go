package circuit

// railPlace is one of the places where the current in a rail can be greatest: next to a tap, as
// pixels only take away from it on the way.
type railPlace struct {
	island  int32
	segment int32 // -1 for a rail of a strip without power
	branch  int32 // then
	minus   bool
	atB     bool
	sign    float64 // of the greatest current, positive from end a to end b
}

// rails bounds the currents in the rails of all strips.
func (d *bounder) rails(bounds []StripBound) {
	try := func(strip int, at, idle float64, p railPlace) {
		f, b := &d.fields[p.island], &bounds[strip]
		for _, sign := range []float64{1, -1} {
			spill := f.spill(-1)
			if sign*idle+f.quick(sign)+spill <= b.RailAmps {
				continue
			}
			if amps := sign*idle + f.fill(sign) + spill; amps > b.RailAmps {
				b.RailAmps, b.RailAt, b.rail, b.Spill = amps, at, p, spill
				b.rail.sign = sign
			}
		}
	}
	for i := range d.islands {
		f := &d.fields[i]
		for j := range f.segments {
			g := &f.segments[j]
			own := f.groupOf[j]
			p := railPlace{island: int32(i), segment: int32(j)}
			switch {
			case g.a.loose() || g.b.loose():
				if own >= 0 { // plus and minus alike
					p.atB = g.a.loose()
					at := g.from
					if p.atB {
						at = g.to
					}
					try(g.strip, at, d.rail(p), p)
				}
			default:
				for _, p.minus = range []bool{false, true} {
					p.atB = false
					idle := d.rail(p)
					try(g.strip, g.from, idle, p)
					if own < 0 {
						continue
					}
					p.atB = true
					try(g.strip, g.to, d.pass(p, idle), p)
				}
			}
		}
		for j := range f.branches {
			if b := &f.branches[j]; b.wire < 0 {
				p := railPlace{island: int32(i), segment: -1, branch: int32(j)}
				try(b.strip, b.at, d.rail(p), p)
			}
		}
	}
	for i := range bounds {
		if b := &bounds[i]; b.RailAmps > 0 {
			d.rail(b.rail)
			b.RailLit = d.fields[b.rail.island].lit(b.rail.sign)
		}
	}
}

// rail sets the factors of the current in a rail, and returns what flows with all pixels dark.
//
// Between two taps L apart, with pixel k a share w of the way from a to b and drawing i,
//
//	at a: (V_a - V_b)/(rail L) + sum of i (1-w),  at b: (V_a - V_b)/(rail L) - sum of i w
//
// flow in plus; in minus, where pixels give back what they took from plus, the sums have the other
// sign. To a loose end flows what the pixels before it draw.
func (d *bounder) rail(p railPlace) (idle float64) {
	f, x := &d.fields[p.island], d.states[p.island].x
	if p.segment < 0 {
		b := &f.branches[p.branch]
		f.between(b.a, b.b, b.siemens)
		return b.siemens * (x[b.a] - x[b.b] + b.rise)
	}
	g := &f.segments[p.segment]
	i := f.groupOf[p.segment]
	dark := d.dark[g.strip].total * float64(g.n)
	if g.a.loose() || g.b.loose() {
		if f.none(); i >= 0 {
			s := f.activate(i)
			s.first, s.last = 1, 1
		}
		return dark
	}
	a, b, siemens, sign := g.a.plus, g.b.plus, 2*g.through, 1.0
	aPoint, bPoint := g.a.plusPoint, g.b.plusPoint
	if p.minus {
		a, b, sign = g.a.minus, g.b.minus, -1
		aPoint, bPoint = g.a.minusPoint, g.b.minusPoint
	}
	f.between(a, b, siemens)
	idle = siemens * (x[a] + d.spots[aPoint].rise - x[b] - d.spots[bPoint].rise)
	if i >= 0 {
		own, s := &f.groups[i], f.activate(i)
		s.first += sign * (1 - own.wA)
		s.last += sign * (1 - own.wB)
		idle += sign * dark * (1 - (own.wA+own.wB)/2)
		if p.atB {
			idle = d.pass(p, idle)
		}
	}
	return idle
}

// pass goes on from end a of a segment to end b: all that its pixels draw has left plus by then, and
// has come to minus.
func (d *bounder) pass(p railPlace, idle float64) float64 {
	f := &d.fields[p.island]
	i := f.groupOf[p.segment]
	sign := 1.0
	if p.minus {
		sign = -1
	}
	s := f.activate(i)
	s.first -= sign
	s.last -= sign
	return idle - sign*d.dark[f.groups[i].strip].total*float64(f.groups[i].n)
}
