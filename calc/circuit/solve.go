package circuit

import (
	"fmt"
	"math"
	"slices"
)

// Solve finds all voltages and currents of c. It returns an *InputError for a value out
// of range, a *ConflictError for ideal sources that contradict each other, and a
// *NotConvergedError where no solution to 1e-9 V was reached.
func Solve(c *Circuit) (*Solution, error) {
	n, err := Prepare(c)
	if err != nil {
		return nil, err
	}
	return n.Solve(nil)
}

// Solve solves one drive case; nil is the one that the circuit came with. Errors are those of
// the function Solve.
func (n *Network) Solve(d Drive) (*Solution, error) { return n.SolveFrom(d, nil) }

// SolveFrom is as Solve, and starts from a solution of a network of the same shape: other values of
// sources, wires and strips, another drive. The result is the same to 1e-9 V; where pixels starve it is
// reached in fewer steps. A start of another shape is of no use, and does no harm.
func (n *Network) SolveFrom(d Drive, start *Solution) (*Solution, error) {
	return n.solveFrom(d, start, onlyRounding, 0)
}

// solveFrom is SolveFrom, where a step that is no greater than last, V, is the last one, or behind one that was taken
// nearly whole than that share of what was taken of the first.
func (n *Network) solveFrom(d Drive, start *Solution, last, share float64) (*Solution, error) {
	loads, err := n.driven(d)
	if err != nil {
		return nil, err
	}
	if start != nil && len(start.states) != len(n.islands) {
		start = nil
	}
	states := make([]state, len(n.islands))
	room := rooms.Get().(*room)
	defer room.back()
	iterations := 0
	for i := range n.islands {
		s := &solver{Network: n, island: &n.islands[i], loads: loads, last: last, share: share, room: room}
		var from *state
		if start != nil {
			from = &start.states[i]
		}
		if err := s.iterate(from); err != nil {
			return nil, err
		}
		iterations = max(iterations, s.iterations)
		states[i] = s.state
	}
	sol := n.solution(loads, states)
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
	loads := slices.Clone(n.loads)
	for i := range d {
		s := &n.c.Strips[i]
		if i > 0 && s.Law == n.c.Strips[i-1].Law && alike(d[i], d[i-1]) {
			loads[i] = loads[i-1]
			continue
		}
		if err := checkDrive(s, d[i], func() string { return fmt.Sprintf("Drive[%d]", i) }); err != nil {
			return nil, err
		}
		loads[i] = newLoad(s.Law, d[i])
	}
	return loads, nil
}

// alike reports whether two strips are lit the same, all pixels alike.
func alike(a, b StripDrive) bool {
	return a.Each == nil && b.Each == nil && (a.Share == nil) == (b.Share == nil) && slices.Equal(a.Share, b.Share)
}

const (
	onlyRounding  = 1e-11 // V, a step that is all rounding
	promised      = 1e-9  // V
	nearlyWhole   = 0.9   // of a step; where a kink of some load let less be taken the next may be as far off as it is long
	maxIterations = 300
)

// state is where an island stands: the potentials of its unknowns, and the voltages of pixels.
type state struct {
	x []float64   // V; one more than unknowns: the reference, always 0
	u [][]float64 // V, of the pixels of each segment; nil where they follow from those of its ends
}

// solver runs Newton's method on one island. The unknowns are the potentials x of the mesh and the
// voltages of the pixels in ladders; segments without a ladder are saturated, and their pixels follow from
// the ends (see profile). It minimises the co-content, which is convex; its fall along a
// step at any point is the imbalance of the currents there times the step, and needs no
// integral.
type solver struct {
	*Network
	*island
	state
	reduced    // sums over all segments since the last assemble
	loads      []load
	ladders    []*ladder // of each segment, or nil
	mesh       *factored
	places     *coupled
	room       *room
	step       []float64
	try, f     []float64
	anchor     float64
	last       float64 // V, a step that ends it
	share      float64 // of what was taken of the first step, likewise behind one that was taken nearly whole
	iterations int
}

// iterate starts with all loads at their full current, which is the end of it in a sound installation. Where
// some load gets less, it starts again with all loads as resistors, which keeps the voltages between 0
// and those of the sources, or from where it is told to.
func (s *solver) iterate(from *state) error {
	s.iterations = 1
	warm := from != nil && s.fits(from)
	if len(s.anchors) == 0 && !(warm && from.u != nil) {
		var settled bool
		if s.x, settled = s.full(s.room, s.island, s.loads); settled && s.sound() {
			return nil
		}
	}
	s.begin()
	if warm {
		s.resume(from)
	} else {
		s.resistors()
	}
	s.assemble(0)
	enough := promised
	if len(s.anchors) > 0 {
		enough *= 10 // such a part may float; its loads pass the same current anywhere near
	}
	t, last, first := 0.0, math.Inf(1), 0.0
	for s.iterations = 2; s.iterations < maxIterations; s.iterations++ {
		step, power := s.move(t)
		if step <= s.last || step <= enough && step >= last/2 || t >= nearlyWhole && step <= s.share*first {
			s.take()
			return nil
		}
		if s.anchor = anchorSiemens; step < 1e-6 {
			s.anchor *= 10 // hold it against rounding
		}
		t = s.search(step, power)
		if s.iterations == 2 {
			first = t * step
		}
		last = step
	}
	return &NotConvergedError{Residual: s.worst, Step: last, Iterations: s.iterations}
}

// sound reports whether every load draws its full current at the potentials x.
func (s *solver) sound() bool {
	for i := range s.drains {
		d := &s.drains[i]
		if s.x[d.plus]-s.x[d.minus]+d.rise < s.drained(d, s.loads).top {
			return false
		}
	}
	for i := range s.segments {
		g := &s.segments[i]
		ld := &s.loads[g.strip]
		if ld.each == nil {
			if !s.saturated(g, ld, s.x) {
				return false
			}
		} else if g.n > 0 && g.walk(ld, g.a.over(s.x), g.b.over(s.x), make([]float64, g.n)) < ld.top {
			return false
		}
	}
	return true
}

// saturated reports whether like pixels of a segment all draw their full current, by the potentials of
// its ends.
func (s *solver) saturated(g *segment, ld *load, x []float64) bool {
	if g.n == 0 {
		return true
	}
	p := g.profile(ld.total, g.a.over(x), g.b.over(x))
	return p.at(p.lowest()) >= ld.top
}

// begin makes the room that steps need.
func (s *solver) begin() {
	row := func() []float64 { return s.room.row(s.unknowns + 1) }
	s.places = s.island.form.coupled()
	s.mesh = s.room.newFactored(s.places.mesh)
	s.ladders = make([]*ladder, len(s.segments))
	s.x, s.step, s.try, s.f = make([]float64, s.unknowns+1), row(), row(), row()
	s.anchor = anchorSiemens
}

// fits reports whether a state is one of this island's shape.
func (s *solver) fits(from *state) bool {
	return len(from.x) == s.unknowns+1 && (from.u == nil || len(from.u) == len(s.segments))
}

// resume starts from another state.
func (s *solver) resume(from *state) {
	copy(s.x, from.x)
	for i, u := range from.u {
		if g := &s.segments[i]; u != nil && len(u) == g.n && slices.Min(u) < s.loads[g.strip].top {
			s.ladders[i] = s.room.newLadder(g.n)
			copy(s.ladders[i].u, u)
		}
	}
}

// resistors starts with each load as a resistor that draws at the highest source's voltage what the
// load would; the pixels of a segment count at its ends.
func (s *solver) resistors() {
	clear(s.mesh.vals)
	clear(s.f)
	s.hold()
	for i := range s.branches {
		b := &s.branches[i]
		s.mesh.vals[s.places.branches[i]] += b.siemens
		s.flow(b.a, b.b, b.siemens*b.rise)
	}
	for i := range s.drains {
		d := &s.drains[i]
		amps, _ := s.drained(d, s.loads).at(d.k, s.volts)
		s.mesh.vals[s.places.drains[i]] += amps / s.volts
		s.flow(d.plus, d.minus, amps/s.volts*d.rise)
	}
	for i := range s.segments {
		g := &s.segments[i]
		byA, byB := g.drawn(&s.loads[g.strip], s.volts)
		byA, byB = byA/s.volts, byB/s.volts
		loop := g.through * (g.a.differ - g.b.differ)
		s.ends(i, g.through*(g.a.sum-g.b.sum), reduced{
			atA: g.through + byA, atB: g.through + byB, across: g.through,
			ja: loop + byA*g.a.differ, jb: -loop + byB*g.b.differ,
		})
	}
	s.mesh.factor()
	copy(s.x, s.f)
	s.mesh.solve(s.x)
}

// search puts the network together at a good share of the step, and returns the share: the whole of
// it unless the co-content rises again before, else one where it falls no more than a quarter as
// fast as at the beginning, which is power.
func (s *solver) search(step, power float64) (t float64) {
	s.assemble(1)
	if s.descent >= -1e-9*power || step <= promised {
		return 1
	}
	low, high := 0.0, 1.0
	atLow, atHigh := power, s.descent
	for range 60 {
		t = low + (high-low)*atLow/(atLow-atHigh)
		s.assemble(t)
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
func (s *solver) assemble(t float64) {
	clear(s.mesh.vals)
	clear(s.f)
	s.reduced = reduced{}
	for i := range s.try {
		s.try[i] = s.x[i] + t*s.step[i]
	}
	s.hold()
	for i := range s.branches {
		b := &s.branches[i]
		amps, slope := b.flow(s.try[b.a] - s.try[b.b] + b.rise)
		s.mesh.vals[s.places.branches[i]] += slope
		s.flow(b.a, b.b, amps)
	}
	for i := range s.drains {
		d := &s.drains[i]
		amps, slope := s.drained(d, s.loads).at(d.k, s.try[d.plus]-s.try[d.minus]+d.rise)
		s.mesh.vals[s.places.drains[i]] += slope
		s.flow(d.plus, d.minus, amps)
	}
	for i := range s.segments {
		g := &s.segments[i]
		r := s.reduceSegment(i, t)
		s.descent += r.descent
		s.power += r.power
		s.worst = max(s.worst, r.worst)
		s.ends(i, g.through*(g.a.total(s.try)-g.b.total(s.try)), r)
	}
}

// reduceSegment returns what the ends of a segment see of it at t of the last step. A saturated segment
// that would leave some pixel without its full current gets a ladder.
func (s *solver) reduceSegment(i int, t float64) reduced {
	g := &s.segments[i]
	ld := &s.loads[g.strip]
	ua, ub := g.a.over(s.try), g.b.over(s.try)
	if s.ladders[i] == nil {
		if g.n == 0 || ld.each == nil && s.saturated(g, ld, s.try) {
			p := g.profile(ld.total, ua, ub)
			return reduced{atA: g.through, atB: g.through, across: g.through, ja: p.ja, jb: p.jb}
		}
		s.ladders[i] = s.newLadder(g, ld)
	}
	return s.ladders[i].reduce(g, ld, t, ua, ub)
}

// newLadder returns the ladder of a segment that had none, before the last step is taken.
func (s *solver) newLadder(g *segment, ld *load) *ladder {
	ua, ub := g.a.over(s.x), g.b.over(s.x)
	l := s.room.newLadder(g.n)
	if g.walk(ld, ua, ub, l.u) < ld.top-promised {
		l = g.secant(s.room, ld, s.volts, ua, ub)
	}
	da, db := s.step[g.a.plus]-s.step[g.a.minus], s.step[g.b.plus]-s.step[g.b.minus]
	for j := range l.step {
		w := g.share(j)
		l.step[j] = (1-w)*da + w*db
	}
	return l
}

// ends books a segment at its ends; both is the current that flows on in both rails alike.
func (s *solver) ends(i int, both float64, r reduced) {
	g := &s.segments[i]
	s.flow(g.a.plus, g.b.plus, both)
	s.flow(g.a.minus, g.b.minus, both)
	s.flow(g.a.plus, g.a.minus, r.ja)
	s.flow(g.b.plus, g.b.minus, r.jb)
	s.f[g.a.plus] += r.fa
	s.f[g.a.minus] -= r.fa
	s.f[g.b.plus] += r.fb
	s.f[g.b.minus] -= r.fb

	vals, at := s.mesh.vals, &s.places.segments[i]
	vals[at[0]] += g.through + r.across
	vals[at[1]] += g.through + r.across
	vals[at[2]] += max(g.through-r.across, 0)
	vals[at[3]] += max(g.through-r.across, 0)
	vals[at[4]] += max(r.atA-g.through, 0)
	vals[at[5]] += max(r.atB-g.through, 0)
}

// hold ties parts that loads alone link to where they are.
func (s *solver) hold() {
	for _, unknown := range s.anchors {
		s.mesh.vals[unknown] += s.anchor
	}
}

// flow books a current from one unknown to another.
func (s *solver) flow(from, to int32, amps float64) {
	s.f[from] -= amps
	s.f[to] += amps
	s.descent -= amps * (s.step[from] - s.step[to])
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
	for i, l := range s.ladders {
		if l != nil {
			g := &s.segments[i]
			greatest = max(greatest, l.advance(t, s.step[g.a.plus]-s.step[g.a.minus], s.step[g.b.plus]-s.step[g.b.minus]))
		}
	}
	return greatest, power
}

// take takes the last step whole.
func (s *solver) take() {
	for i := range s.x {
		s.x[i] += s.step[i]
	}
	s.u = make([][]float64, len(s.segments))
	for i, l := range s.ladders {
		if l != nil {
			l.take()
			s.u[i] = l.u
		}
	}
}
