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
	circle := circles(next)
	p.home = make([]int32, parts)
	byCircle := make(map[int32]int32)
	for _, s := range p.c.Sources {
		c := circle[p.parts[s.Plus]]
		if _, ok := byCircle[c]; !ok {
			byCircle[c] = int32(len(p.islands))
			p.islands = append(p.islands, island{})
		}
		is := &p.islands[byCircle[c]]
		if is.volts = max(is.volts, s.Volts); is.volts == 0 {
			is.volts = 1 // any, for the secant
		}
	}
	for part := range p.home {
		p.home[part] = -1
		if i, ok := byCircle[circle[part]]; ok {
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

// circles numbers the strongly connected components of a directed graph (R. Tarjan, "Depth-first
// search and linear graph algorithms", SIAM Journal on Computing 1, 1972; from memory).
func circles(next [][]int32) (of []int32) {
	of = make([]int32, len(next))
	seen := make([]int32, len(next)) // 1 and up in the order of the search
	var stack []int32
	count, found := int32(0), int32(0)
	var search func(v int32) int32
	search = func(v int32) int32 {
		count++
		seen[v] = count
		low := count
		stack = append(stack, v)
		for _, w := range next[v] {
			switch {
			case seen[w] == 0:
				low = min(low, search(w))
			case of[w] == 0:
				low = min(low, seen[w])
			}
		}
		if low == seen[v] {
			found++
			for {
				w := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				of[w] = found
				if w == v {
					break
				}
			}
		}
		return low
	}
	for v := range next {
		if seen[v] == 0 {
			search(int32(v))
		}
	}
	return of
}

// place numbers the unknowns. The minus of the first source of an island has the potential 0.
func (p *planner) place() {
	p.spots = make([]spot, len(p.parts))
	unknown := make([]int32, len(p.parts)) // of each root; -1 for none yet
	for i := range unknown {
		unknown[i] = -1
	}
	type reference struct {
		root int32
		rise float64
		part int32
	}
	refs := make([]reference, len(p.islands))
	have := make([]bool, len(p.islands))
	for _, s := range p.c.Sources {
		part := p.parts[s.Minus]
		if i := p.home[part]; !have[i] {
			root, rise := p.stiff.root(int32(s.Minus))
			refs[i], have[i] = reference{root, rise, part}, true
		}
	}
	anchored := make([]bool, len(p.home))
	for i := range p.spots {
		part := p.parts[i]
		root, rise := p.stiff.root(int32(i))
		sp := spot{island: p.home[part], part: part, rise: rise}
		if sp.island >= 0 {
			is, ref := &p.islands[sp.island], refs[sp.island]
			switch {
			case root == ref.root:
				sp.unknown = -1 // until the count is known
				sp.rise -= ref.rise
			case unknown[root] < 0:
				unknown[root] = int32(is.unknowns)
				is.unknowns++
				if part != ref.part && !anchored[part] {
					anchored[part] = true
					is.anchors = append(is.anchors, unknown[root])
				}
				fallthrough
			default:
				sp.unknown = unknown[root]
			}
		}
		p.spots[i] = sp
	}
	for i := range p.spots {
		if sp := &p.spots[i]; sp.island >= 0 && sp.unknown < 0 {
			sp.unknown = int32(p.islands[sp.island].unknowns)
		}
	}
}

// connect gives the islands their elements.
func (p *planner) connect() {
	for i, w := range p.c.Wires {
		p.branch(branch{wire: i, aPoint: int32(w.A), bPoint: int32(w.B), siemens: 1 / w.Ohms})
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

func (p *planner) branch(b branch) {
	from, to := p.spots[b.aPoint], p.spots[b.bPoint]
	if from.island < 0 {
		return
	}
	b.a, b.b, b.rise = from.unknown, to.unknown, from.rise-to.rise
	is := &p.islands[from.island]
	is.branches = append(is.branches, b)
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
			rail := branch{wire: -1, strip: i, at: from.at, siemens: 1 / (s.Rail * (to.at - from.at))}
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
	loop := func(metres float64) float64 { return 1 / (2 * s.Rail * metres) }
	cut := func(e end, to float64, stop int) {
		seg := segment{strip: i, first: next, n: stop - next, a: last, b: e, g: loop(s.Pitch), from: from, to: to}
		if !last.loose() && seg.n > 0 {
			seg.ga = loop((float64(next)+0.5)*s.Pitch - from)
		}
		if !e.loose() && seg.n > 0 {
			seg.gb = loop(to - (float64(stop)-0.5)*s.Pitch)
		}
		if !last.loose() && !e.loose() {
			seg.through = loop(to - from)
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

// build orders the unknowns and finds the slot of each conductance.
func (is *island) build() {
	var edges [][2]int32
	for i := range is.branches {
		b := &is.branches[i]
		edges = append(edges, [2]int32{b.a, b.b})
	}
	for i := range is.drains {
		d := &is.drains[i]
		edges = append(edges, [2]int32{d.plus, d.minus})
	}
	for i := range is.segments {
		a, b := &is.segments[i].a, &is.segments[i].b
		edges = append(edges,
			[2]int32{a.plus, b.plus}, [2]int32{a.minus, b.minus}, [2]int32{a.plus, b.minus}, [2]int32{a.minus, b.plus},
			[2]int32{a.plus, a.minus}, [2]int32{b.plus, b.minus})
	}
	m := newMesh(is.unknowns, edges)
	is.mesh = m
	for i := range is.branches {
		b := &is.branches[i]
		b.slot = m.slot(b.a, b.b)
	}
	for i := range is.drains {
		d := &is.drains[i]
		d.slot = m.slot(d.plus, d.minus)
	}
	for i := range is.segments {
		s := &is.segments[i]
		s.plusPlus = m.slot(s.a.plus, s.b.plus)
		s.minusMinus = m.slot(s.a.minus, s.b.minus)
		s.plusMinus = m.slot(s.a.plus, s.b.minus)
		s.minusPlus = m.slot(s.a.minus, s.b.plus)
		s.atA = m.slot(s.a.plus, s.a.minus)
		s.atB = m.slot(s.b.plus, s.b.minus)
	}
}

// hang finds what the parts without power follow: starting from those with power, each gives its
// potential to the parts that loads link to it.
func (p *planner) hang() {
	links := make([][][2]int32, len(p.home)) // of each part: a point of its own and one of the other part
	p.eachLoad(func(plus, minus int32) {
		a, b := p.parts[plus], p.parts[minus]
		if a != b {
			links[a] = append(links[a], [2]int32{plus, minus})
			links[b] = append(links[b], [2]int32{minus, plus})
		}
	})
	reached := make([]bool, len(p.home))
	var queue []int32
	for part, i := range p.home {
		if i >= 0 {
			reached[part] = true
			queue = append(queue, int32(part))
		}
	}
	for len(queue) > 0 {
		part := queue[0]
		queue = queue[1:]
		for _, l := range links[part] {
			if other := p.parts[l[1]]; !reached[other] {
				reached[other] = true
				queue = append(queue, other)
				p.follow = append(p.follow, follower{part: other, point: l[0]})
			}
		}
	}
}
