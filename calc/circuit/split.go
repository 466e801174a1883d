package circuit

import "slices"

// Split is a circuit cut into parts that can be solved and bounded alone.
//
// The graph of all two-terminal elements (wires, strips, sinks), with what ideal sources hold at fixed
// voltages drawn together to one vertex, is cut at its articulation points: no current passes through
// one from a part to another, as what enters must come back, and where the two sides of a source meet
// in a vertex its voltage stands whatever is drawn. So the currents and the voltages between the nodes of
// a part depend on that part alone. What a source delivers is the sum over the parts that it is in.
type Split struct {
	Parts   []Part
	Sources [][]Place // where each source of the whole is
	Wires   []Place   // where each wire is, and so on
	Sinks   []Place
	Strips  []Place

	whole  *Circuit
	home   []int32   // of each node: the island of the whole that it shares currents with, -1 for none
	vertex []int32   // of each node
	rise   []float64 // of each node above its vertex, V
	hangs  []hanging // of each vertex
	order  []int32   // of each vertex: it rises away from the root of the tree of parts and articulation points
}

// Place is where an element of the whole is: its part and its index in the part's circuit.
type Place struct{ Part, Index int }

// Part is a part of a circuit.
type Part struct {
	Circuit *Circuit // with nodes of its own, numbered by its elements alone
	Live    bool     // a source drives it; else no current flows in it
	Sources []int    // of each source of Circuit: its index in the whole, and so on
	Wires   []int
	Sinks   []int
	Strips  []int

	top     int32   // the vertex that leads towards the root
	topNode int32   // a node of Circuit there
	topRise float64 // of that node above the vertex, V
}

// hanging is the part that leads from a vertex towards the root.
type hanging struct {
	part int32
	node int32   // a node of its circuit at the vertex
	rise float64 // of that node above the vertex, V
}

// Without returns the circuit of a part with one wire taken out, as when a connection comes loose.
func (p *Part) Without(wire int) *Circuit {
	c := *p.Circuit
	c.Wires = slices.Delete(slices.Clone(c.Wires), wire, wire+1)
	return &c
}

// Split cuts the circuit. Errors are those of Prepare for the whole.
func (c *Circuit) Split() (*Split, error) { return c.SplitFrom(nil) }

// SplitFrom is Split with the split of a circuit much like this one, or nil: where both have one shape, its
// cuts are kept, and the parts in which no value differs are shared.
func (c *Circuit) SplitFrom(former *Split) (*Split, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	if former != nil && former.whole.shaped(c) {
		return former.with(c), nil
	}
	p := &planner{Network: &Network{c: c}, shorts: newForest(c.Nodes)}
	p.tap()
	if err := p.stiffen(); err != nil {
		return nil, err
	}
	p.separate()
	s := newSplitter(p)
	s.cut()
	return s.Split, nil
}

// Between returns how far node a of the whole lies above node b, V, as Solution.Between does. It asks
// for the solutions of the live parts on the way from a to b.
func (s *Split) Between(a, b int, solved func(part int) *Solution) (volts float64, ok bool) {
	if s.home[a] < 0 || s.home[a] != s.home[b] {
		return 0, false
	}
	volts = s.rise[a] - s.rise[b]
	for v, w := s.vertex[a], s.vertex[b]; v != w; {
		if s.order[v] > s.order[w] {
			volts += s.climb(&v, solved)
		} else {
			volts -= s.climb(&w, solved)
		}
	}
	return volts, true
}

// climb goes from a vertex to the next one towards the root, and returns how far it lies above that.
func (s *Split) climb(v *int32, solved func(part int) *Solution) (volts float64) {
	h := &s.hangs[*v]
	part := &s.Parts[h.part]
	volts = part.topRise - h.rise
	if part.Live {
		sol := solved(int(h.part))
		volts += sol.Volts[h.node] - sol.Volts[part.topNode]
	}
	*v = part.top
	return volts
}

// splitter cuts a circuit.
type splitter struct {
	*Split
	c       *Circuit
	class   []int32   // of each node: those of one class are tied together by taps
	above   []float64 // of each class above its vertex, V
	stiff   []int32   // of each class: its vertex
	sources [][]int32 // of each vertex
	node    []int32   // of each class: its node in the part at hand
	made    []int32   // of each class: the part at hand that numbered it
	used    []int32   // classes of the part at hand, by node
}

func newSplitter(p *planner) *splitter {
	points := len(p.shorts.up)
	s := &splitter{c: p.c, Split: &Split{
		whole:   p.c,
		Sources: make([][]Place, len(p.c.Sources)),
		Wires:   make([]Place, len(p.c.Wires)),
		Sinks:   make([]Place, len(p.c.Sinks)),
		Strips:  make([]Place, len(p.c.Strips)),
		home:    make([]int32, p.c.Nodes),
		vertex:  make([]int32, p.c.Nodes),
		rise:    make([]float64, p.c.Nodes),
	}}
	number := func(root int32, numbers []int32, next *int32) int32 {
		if numbers[root] == 0 {
			*next++
			numbers[root] = *next
		}
		return numbers[root] - 1
	}
	classes, vertices := make([]int32, points), make([]int32, points)
	var nextClass, nextVertex int32
	s.class = make([]int32, p.c.Nodes)
	for i := range p.c.Nodes {
		s.home[i] = p.home[p.parts[i]]
		root, rise := p.stiff.root(int32(i))
		s.vertex[i], s.rise[i] = number(root, vertices, &nextVertex), rise
		s.class[i] = number(p.shorts.rootOf(int32(i)), classes, &nextClass)
		if int(s.class[i]) == len(s.stiff) {
			s.stiff, s.above = append(s.stiff, s.vertex[i]), append(s.above, rise)
		}
	}
	s.hangs = make([]hanging, nextVertex)
	s.sources = make([][]int32, nextVertex)
	for i := range p.c.Sources {
		v := s.vertex[p.c.Sources[i].Plus]
		s.sources[v] = append(s.sources[v], int32(i))
	}
	s.node, s.made = make([]int32, nextClass), make([]int32, nextClass)
	return s
}

// cut makes the parts. Elements count through: wires, then sinks, then strips.
func (s *splitter) cut() {
	c := s.c
	var edges [][2]int32
	var element []int32
	add := func(e, a, b int32) {
		edges, element = append(edges, [2]int32{a, b}), append(element, e)
	}
	for i := range c.Wires {
		add(int32(i), s.vertex[c.Wires[i].A], s.vertex[c.Wires[i].B])
	}
	for i := range c.Sinks {
		add(int32(len(c.Wires)+i), s.vertex[c.Sinks[i].Plus], s.vertex[c.Sinks[i].Minus])
	}
	var ends []int32
	for i := range c.Strips {
		ends = ends[:0]
		for _, t := range c.Strips[i].Taps {
			for _, n := range [2]int{t.Plus, t.Minus} {
				if n >= 0 {
					ends = append(ends, s.vertex[n])
				}
			}
		}
		slices.Sort(ends)
		ends = slices.Compact(ends)
		e := int32(len(c.Wires) + len(c.Sinks) + i)
		switch len(ends) {
		case 0, 1: // a part of its own
			v := int32(0)
			if len(ends) == 1 {
				v = ends[0]
			}
			add(e, v, v)
		case 2:
			add(e, ends[0], ends[1])
		default: // around all its ends, which no articulation point takes apart
			for k := range ends {
				add(e, ends[k], ends[(k+1)%len(ends)])
			}
		}
	}
	var elements []int32
	s.order = blocks(len(s.hangs), edges, func(top int32, block []int32) {
		elements = elements[:0]
		for _, e := range block {
			elements = append(elements, element[e])
		}
		slices.Sort(elements)
		s.part(top, slices.Compact(elements))
	})
}

// part makes a part of some elements.
func (s *splitter) part(top int32, elements []int32) {
	c, k := s.c, len(s.Parts)
	p := Part{Circuit: &Circuit{}, top: top}
	s.used = s.used[:0]
	node := func(n int) int { return s.number(&p, k, s.class[n]) }
	for _, e := range elements {
		switch i := int(e); {
		case i < len(c.Wires):
			w := c.Wires[i]
			s.Wires[i] = Place{k, len(p.Wires)}
			p.Wires = append(p.Wires, i)
			p.Circuit.Wires = append(p.Circuit.Wires, Wire{node(w.A), node(w.B), w.Ohms, w.Heat, w.Most})
		case i < len(c.Wires)+len(c.Sinks):
			i -= len(c.Wires)
			d := c.Sinks[i]
			s.Sinks[i] = Place{k, len(p.Sinks)}
			p.Sinks = append(p.Sinks, i)
			p.Circuit.Sinks = append(p.Circuit.Sinks, Sink{node(d.Plus), node(d.Minus), d.Amps, d.Knee})
		default:
			i -= len(c.Wires) + len(c.Sinks)
			st := c.Strips[i]
			s.Strips[i] = Place{k, len(p.Strips)}
			p.Strips = append(p.Strips, i)
			st.Taps = slices.Clone(st.Taps)
			for j := range st.Taps {
				t := &st.Taps[j]
				if t.Plus >= 0 {
					t.Plus = node(t.Plus)
				}
				if t.Minus >= 0 {
					t.Minus = node(t.Minus)
				}
			}
			p.Circuit.Strips = append(p.Circuit.Strips, st)
		}
	}
	s.drive(&p, k)
	p.Live = len(p.Sources) > 0
	s.Parts = append(s.Parts, p)
}

// number returns the node of a class in the circuit of part k.
func (s *splitter) number(p *Part, k int, class int32) int {
	if s.made[class] != int32(k+1) {
		s.made[class], s.node[class] = int32(k+1), int32(p.Circuit.Nodes)
		p.Circuit.Nodes++
		s.used = append(s.used, class)
		if v := s.stiff[class]; v == p.top {
			p.topNode, p.topRise = s.node[class], s.above[class]
		} else {
			s.hangs[v] = hanging{int32(k), s.node[class], s.above[class]}
		}
	}
	return int(s.node[class])
}

// drive gives part k the sources that hold a voltage between two of its nodes.
func (s *splitter) drive(p *Part, k int) {
	touched := make(map[int32]int) // of each vertex with sources: nodes of the part there
	for _, class := range s.used {
		if v := s.stiff[class]; len(s.sources[v]) > 0 {
			touched[v]++
		}
	}
	var all []int32
	for v, n := range touched {
		if n > 1 {
			all = append(all, s.between(s.sources[v], k)...)
		}
	}
	slices.Sort(all)
	for _, i := range all {
		src := s.c.Sources[i]
		plus, minus := s.number(p, k, s.class[src.Plus]), s.number(p, k, s.class[src.Minus])
		s.Sources[i] = append(s.Sources[i], Place{k, len(p.Sources)})
		p.Sources = append(p.Sources, int(i))
		p.Circuit.Sources = append(p.Circuit.Sources, Source{plus, minus, src.Volts})
	}
}

// between leaves out, again and again, sources with an end where nothing else of part k is.
func (s *splitter) between(sources []int32, k int) []int32 {
	kept := slices.Clone(sources)
	for {
		at := make(map[int32]int, 2*len(kept))
		for _, i := range kept {
			at[s.class[s.c.Sources[i].Plus]]++
			at[s.class[s.c.Sources[i].Minus]]++
		}
		loose := func(n int) bool { return at[s.class[n]] == 1 && s.made[s.class[n]] != int32(k+1) }
		before := len(kept)
		kept = slices.DeleteFunc(kept, func(i int32) bool {
			return loose(s.c.Sources[i].Plus) || loose(s.c.Sources[i].Minus)
		})
		if len(kept) == before {
			return kept
		}
	}
}
