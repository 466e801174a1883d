package circuit

import (
	"math"
	"slices"
	"sync"
)

// cool is the share of its resistance up to which a rise counts as none.
const cool = 1e-13

// flow returns the current of a branch with volts over it, A, and its slope, S. It is the root of
//
//	I + heat I^3 = siemens volts
//
// up to the current beyond which heat adds nothing. From what the cold branch carries Newton's steps fall
// on the root from one side, as the left is convex there.
func (b *branch) flow(volts float64) (amps, slope float64) {
	cold := b.siemens * volts
	if b.heat*cold*cold <= cool {
		return cold, b.siemens
	}
	if hot := 1 + b.warms(b.most); math.Abs(cold) > b.most*hot {
		return cold / hot, b.siemens / hot
	}
	amps = cold
	for range 100 {
		step := (amps + b.heat*amps*amps*amps - cold) / (1 + 3*b.heat*amps*amps)
		if amps -= step; math.Abs(step) <= 1e-15*math.Abs(amps) {
			break
		}
	}
	return amps, b.siemens / (1 + 3*b.heat*amps*amps)
}

// warms is the share of its resistance that a current adds to a branch.
func (b *branch) warms(amps float64) float64 { return b.heat * min(amps*amps, b.most*b.most) }

// frozen is the network with the resistance of each wire as it is at a current, nil for none: a linear one.
func (n *Network) frozen(amps []float64) *Network {
	m := *n
	m.islands = slices.Clone(n.islands)
	changed := make([]bool, len(m.islands))
	for i := range m.islands {
		is := &m.islands[i]
		if !is.warm {
			continue
		}
		changed[i] = true
		is.warm, is.branches = false, slices.Clone(is.branches)
		for j := range is.branches {
			b := &is.branches[j]
			if amps != nil && b.wire >= 0 {
				b.siemens /= 1 + b.warms(amps[b.wire])
			}
			b.heat = 0
		}
		if amps != nil {
			is.copper = sync.OnceValue(is.newCopper)
		}
	}
	m.darkness = sync.OnceValue(m.newDarkness)
	if amps != nil {
		m.darkness = sync.OnceValue(func() *darkness { return n.cold().darkness().warmer(&m, changed) })
	}
	return &m
}

// warm reports whether any wire warms up.
func (n *Network) warm() bool {
	return slices.ContainsFunc(n.islands, func(is island) bool { return is.warm })
}

// ringed are the wires of an island that warm up and lie on a ring of copper: how currents share
// there hangs on how warm each of them is. Nowhere else does it.
type ringed struct {
	branches []branch
	at       []int32 // of each of them: its place in the island
}

func (is *island) newRinged() *ringed {
	if !is.warm {
		return nil
	}
	r := &ringed{}
	for _, i := range is.form.rings() {
		if b := &is.branches[i]; b.heat > 0 {
			r.branches, r.at = append(r.branches, *b), append(r.at, i)
		}
	}
	if len(r.branches) == 0 {
		return nil
	}
	return r
}

// onRings are the branches that lie on a ring of copper; their edges come first.
func onRings(unknowns, branches int, edges [][2]int32) (out []int32) {
	blocks(unknowns+1, edges, func(_ int32, block []int32) {
		if len(block) < 2 {
			return
		}
		for _, e := range block {
			if int(e) < branches {
				out = append(out, e)
			}
		}
	})
	return out
}

// A bound freezes what heat does to resistances, so that the network stays linear: currents are those of cold
// copper, voltages those of copper as warm as the greatest current of each wire makes it. Where no copper
// lies on a ring loads alone say what flows, and both are on the safe side of all that can be. On a
// ring a wire that warms up pushes current into the others, just as a voltage of
//
//	dR I, with dR = R heat I^2
//
// against its own current would. What such voltages add at most to a current is its spill; their own
// part in it, which only ever lowers it, is left out.

// pushed is how much of a current each ampere makes that the voltage of a ringed branch would drive through
// its conductance alone.
type pushed struct {
	ringed int32
	factor float64
}

// spill is what the warmth of other wires than one can add to the current whose factors were asked for last, A.
func (f *field) spill(except int) (amps float64) {
	for _, p := range f.pushes {
		if b := &f.ringed.branches[p.ringed]; b.wire != except && f.most != nil {
			amps += p.factor * f.most[b.wire] * b.warms(f.most[b.wire])
		}
	}
	return amps
}

// push notes what the ringed branches at a node of the adjoint make of the current asked for; rise is how
// far a point rises with the source that is asked for, nil for other currents.
func (f *field) push(v int32, rise func(point int32) float64) {
	if f.ringed == nil {
		return
	}
	x, number := f.adjoint.x[0], f.adjoint.number
	for _, i := range f.ringedAt[v] {
		b := &f.ringed.branches[i]
		d := x[number[b.a]] - x[number[b.b]]
		if rise != nil {
			d += rise(b.aPoint) - rise(b.bPoint)
		}
		if d = math.Abs(d); d > diedAway {
			f.pushes = append(f.pushes, pushed{i, d})
		}
	}
}

// rounding is the share of a wire's current up to which pixels that seem to drive it the other way are but an
// error of the solution; what they would lose is as small a share of what the wire does.
const rounding = 1e-10

// directions are those of a wire on a ring: its greatest current each way, and whether pixels drive any that way.
type directions struct {
	amps  [2]float64 // from end to end and back
	drawn [2]bool
}

// warmRings finds the greatest currents of all wires, b.Wires holds those of cold copper, and what they spill.
func (b *Bound) warmRings(d *bounder, pushes [][]pushed) {
	cold := slices.Clone(b.Wires)
	for i := range d.islands {
		d.fields[i].most = b.Wires
	}
	for range 50 {
		moved := 0.0
		next := slices.Clone(b.Wires)
		for w := range cold {
			if pushes[w] == nil {
				continue
			}
			f := &d.fields[d.spots[d.c.Wires[w].A].island]
			f.pushes = pushes[w]
			b.Spill[w] = f.spill(w)
			next[w] = cold[w] + b.Spill[w]
			moved = max(moved, next[w]-b.Wires[w])
		}
		copy(b.Wires, next)
		if moved < 1e-12 {
			return
		}
	}
}

// turned is what a strip may lose beyond the warmest copper, V: where a wire on a ring is cooler than reckoned
// with, current of one way takes less from a pixel that drives the other.
func (b *Bound) turned(f *field, rings map[int]directions) (volts float64) {
	if f.ringed == nil {
		return 0
	}
	for i := range f.ringed.branches {
		br := &f.ringed.branches[i]
		w := rings[br.wire]
		against := 0.0
		for direction := range 2 {
			if w.drawn[direction] {
				against = max(against, w.amps[1-direction]+b.Spill[br.wire])
			}
		}
		volts += against * br.warms(b.Wires[br.wire]) / br.siemens
	}
	return volts
}
