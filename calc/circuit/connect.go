package circuit

import "math"

// connect gives the islands their elements.
func (p *planner) connect() {
	for i, w := range p.c.Wires {
		b := branch{wire: i, aPoint: int32(w.A), bPoint: int32(w.B)}
		b.lay(p.c)
		p.branch(b)
	}
	for i, s := range p.c.Sinks {
		p.drain(-1, i, int32(s.Plus), int32(s.Minus))
	}
	for i, ks := range p.knots {
		if len(ks) > 0 {
			p.strip(i, ks)
		}
	}
	for i := range p.islands {
		p.islands[i].build()
	}
}

// lay gives a branch the values that it has in a circuit.
func (b *branch) lay(c *Circuit) {
	if b.wire < 0 {
		b.siemens = 1 / (c.Strips[b.strip].Rail * b.metres)
		return
	}
	w := &c.Wires[b.wire]
	b.siemens, b.heat, b.most = 1/w.Ohms, w.Heat, w.Most
}

// lay gives a segment the conductances that it has on a strip.
func (g *segment) lay(s *Strip) {
	loop := func(metres float64) float64 { return 1 / (2 * s.Rail * metres) }
	g.g = loop(s.Pitch)
	if !g.a.loose() && g.n > 0 {
		g.ga = loop((float64(g.first)+0.5)*s.Pitch - g.from)
	}
	if !g.b.loose() && g.n > 0 {
		g.gb = loop(g.to - (float64(g.first+g.n)-0.5)*s.Pitch)
	}
	if !g.a.loose() && !g.b.loose() {
		g.through = loop(g.to - g.from)
	}
}

func (p *planner) branch(b branch) {
	from, to := p.spots[b.aPoint], p.spots[b.bPoint]
	if from.island < 0 {
		return
	}
	b.a, b.b, b.rise = from.unknown, to.unknown, from.rise-to.rise
	is := &p.islands[from.island]
	is.branches = append(is.branches, b)
	is.warm = is.warm || b.heat > 0
}

func (p *planner) drain(strip, k int, plus, minus int32) {
	a, b := p.spots[plus], p.spots[minus]
	if a.island < 0 || a.island != b.island {
		return
	}
	is := &p.islands[a.island]
	is.drains = append(is.drains, drain{
		strip: strip, k: k, plus: a.unknown, minus: b.unknown, rise: a.rise - b.rise,
		plusPoint: plus, minusPoint: minus,
	})
}

// strip cuts a strip at its knots.
func (p *planner) strip(i int, ks []knot) {
	s := &p.c.Strips[i]
	plus, minus := p.spots[ks[0].plus], p.spots[ks[0].minus]
	if plus.island < 0 || plus.island != minus.island {
		for j := 1; j < len(ks); j++ {
			from, to := ks[j-1], ks[j]
			rail := branch{wire: -1, strip: i, at: from.at, metres: to.at - from.at}
			rail.lay(p.c)
			for _, ends := range [][2]int32{{from.plus, to.plus}, {from.minus, to.minus}} {
				rail.aPoint, rail.bPoint = ends[0], ends[1]
				p.branch(rail)
			}
		}
		return
	}
	p.powered[i] = true
	is := &p.islands[plus.island]
	ref := int32(is.unknowns)
	next := 0 // pixel
	loose := end{plus: ref, minus: ref, plusPoint: -1, minusPoint: -1}
	last := loose
	from := 0.0 // m
	cut := func(e end, to float64, stop int) {
		seg := segment{strip: i, first: next, n: stop - next, a: last, b: e, from: from, to: to}
		seg.lay(s)
		if !last.loose() && !e.loose() && seg.n > 0 {
			seg.wA = ((float64(next)+0.5)*s.Pitch - from) / (to - from)
			seg.wB = ((float64(stop)-0.5)*s.Pitch - from) / (to - from)
		}
		if last.loose() {
			seg.wA, seg.wB = 1, 1
		}
		if to-from > snap*s.Pitch {
			is.segments = append(is.segments, seg)
		}
		next, last, from = stop, e, to
	}
	for _, k := range ks {
		plus, minus := p.spots[k.plus], p.spots[k.minus]
		e := end{
			plus: plus.unknown, minus: minus.unknown, differ: plus.rise - minus.rise, sum: plus.rise + minus.rise,
			plusPoint: k.plus, minusPoint: k.minus,
		}
		if k.pixel >= 0 {
			cut(e, k.at, k.pixel)
			p.drain(i, k.pixel, k.plus, k.minus)
			next = k.pixel + 1
			continue
		}
		cut(e, k.at, min(max(int(math.Round(k.at/s.Pitch)), next), s.Pixels))
	}
	cut(loose, float64(s.Pixels)*s.Pitch, s.Pixels)
}
