package circuit

import (
	"slices"
	"sync"
)

// Perturbed is the solution of c, which differs little from the network's own circuit: it has its shape, and other ohms and
// heat of wires, rails and laws of strips, volts of sources. base is the network's solution in the drive d.
//
// While all loads draw their full current, before and after, it is where one step of Newton's method leads from base, and
// where wires warm up further ones with the slopes of the first; what is left is less than 1e-6 V, of the last step. Else it is
// found as by SolveFrom, up to a step that is a fiftieth of the first: what is left is mostly less than a thousandth of what
// moves, and up to a fiftieth where the law of pixels is nearly a step. Errors are those of Solve.
func (n *Network) Perturbed(c *Circuit, d Drive, base *Solution) (*Solution, error) {
	m, rise := n.revalued(c)
	if m == nil {
		var err error
		if m, err = Prepare(c); err != nil {
			return nil, err
		}
		return m.solveFrom(d, base, perturbed, fiftieth)
	}
	loads, err := m.driven(d)
	if err != nil {
		return nil, err
	}
	states := make([]state, len(m.islands))
	room := rooms.Get().(*room)
	defer room.back()
	for i := range m.islands {
		s := &solver{Network: m, island: &m.islands[i], loads: loads, room: room}
		if len(base.states) != len(m.islands) || !s.once(&base.states[i], rise) {
			return m.solveFrom(d, base, perturbed, fiftieth)
		}
		states[i] = s.state
	}
	sol := m.solution(loads, states)
	sol.Iterations = 1
	return sol, nil
}

// once takes such steps from a state in which all loads draw their full current, whose potentials rise with the lone source. It is false where that is none, or they
// lead out of it.
func (s *solver) once(from *state, rise float64) bool {
	if len(s.anchors) > 0 || from.u != nil || !s.fits(from) {
		return false
	}
	s.begin()
	for i, x := range from.x {
		s.x[i] = x * rise
	}
	if !s.sound() {
		return false
	}
	s.assemble(0)
	s.mesh.factor()
	for range 10 {
		s.mesh.solve(s.f)
		greatest := 0.0
		for i, x := range s.f {
			s.x[i] += x
			greatest = max(greatest, x, -x)
		}
		if !s.island.warm || greatest <= perturbed {
			return s.sound()
		}
		s.assemble(0)
	}
	return false
}

// perturbed is the last step to a perturbation, V: no meter shows as little.
const perturbed = 1e-6

// fiftieth of the first step: one that is no greater is the last where pixels are starved, see solveFrom.
const fiftieth = 0.02

// revalued is the network with the values of a circuit of its shape; nil where several sources differ, as those say how far
// points rise above each other. All rise with a lone one.
func (n *Network) revalued(c *Circuit) (m *Network, rise float64) {
	rise = 1
	if !slices.Equal(c.Sources, n.c.Sources) {
		if len(c.Sources) != 1 || n.c.Sources[0].Volts == 0 {
			return nil, 0
		}
		rise = c.Sources[0].Volts / n.c.Sources[0].Volts
	}
	m = n.valued(c, rise)
	for i := range m.islands {
		is := &m.islands[i]
		is.copper = sync.OnceValue(is.newCopper)
	}
	return m, rise
}

// valued is the network with the values of a circuit of its shape, and with sources that rise so many times as high. What is
// worked out of them when it is asked for is that of before.
func (n *Network) valued(c *Circuit, rise float64) *Network {
	copied := *n
	m := &copied
	m.c = c
	m.loads = slices.Clone(n.loads)
	for i := range c.Strips {
		if s, was := &c.Strips[i], &n.c.Strips[i]; !s.Law.same(was.Law) || !s.driven(was) {
			m.loads[i] = newLoad(s.Law, StripDrive{s.Share, s.Each})
		}
	}
	for i, s := range c.Sinks {
		if s != n.c.Sinks[i] {
			m.loads[len(c.Strips)+i] = sinkLoad(s)
		}
	}
	m.spots, _ = renewed(n.spots, func(_ int, s *spot) (same bool) {
		s.rise *= rise
		return rise == 1
	})
	m.islands = slices.Clone(n.islands)
	for i := range m.islands {
		is := &m.islands[i]
		is.volts *= rise
		is.warm = false
		is.branches, _ = renewed(is.branches, func(_ int, b *branch) (same bool) {
			was := *b
			b.rise *= rise
			b.lay(c)
			is.warm = is.warm || b.heat > 0
			return *b == was
		})
		is.drains, _ = renewed(is.drains, func(_ int, d *drain) (same bool) {
			d.rise *= rise
			return rise == 1
		})
		is.segments, _ = renewed(is.segments, func(_ int, g *segment) (same bool) {
			was, now := n.c.Strips[g.strip].Rail, c.Strips[g.strip].Rail
			if was != now {
				g.lay(&c.Strips[g.strip])
			}
			for _, e := range []*end{&g.a, &g.b} {
				e.differ *= rise
				e.sum *= rise
			}
			return rise == 1 && was == now
		})
	}
	return m
}
