package circuit

import "math"

// Solve finds all voltages and currents of c. It returns an *InputError for a value out
// of range, a *ConflictError for ideal sources that contradict each other, and a
// *NotSettledError where no solution to 1e-9 V was reached.
func Solve(c *Circuit) (*Solution, error) {
	n, err := Prepare(c)
	if err != nil {
		return nil, err
	}
	return n.Solve(nil)
}

// Solve solves one drive case; nil is the one that the circuit came with. Errors are those of
// the function Solve.
func (n *Network) Solve(d Drive) (*Solution, error) {
	loads, err := n.driven(d)
	if err != nil {
		return nil, err
	}
	l := newLadders(n.pixels)
	iterations := 0
	potentials := make([][]float64, len(n.islands))
	for i := range n.islands {
		s := newSolver(n, &n.islands[i], loads, l)
		if err := s.settle(); err != nil {
			return nil, err
		}
		iterations = max(iterations, s.iterations)
		potentials[i] = s.x
	}
	sol := n.solution(byLaw, loads, l.u, potentials)
	sol.Iterations = iterations
	return sol, nil
}

func (n *Network) driven(d Drive) ([]load, error) {
	if d == nil {
		return n.loads, nil
	}
	if len(d) != len(n.c.Strips) {
		return nil, &InputError{"the length of the drive", float64(len(d)), "the number of strips"}
	}
	loads := make([]load, len(d))
	for i := range d {
		s := &n.c.Strips[i]
		if err := checkDrive(s, d[i], driveName(i)); err != nil {
			return nil, err
		}
		loads[i] = newLoad(s.Law, d[i])
	}
	return loads, nil
}

const (
	settled       = 1e-11 // V, a step that is all rounding
	promised      = 1e-9  // V
	maxIterations = 300
)

// solver runs Newton's method on one island. The unknowns are the potentials x of the mesh and the
// voltages u of the pixels. It minimises the co-content, which is convex; its fall along a
// step at any point is the imbalance of the currents there times the step, and needs no
// integral.
type solver struct {
	*Network
	*island
	*ladders
	reduced    // sums over all segments since the last assemble
	loads      []load
	mesh       *factored
	x, step    []float64 // one more than unknowns: the reference, always 0
	try, f     []float64
	anchor     float64
	iterations int
}

func newSolver(n *Network, is *island, loads []load, l *ladders) *solver {
	row := func() []float64 { return make([]float64, is.unknowns+1) }
	return &solver{
		Network: n, island: is, ladders: l, loads: loads, mesh: newFactored(is.mesh),
		x: row(), step: row(), try: row(), f: row(),
	}
}

// settle starts from ample voltage everywhere, which is the end of it in a sound installation. Where some
// pixel gets less, it starts again with all loads as resistors, which keeps the voltages between 0
// and those of the sources.
func (s *solver) settle() error {
	s.anchor = anchorSiemens
	in := ample
	if len(s.anchors) > 0 {
		in = secant
	}
	s.assemble(in, 0)
	s.move(0)
	s.assemble(byLaw, 1)
	if in == ample && s.short > 0 {
		s.assemble(secant, 0)
		s.move(0)
		s.assemble(byLaw, 1)
	}
	enough := promised
	if len(s.anchors) > 0 {
		enough *= 10 // such a part may float; its loads pass the same current anywhere near
	}
	t, last := 1.0, math.Inf(1)
	for s.iterations = 2; s.iterations < maxIterations; s.iterations++ {
		step, power := s.move(t)
		if step <= settled || step <= enough && step >= last/2 {
			s.take()
			return nil
		}
		if s.anchor = anchorSiemens; step < 1e-6 {
			s.anchor *= 10 // hold it against rounding
		}
		t = s.search(step, power)
		last = step
	}
	return &NotSettledError{Residual: s.worst, Step: last, Iterations: s.iterations}
}

// search puts the network together at a good share of the step, and returns the share: the whole of
// it unless the co-content rises again before, else one where it falls no more than a quarter as
// fast as at the beginning, which is power.
func (s *solver) search(step, power float64) (t float64) {
	s.assemble(byLaw, 1)
	if s.descent >= -1e-9*power || step <= promised {
		return 1
	}
	low, high := 0.0, 1.0
	atLow, atHigh := power, s.descent
	for range 60 {
		t = low + (high-low)*atLow/(atLow-atHigh)
		s.assemble(byLaw, t)
		switch {
		case s.descent > power/4:
			low, atLow = t, s.descent
			atHigh /= 2 // so that both sides close in
		case s.descent < 0:
			high, atHigh = t, s.descent
			atLow /= 2
		default:
			return t
		}
	}
	return t
}

// assemble puts together the balance of currents, and its slopes, at t of the last step.
func (s *solver) assemble(in stage, t float64) {
	clear(s.mesh.vals)
	clear(s.f)
	s.reduced = reduced{}
	for i := range s.try {
		s.try[i] = s.x[i] + t*s.step[i]
	}
	for _, slot := range s.anchors {
		s.mesh.vals[slot] += s.anchor
	}
	for i := range s.branches {
		b := &s.branches[i]
		amps := b.siemens * (s.try[b.a] - s.try[b.b] + b.rise)
		s.mesh.vals[b.slot] += b.siemens
		s.flow(b.a, b.b, amps)
	}
	for i := range s.drains {
		d := &s.drains[i]
		ld := s.drained(d)
		v := s.try[d.plus] - s.try[d.minus] + d.rise
		amps, slope := ld.draw(in, s.volts, d.k, v)
		if v < ld.top {
			s.short++
		}
		s.mesh.vals[d.slot] += slope
		s.flow(d.plus, d.minus, amps)
	}
	for i := range s.segments {
		g := &s.segments[i]
		r := s.ladders.reduce(g, s.base[g.strip]+g.first, &s.loads[g.strip], in, s.volts, t, g.a.over(s.try), g.b.over(s.try))
		s.short += r.short
		s.descent += r.descent
		s.power += r.power
		s.worst = max(s.worst, r.worst)

		both := g.through * (g.a.total(s.try) - g.b.total(s.try))
		s.flow(g.a.plus, g.b.plus, both)
		s.flow(g.a.minus, g.b.minus, both)
		s.flow(g.a.plus, g.a.minus, r.ja)
		s.flow(g.b.plus, g.b.minus, r.jb)
		s.f[g.a.plus] += r.fa
		s.f[g.a.minus] -= r.fa
		s.f[g.b.plus] += r.fb
		s.f[g.b.minus] -= r.fb

		vals := s.mesh.vals
		vals[g.plusPlus] += g.through + r.across
		vals[g.minusMinus] += g.through + r.across
		vals[g.plusMinus] += max(g.through-r.across, 0)
		vals[g.minusPlus] += max(g.through-r.across, 0)
		vals[g.atA] += max(r.atA-g.through, 0)
		vals[g.atB] += max(r.atB-g.through, 0)
	}
}

// flow books a current from one unknown to another.
func (s *solver) flow(from, to int32, amps float64) {
	s.f[from] -= amps
	s.f[to] += amps
	s.descent -= amps * (s.step[from] - s.step[to])
}

func (s *solver) drained(d *drain) *load {
	if d.strip < 0 {
		return &s.sinks[d.k]
	}
	return &s.loads[d.strip]
}

// move takes t of the last step and finds the next one. It returns the greatest change of a voltage in it
// and how fast the co-content falls at its beginning, in W.
func (s *solver) move(t float64) (greatest, power float64) {
	s.mesh.factor()
	for i := range s.x {
		s.x[i] += t * s.step[i]
	}
	copy(s.step, s.f)
	power = s.power + s.mesh.solve(s.step)
	for _, x := range s.step {
		greatest = max(greatest, math.Abs(x))
	}
	for i := range s.segments {
		g := &s.segments[i]
		da, db := s.step[g.a.plus]-s.step[g.a.minus], s.step[g.b.plus]-s.step[g.b.minus]
		greatest = max(greatest, s.advance(g, s.base[g.strip]+g.first, t, da, db))
	}
	return greatest, power
}

// take takes the last step whole.
func (s *solver) take() {
	for i := range s.x {
		s.x[i] += s.step[i]
	}
	for i := range s.segments {
		g := &s.segments[i]
		at := s.base[g.strip] + g.first
		for k := at; k < at+g.n; k++ {
			s.u[k] += s.ladders.step[k]
		}
	}
	for i := range s.drains {
		if d := &s.drains[i]; d.strip >= 0 {
			s.u[s.base[d.strip]+d.k] = s.x[d.plus] - s.x[d.minus] + d.rise
		}
	}
}
