package circuit

import (
	"math"
	"slices"
)

// Loosened is the greatest current in a conductor once one connection of its network has come loose.
type Loosened struct {
	Amps float64 // with no ceiling in the way; 0 where nothing that comes loose changes it
	Gone int     // the wire that has come loose then
	At   float64 // of a rail: where it flows, m from the start
	Held float64 // A, the greatest within the budgets
}

// Loose holds what flows in a network in which one connection has come loose.
type Loose struct {
	Wires []Loosened // of each wire that may come loose: once another one has
	Rails []Loosened // of each strip, in the rail where it is greatest
	Left  []Loosened // of each wire that is several conductors: in those left once one of them is loose
}

// Loose bounds what flows in conductors once one connection has come loose, over every pattern. returns are the wires that may come loose; wire w consists of side[w] conductors.
// A wire that is the only way for its current takes that along, so that only rings are of interest.
//
// Pixels are current sinks, as for Any. Of 1 A that enters where wire x begins and leaves where it ends, let
// P_y pass through conductor y. With a share s of the conductance of x gone, the others carry
//
//	I_y + P_y s I_x / (1 - s P_x)
//
// and x itself (1 - s) I_x / (1 - s P_x): one factored network serves all (J. Sherman, W. J. Morrison,
// "Adjustment of an inverse matrix corresponding to a change in one element of a given matrix", Annals of
// Mathematical Statistics 21, 1950; for power lines known as outage factors).
// What the warmth of wires adds is the spill of that network, as for Any: an ampere that a warm wire z pushes out sends through y
//
//	P_y(z) + s P_y(x) P_x(z) / (1 - s P_x(x))
//
// Errors are those of Any.
func (n *Network) Loose(returns, side []int, budgets []Budget) (*Loose, error) {
	d, err := newBounder(n.cold(), budgets)
	if err != nil {
		return nil, err
	}
	defer d.release()
	l := &looser{bounder: d, side: side, returns: make([]bool, len(n.c.Wires)), Loose: &Loose{
		Wires: make([]Loosened, len(n.c.Wires)),
		Rails: make([]Loosened, len(n.c.Strips)),
		Left:  make([]Loosened, len(n.c.Wires)),
	}}
	for _, w := range returns {
		l.returns[w] = true
	}
	for _, b := range budgets {
		l.held = l.held || !math.IsInf(b.Amps, 1)
	}
	for w := range n.c.Wires {
		if l.side[w] > 1 {
			if f := d.wire(w); f != nil {
				x := &flow{idle: d.idle.WireAmps[w]}
				x.keep(f)
				l.Left[w] = Loosened{Amps: x.amps, Gone: w, Held: l.within(f, x, x, 0)}
			}
		}
	}
	for i := range n.islands {
		l.island(int32(i))
	}
	return l.Loose, nil
}

// looser works a Loose out.
type looser struct {
	*bounder
	*Loose
	returns []bool // by wire
	side    []int  // by wire
	held    bool   // a budget holds something
}

// flow is a current in a ring of an island: of a wire, or at one end of a stretch of rail.
type flow struct {
	wire    int // -1 for a rail
	strip   int
	at      float64
	place   railPlace
	a, b    int32
	siemens float64
	idle    float64
	warm    *branch   // nil where nothing warms it
	factors []stretch // by group of the island
	amps    float64   // greatest while nothing is loose
	held    float64   // the same within the budgets
}

// island looks at each ring of copper, the terminals of a source taken as one.
func (l *looser) island(i int32) {
	is := &l.islands[i]
	warm := make([]*branch, len(is.branches))
	if r := l.fields[i].ringed; r != nil {
		for k, at := range r.at {
			warm[at] = &r.branches[k]
		}
	}
	edges := make([][2]int32, 0, len(is.branches)+2*len(is.segments))
	for j := range is.branches {
		edges = append(edges, [2]int32{is.branches[j].a, is.branches[j].b})
	}
	var rails []railPlace // of the edges behind those of the branches
	for j := range is.segments {
		if g := &is.segments[j]; g.through > 0 {
			edges = append(edges, [2]int32{g.a.plus, g.b.plus}, [2]int32{g.a.minus, g.b.minus})
			p := railPlace{island: i, segment: int32(j)}
			rails = append(rails, p)
			p.minus = true
			rails = append(rails, p)
		}
	}
	wires := len(is.branches)
	blocks(is.unknowns+1, edges, func(_ int32, ring []int32) {
		if len(ring) == 1 {
			return
		}
		loosens := func(e int32) bool {
			if int(e) >= wires {
				return false
			}
			w := is.branches[e].wire
			return w >= 0 && (l.returns[w] || l.side[w] > 1)
		}
		if !slices.ContainsFunc(ring, loosens) {
			return
		}
		var all []*flow
		for _, e := range ring {
			switch {
			case int(e) >= wires:
				p := rails[int(e)-wires]
				g := &is.segments[p.segment]
				for _, p.atB = range []bool{false, true} {
					x := &flow{wire: -1, strip: g.strip, at: g.from, place: p, a: edges[e][0], b: edges[e][1], siemens: 2 * g.through}
					if p.atB {
						x.at = g.to
					}
					all = append(all, x)
				}
			case is.branches[e].wire < 0 || loosens(e) || warm[e] != nil:
				b := &is.branches[e]
				all = append(all, &flow{wire: b.wire, strip: b.strip, at: b.at, a: b.a, b: b.b, siemens: b.siemens, warm: warm[e],
					place: railPlace{island: i, segment: -1, branch: e}})
			}
		}
		l.ring(&l.fields[i], all)
	})
}

// ring lets each connection of a ring come loose in turn. What a current may
// become at most is known before it is worked out, so that of a ring with
// hundreds of connections only those are worked out that may be the worst.
func (l *looser) ring(f *field, all []*flow) {
	moves := make([][]float64, len(all)) // of each wire: P of all
	for i, x := range all {
		if x.wire >= 0 {
			l.wire(x.wire)
			x.idle = l.idle.WireAmps[x.wire]
			moves[i] = make([]float64, len(all))
			for j, y := range all {
				moves[i][j] = -f.adjoint.between(y.a, y.b) * y.siemens * l.c.Wires[x.wire].Ohms
			}
		} else {
			x.idle = l.rail(x.place)
		}
		x.keep(f)
		x.held = l.within(f, x, x, 0)
	}
	warmth := l.warmth(all, moves)
	var gone []int // that may come loose altogether
	for i, x := range all {
		if x.wire < 0 {
			continue
		}
		own := moves[i][i]
		if s := 1 / float64(l.side[x.wire]); l.side[x.wire] > 1 {
			left, spill := &l.Left[x.wire], warmth(i, s)(i)
			left.Amps = left.Amps*(1-s)/(1-s*own) + spill
			left.Held = left.Held*(1-s)/(1-s*own) + spill
		}
		if l.returns[x.wire] && 1-own >= 1e-9 {
			gone = append(gone, i)
		}
	}
	spills := make([]func(int) float64, len(gone))
	for k, i := range gone {
		spills[k] = warmth(i, 1)
	}
	var some []loosening
	for j, y := range all {
		var to *Loosened
		switch {
		case y.wire < 0:
			to = &l.Rails[y.strip]
		case !l.returns[y.wire]:
			continue
		default:
			to = &l.Wires[y.wire]
		}
		some = some[:0]
		for k, i := range gone {
			if x, move := all[i], moves[i][j]/(1-moves[i][i]); i != j && move != 0 {
				spill := spills[k](j)
				some = append(some, loosening{x, move, spill, y.amps + math.Abs(move)*x.amps + spill, y.held + math.Abs(move)*x.held + spill})
			}
		}
		for _, o := range worstFirst(some, func(o *loosening) float64 { return o.mostAmps }) {
			const alike = 1 - 1e-9 // of two that are, the first in the text is told
			if o.mostAmps < to.Amps*alike {
				continue
			}
			if amps := y.with(o.x, o.move) + o.spill; amps > to.Amps || amps > to.Amps*alike && o.x.wire < to.Gone {
				to.Amps, to.Gone, to.At = max(amps, to.Amps), o.x.wire, y.at
			}
		}
		for _, o := range worstFirst(some, func(o *loosening) float64 { return o.mostHeld }) {
			if o.mostHeld > to.Held {
				to.Held = max(to.Held, l.within(f, y, o.x, o.move)+o.spill)
			}
		}
	}
}

// loosening is what may become of a current once x has come loose.
type loosening struct {
	x                  *flow
	move, spill        float64
	mostAmps, mostHeld float64 // it becomes no more
}

// worstFirst puts the one that may become the most before the others.
func worstFirst(some []loosening, most func(*loosening) float64) []loosening {
	for i := range some {
		if most(&some[i]) > most(&some[0]) {
			some[0], some[i] = some[i], some[0]
		}
	}
	return some
}

// mostExact is how many currents of a ring are reckoned with the warmth that
// each loosening leaves, which takes the cube of their number.
const mostExact = 100

// warmth says what the warmth of others adds to each current of a ring with a
// share of the conductance of one of them gone: of a large ring a bound that
// holds whichever is gone.
func (l *looser) warmth(all []*flow, moves [][]float64) func(gone int, share float64) func(int) float64 {
	if len(all) <= mostExact {
		return func(gone int, share float64) func(int) float64 {
			out := spills(all, moves, gone, share)
			return func(i int) float64 { return out[i] }
		}
	}
	steady := l.steadySpills(all, moves)
	return func(gone int, share float64) func(int) float64 {
		k := share / (1 - share*moves[gone][gone])
		return func(i int) float64 { return steady[i] + math.Abs(k*moves[gone][i])*steady[gone] }
	}
}

// steadySpills is what the warmth of others adds to each current of a ring,
// each as warm as it is after the loosening that is worst for it. Then the
// sum over the warm wires z of |P_y(z)| is the same whichever x is gone, and
// with it goes s |P_y(x)| / (1 - s P_x(x)) times the sum of x.
func (l *looser) steadySpills(all []*flow, moves [][]float64) []float64 {
	out, most := make([]float64, len(all)), make([]float64, len(all))
	for range 50 {
		moved := 0.0
		for j, y := range all {
			worst := y.amps + out[j]
			for i, x := range all {
				if x.wire < 0 {
					continue
				}
				own, share := moves[i][i], 0.0
				if l.side[x.wire] > 1 {
					share = 1 / float64(l.side[x.wire])
				}
				if l.returns[x.wire] && 1-own >= 1e-9 && i != j {
					share = 1
				}
				k := share / (1 - share*own)
				worst = max(worst, y.amps+out[j]+math.Abs(k*moves[i][j])*(x.amps+out[i]))
			}
			moved = max(moved, worst-most[j])
			most[j] = worst
		}
		if moved < 1e-9 {
			break
		}
		clear(out)
		for i, x := range all {
			if x.warm == nil {
				continue
			}
			amps := most[i] * x.warm.warms(most[i])
			for j := range all {
				if j != i {
					out[j] += amps * math.Abs(moves[i][j])
				}
			}
		}
	}
	return out
}

// spills is what the warmth of others adds to each current of a ring with a share of the conductance of one of them gone.
func spills(all []*flow, moves [][]float64, gone int, share float64) []float64 {
	out, x := make([]float64, len(all)), all[gone]
	var warm []int
	most, base := make([]float64, len(all)), make([]float64, len(all))
	k := share / (1 - share*moves[gone][gone])
	left := 1 - share // of the conductance of x
	for i, y := range all {
		if y.warm == nil || i == gone && left == 0 {
			continue
		}
		warm = append(warm, i)
		if base[i] = y.with(x, k*moves[gone][i]); i == gone {
			base[i] = x.amps * left * k / share
		}
		most[i] = base[i]
	}
	for range 50 {
		clear(out)
		for _, i := range warm {
			conductors := 1.0
			if i == gone {
				conductors = left
			}
			amps := most[i] * all[i].warm.warms(most[i]/conductors)
			if amps == 0 {
				continue
			}
			for j := range all {
				if j != i {
					out[j] += amps * math.Abs(moves[i][j]+k*moves[gone][j]*moves[i][gone])
				}
			}
		}
		out[gone] *= left
		moved := 0.0
		for _, i := range warm {
			moved = max(moved, base[i]+out[i]-most[i])
			most[i] = base[i] + out[i]
		}
		if moved < 1e-12 {
			break
		}
	}
	return out
}

// keep takes the factors that the field has at the moment.
func (x *flow) keep(f *field) {
	f.expand()
	x.factors = make([]stretch, len(f.groups))
	for _, i := range f.active {
		x.factors[i] = f.groups[i].stretch
	}
	x.amps = x.with(x, 0)
}

// with is the greatest of a current with move times another one added.
func (x *flow) with(o *flow, move float64) float64 {
	idle := x.idle + move*o.idle
	up, down := idle, -idle
	for i := range x.factors {
		s, t := &x.factors[i], &o.factors[i]
		if s.n == 0 && t.n == 0 {
			continue
		}
		sum := stretch{s.first + move*t.first, s.last + move*t.last, max(s.n, t.n), max(s.most, t.most)}
		line := sum.falling(1)
		more, _ := line.above(0)
		up += more
		line = sum.falling(-1)
		more, _ = line.above(0)
		down += more
	}
	return max(up, down)
}

// within is the same within the budgets.
func (l *looser) within(f *field, x, o *flow, move float64) float64 {
	if !l.held {
		return x.with(o, move)
	}
	worst, idle := 0.0, x.idle+move*o.idle
	for _, sign := range []float64{1, -1} {
		for k := range f.knapsacks {
			f.knapsacks[k].falling = f.knapsacks[k].falling[:0]
		}
		for i := range x.factors {
			s, t := &x.factors[i], &o.factors[i]
			if s.n > 0 || t.n > 0 {
				f.knapsacks[f.groups[i].knapsack].add(&stretch{s.first + move*t.first, s.last + move*t.last, max(s.n, t.n), max(s.most, t.most)}, sign)
			}
		}
		amps := sign * idle
		for k := range f.knapsacks {
			amps += f.knapsacks[k].fill()
		}
		worst = max(worst, amps)
	}
	return worst
}
