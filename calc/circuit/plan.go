package circuit

import "math"

// planner turns a checked circuit into the islands of a network.
type planner struct {
	*Network
	knots  [][]knot // of each strip
	shorts *forest  // points that taps tie together
	stiff  *forest  // points that sources tie together as well
	parts  []int32  // of each point, see spot.part
	home   []int32  // island of each part, -1 for none
}

// tap gathers the taps of each strip into knots. A rail that a tap leaves out gets a point there
// as well.
func (p *planner) tap() {
	p.knots = make([][]knot, len(p.c.Strips))
	for i := range p.c.Strips {
		s := &p.c.Strips[i]
		var ks []knot
		for _, t := range s.Taps {
			if len(ks) == 0 || t.At-ks[len(ks)-1].at > snap*s.Pitch {
				ks = append(ks, p.newKnot(s, t.At))
			}
			k := &ks[len(ks)-1]
			if t.Plus >= 0 {
				p.shorts.join(k.plus, int32(t.Plus), 0)
			}
			if t.Minus >= 0 {
				p.shorts.join(k.minus, int32(t.Minus), 0)
			}
		}
		p.knots[i] = ks
	}
}

func (p *planner) newKnot(s *Strip, at float64) knot {
	k := knot{
		at:    min(max(at, 0), float64(s.Pixels)*s.Pitch),
		plus:  p.shorts.add(),
		minus: p.shorts.add(),
		pixel: -1,
	}
	if rung := at/s.Pitch - 0.5; math.Abs(rung-math.Round(rung)) <= snap {
		k.pixel = int(math.Round(rung))
	}
	return k
}

// stiffen ties together what sources hold at fixed differences.
func (p *planner) stiffen() error {
	points := len(p.shorts.up)
	p.stiff = newForest(points)
	for i := range points {
		if root := p.shorts.rootOf(int32(i)); root != int32(i) {
			p.stiff.join(int32(i), root, 0)
		}
	}
	for i, s := range p.c.Sources {
		joined, had := p.stiff.join(int32(s.Plus), int32(s.Minus), s.Volts)
		if !joined && math.Abs(had-s.Volts) > 1e-9 {
			return &ConflictError{Source: i, Volts: s.Volts, Others: had}
		}
	}
	return nil
}

// separate finds the parts and the islands. Through a load current flows one way only, from its
// plus to its minus part, and must come back: so the parts that share currents are those from which
// loads lead around in a circle. Any other load carries nothing.
func (p *planner) separate() {
	linked := newForest(len(p.stiff.up))
	for i := range linked.up {
		linked.join(int32(i), p.stiff.rootOf(int32(i)), 0)
	}
	for _, w := range p.c.Wires {
		linked.join(int32(w.A), int32(w.B), 0)
	}
	for _, ks := range p.knots {
		for j := 1; j < len(ks); j++ {
			linked.join(ks[j-1].plus, ks[j].plus, 0)
			linked.join(ks[j-1].minus, ks[j].minus, 0)
		}
	}
	p.parts = make([]int32, len(linked.up))
	number := make([]int32, len(linked.up))
	parts := int32(0)
	for i := range p.parts {
		root := linked.rootOf(int32(i))
		if number[root] == 0 {
			parts++
			number[root] = parts
		}
		p.parts[i] = number[root] - 1
	}

	next := make([][]int32, parts)
	p.eachLoad(func(plus, minus int32) {
		next[p.parts[plus]] = append(next[p.parts[plus]], p.parts[minus])
	})
	component := components(next)
	p.home = make([]int32, parts)
	byComponent := make(map[int32]int32)
	for _, s := range p.c.Sources {
		c := component[p.parts[s.Plus]]
		if _, ok := byComponent[c]; !ok {
			byComponent[c] = int32(len(p.islands))
			p.islands = append(p.islands, island{})
		}
		is := &p.islands[byComponent[c]]
		if is.volts = max(is.volts, s.Volts); is.volts == 0 {
			is.volts = 1 // any, for the secant
		}
	}
	for part := range p.home {
		p.home[part] = -1
		if i, ok := byComponent[component[part]]; ok {
			p.home[part] = i
		}
	}
}

// eachLoad visits a point on the plus and on the minus side of each sink and each tapped strip.
func (p *planner) eachLoad(visit func(plus, minus int32)) {
	for _, s := range p.c.Sinks {
		visit(int32(s.Plus), int32(s.Minus))
	}
	for _, ks := range p.knots {
		if len(ks) > 0 {
			visit(ks[0].plus, ks[0].minus)
		}
	}
}
