package figures

import (
	"math"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
)

// Faults tells what faults can drive through conductors, with return currents
// divided among all ways back. It remembers what it worked out.
type Faults struct {
	of map[*Island]*returns
}

// Faults is made for one look at the plan.
func (f *Figures) Faults() *Faults { return &Faults{map[*Island]*returns{}} }

// returns is what is known of an island for the sake of its minus conductors.
type returns struct {
	all    []protect.Exposure // by conductor
	shorts []float64          // A, by load of the grid: what a short there is fed with
}

// Lead is what a fault can drive through a lead. Its exposure as worked out
// for the plan takes the whole of any return current; where that is too much
// for the minus conductor of a ring, the share that passes through it counts,
// or the plus conductor if that is the worse one then.
func (x *Faults) Lead(l *Lead) Exposure {
	return x.exposure(l.Island, l.Fault, func(o conductor) bool { return o.lead == l })
}

// Known reports whether that of a lead is known: all of its wiring, and every
// fuse and supply limit that may bound it.
func (x *Faults) Known(l *Lead) bool {
	return l.OK && l.Island != nil && l.Island.split != nil && l.Island.guardsKnown()
}

// Rail is what a fault can drive through the copper of a run between two of
// its feeds, likewise.
func (x *Faults) Rail(r *Run, rail int) Exposure {
	return x.exposure(r.Island, r.Rails[rail].Fault, func(o conductor) bool { return o.run == r && o.rail == rail })
}

func (x *Faults) exposure(is *Island, known Exposure, itself func(conductor) bool) Exposure {
	if !known.Minus || known.Sources == nil || is == nil || is.Circuit == nil {
		return known
	}
	of := x.of[is]
	if of == nil {
		of = is.returns()
		x.of[is] = of
	}
	if of.all == nil {
		return known
	}
	out := known
	plus := Exposure{}
	for i, c := range is.Grid.Conductors {
		switch {
		case !itself(is.conductors[i]):
		case c.Side == protect.Plus:
			if plus = is.exposureOf(is.conductors[i], of.all[i], c); plus.Unguarded {
				return plus
			}
		case c.Side == protect.Minus:
			out.Amps = math.Min(known.Amps, is.returned(c.A, c.B, is.minusOhms(i), itself, of.shorts))
			out.Unguarded = out.Amps > known.Limit*(1+1e-9)
		}
	}
	if !out.Unguarded && plus.Amps > out.Amps {
		return plus
	}
	return out
}

// returns walks the island's grid once more, with a stub at each load: what
// reaches a stub feeds a short there.
func (is *Island) returns() *returns {
	g := is.Grid
	first := len(g.Conductors)
	g.Conductors = g.Conductors[:first:first]
	g.Loads = is.loads()
	for _, l := range g.Loads {
		g.Conductors = append(g.Conductors, protect.Conductor{A: l.Plus, B: g.Nodes, Side: protect.Plus, Ampacity: math.Inf(1)})
		g.Nodes++
	}
	all, err := protect.Walk(g)
	if err != nil {
		return &returns{}
	}
	out := &returns{all: all[:first]}
	for _, e := range all[first:] {
		out.shorts = append(out.shorts, e.Amps)
	}
	return out
}

// loads are the places where a fault can pass from plus to minus, those where
// conductors of two supplies touch among them.
func (is *Island) loads() []protect.Load {
	return slices.Concat(is.Grid.Loads, slices.Concat(is.touching...))
}

// minusOhms is the resistance of a minus conductor of the grid.
func (is *Island) minusOhms(i int) float64 {
	what := is.conductors[i]
	if what.lead != nil {
		return is.Circuit.Wires[what.lead.minus].Ohms
	}
	taps := is.Circuit.Strips[what.run.strip].Taps
	return math.Max(what.run.Strip.V.Rail.V.SI*(taps[what.rail+1].At-taps[what.rail].At), circuit.MinOhms)
}

// returned is the most of any fault's return current that passes through one
// minus conductor, from a to b. In a ring the current divides among all ways
// back: of 1 A that enters the minus side at n and leaves it at s,
//
//	share = g (V_n - V_s) / (g + G)
//
// takes the conductor, with g its conductance in S, G that of everything else
// between a and b, and V the potentials that 1 V between a and b makes
// (reciprocity). Each fault is as large as the fuses and supplies let it be.
func (is *Island) returned(a, b int, ohms float64, itself func(conductor) bool, shorts []float64) float64 {
	c := &circuit.Circuit{Nodes: is.Circuit.Nodes, Sources: []circuit.Source{{Plus: a, Minus: b, Volts: 1}}}
	for i, k := range is.Grid.Conductors {
		if k.Side == protect.Minus && !itself(is.conductors[i]) {
			c.Wires = append(c.Wires, circuit.Wire{A: k.A, B: k.B, Ohms: is.minusOhms(i)})
		}
	}
	sol, err := circuit.Solve(c)
	if err != nil {
		return math.Inf(1)
	}
	g, others := 1/ohms, math.Abs(sol.SourceAmps[0])
	if others < g*1e-12 {
		return math.Inf(1) // the only way back: all of it passes
	}
	worst, loads := 0.0, is.loads()
	for i, amps := range shorts {
		n := loads[i].Minus
		for _, s := range is.Grid.Sources {
			if sol.Powered[n] && sol.Powered[s.Minus] {
				worst = math.Max(worst, amps*g*math.Abs(sol.Volts[n]-sol.Volts[s.Minus])/(g+others))
			}
		}
	}
	return worst
}
