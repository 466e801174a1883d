package figures

import (
	"context"
	"math"

	"ohmstead/calc/circuit"
	"ohmstead/calc/thermal"
	"ohmstead/calc/wire"
	"ohmstead/schema"
)

// Loosened is what flows through a conductor once one connection has come
// loose: at most, over every pattern, with the ceilings ignored, and no more
// than fuses and supply limits let pass.
type Loosened struct {
	Amps  float64 // 0 where nothing that comes loose changes it
	Held  float64 // A, the same while the ceilings hold
	Limit float64 // A, what the conductor, or what it ends in, may carry
	Gone  *Lead   // whose minus is loose then, or one of whose conductors
	At    float64 // of a rail: where it flows, m from the start

	Joint *schema.Joint      // whose rating the limit is, or
	Board *schema.Controller // whose power terminal; nil for the conductor's own ampacity
}

// Over reports whether it is too much.
func (x Loosened) Over() bool { return x.Amps > x.Limit*(1+1e-9) }

// TerminalAmps is what the power terminal of a board passes on before it is asked
// about, A: the usual rating of a contact of 2.54 mm pitch (from memory).
const TerminalAmps = 3

// LooseReturn is what comes back through the minus of a lead once another
// minus has come loose, against what the lead, a rated joint at its end or the
// terminal of a board that passes it on may carry.
func (f *Figures) LooseReturn(l *Lead) Loosened {
	if !l.OK || l.Ampacity <= 0 || !l.Minus() {
		return Loosened{}
	}
	is, p, i := l.Island.looseAt(l.minus)
	if p == nil || p.loose.value.Wires[i].Amps == 0 {
		return Loosened{}
	}
	was := p.loose.value.Wires[i]
	out := Loosened{Amps: was.Amps, Held: was.Held, Limit: l.Ampacity, Gone: is.wires[p.Wires[was.Gone]]}
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		switch {
		case pt.Joint != nil && pt.Joint.Rating.Set && !pt.Joint.Rating.Bad && pt.Joint.Rating.V.SI < out.Limit:
			out.Limit, out.Joint, out.Board = pt.Joint.Rating.V.SI, pt.Joint, nil
		case pt.Controller != nil && TerminalAmps < out.Limit && f.passesOn(pt.Controller):
			out.Limit, out.Joint, out.Board = TerminalAmps, nil, pt.Controller
		}
	}
	if out.Over() {
		most := is.returning(conductor{lead: l}, out.Gone)
		out.Amps, out.Held = min(out.Amps, most), min(out.Held, most)
	}
	return out
}

// LooseFoil is by how much the copper of a strip may warm up while a return is
// loose, K: above the 20 K that are the most for good, below what its tape
// stands in a warm room (common practice, no source).
const LooseFoil = 30.0

// passesOn reports whether several minuses end at a board.
func (f *Figures) passesOn(c *schema.Controller) bool {
	n := 0
	for _, l := range f.Ends(c) {
		if l.OK && l.Minus() {
			n++
		}
	}
	return n > 1
}

// LooseRail is what flows in the copper of a run once a minus has come loose,
// against what warms it by LooseFoil or its rail_current, which is for good.
func (f *Figures) LooseRail(r *Run) Loosened {
	if !r.OK || r.Island == nil || r.Island.split == nil || !r.Strip.V.RailCurrent.Set || r.Strip.V.RailCurrent.Bad {
		return Loosened{}
	}
	is, at := r.Island, r.Island.split.Strips[r.strip]
	p := is.loosened(at.Part)
	if p == nil || p.loose.value.Rails[at.Index].Amps == 0 {
		return Loosened{}
	}
	was := p.loose.value.Rails[at.Index]
	out := Loosened{Amps: was.Amps, Held: was.Held, At: was.At, Gone: is.wires[p.Wires[was.Gone]]}
	out.Limit = max(r.Strip.V.RailCurrent.V.SI, thermal.FoilAmps(r.Strip.V.Rail.V.SI, LooseFoil))
	if out.Over() {
		most := 0.0
		for i, rail := range r.Rails {
			if was.At >= rail.From-1e-9 && was.At <= rail.To+1e-9 {
				most = max(most, is.returning(conductor{run: r, rail: i}, out.Gone))
			}
		}
		out.Amps, out.Held = min(out.Amps, most), min(out.Held, most)
	}
	return out
}

// LooseConductor is what flows in the conductors of a lead that are left once
// one of several side by side has come loose, of the side that carries more.
func (f *Figures) LooseConductor(l *Lead) Loosened {
	if !l.OK || l.Ampacity <= 0 || l.Parallel.V < 2 {
		return Loosened{}
	}
	limit, err := l.LeftOver()
	if err != nil {
		return Loosened{}
	}
	out := Loosened{Limit: limit, Gone: l}
	for _, wire := range []int{l.plus, l.minus} {
		if wire < 0 {
			continue
		}
		is, p, i := l.Island.looseAt(wire)
		if p == nil {
			continue
		}
		left, most := p.loose.value.Left[i], math.Inf(1)
		if left.Amps > out.Limit*(1+1e-9) {
			if wire == l.minus {
				most = is.returning(conductor{lead: l}, nil)
			} else {
				most = is.entering(l)
			}
		}
		out.Amps, out.Held = max(out.Amps, min(left.Amps, most)), max(out.Held, min(left.Held, most))
	}
	return out
}

// LeftOver is what the conductors of a lead may carry, A, once one of them is
// loose. It fails for a lead of one.
func (l *Lead) LeftOver() (amps float64, err error) {
	return wire.WithoutOne(l.Ampacity/l.Shared/float64(l.Parallel.V), l.Parallel.V, l.Together)
}

// looseAt finds the part of a wire worked out, and the wire in it; nil where
// nothing can be said.
func (is *Island) looseAt(wire int) (*Island, *part, int) {
	if is == nil || is.split == nil || wire < 0 {
		return nil, nil, 0
	}
	at := is.split.Wires[wire]
	return is, is.loosened(at.Part), at.Index
}

// loosened is a part with what flows in it once something is loose, nil where
// nothing in it can come loose alone.
func (is *Island) loosened(i int) *part {
	p := is.parts[i]
	if p.loose == nil {
		return nil
	}
	_ = p.loose.get(context.Background(), func() (*circuit.Loose, error) {
		is.solved(i)
		if p.network.err != nil {
			return nil, p.network.err
		}
		returns, side := is.connections(p)
		return p.network.value.Loose(returns, side, p.budgets)
	})
	if p.loose.err != nil {
		return nil
	}
	return p
}

// connections are the minus wires of a part, and of how many conductors each
// of its wires is made.
func (is *Island) connections(p *part) (returns, side []int) {
	for k, w := range p.Wires {
		l := is.wires[w]
		if l.minus == w {
			returns = append(returns, k)
		}
		side = append(side, l.Parallel.V)
	}
	return returns, side
}

// canLoosen reports whether anything in a part can come loose and leave
// another way: two minuses, or conductors side by side.
func (is *Island) canLoosen(p *part) bool {
	minuses := 0
	for _, w := range p.Wires {
		l := is.wires[w]
		if l.Parallel.V > 1 {
			return true
		}
		if l.minus == w {
			minuses++
		}
	}
	return minuses > 1 || minuses == 1 && len(p.Strips) > 0
}

// returning is the most that fuses and supply limits let come back through a
// minus conductor with the minus of a lead loose.
func (is *Island) returning(what conductor, gone *Lead) float64 {
	if !is.guardsKnown() {
		return math.Inf(1)
	}
	out := -1
	if gone != nil {
		out = conductor{lead: gone}.minus()
	}
	amps, err := is.exposures.returning(is.Grid, what.minus(), out)
	if err != nil {
		return math.Inf(1)
	}
	return amps
}

// entering is the most that fuses and supply limits let into the plus of a lead.
func (is *Island) entering(l *Lead) float64 {
	if !is.guardsKnown() {
		return math.Inf(1)
	}
	_ = is.walk(context.Background()) // that does not end
	if is.exposures.err != nil {
		return math.Inf(1)
	}
	return is.exposures.value[l.grid].Amps
}
