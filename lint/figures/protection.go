package figures

import (
	"math"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
	"ohmstead/calc/thermal"
	"ohmstead/schema"
)

// conductor says what a conductor of an island's grid is: a side of a lead, or
// a rail of a run between two feeds.
type conductor struct {
	lead *Lead
	run  *Run
	rail int // index in run.Rails
}

func (is *Island) conduct(what conductor, c protect.Conductor) {
	is.conductors = append(is.conductors, what)
	is.Grid.Conductors = append(is.Grid.Conductors, c)
}

// minus is the index of a conductor's minus side in the grid.
func (c conductor) minus() int {
	switch {
	case c.run != nil:
		return c.run.Rails[c.rail].grid + 1
	case c.lead.Plus():
		return c.lead.grid + 1
	}
	return c.lead.grid
}

// rails adds a run's rails between its taps to the grid. Without a stated
// rail_current nothing is claimed of them.
func (is *Island) rails(r *Run, taps []circuit.Tap) {
	ampacity := math.Inf(1)
	if s := r.Strip.V; s.RailCurrent.Known() && s.RailCurrent.Set {
		ampacity = s.RailCurrent.V.SI
	}
	for i := range taps[1:] {
		a, b := taps[i], taps[i+1]
		what := conductor{run: r, rail: len(r.Rails)}
		r.Rails = append(r.Rails, Rail{From: a.At, To: b.At, grid: len(is.conductors)})
		is.conduct(what, protect.Conductor{A: a.Plus, B: b.Plus, Side: protect.Plus, Ampacity: ampacity})
		is.conduct(what, protect.Conductor{A: a.Minus, B: b.Minus, Side: protect.Minus, Ampacity: ampacity})
	}
}

// protection records on leads and rails what a fault can drive through them;
// the worse of plus and minus stays.
func (is *Island) protection(all []protect.Exposure) {
	for i, e := range all {
		what, c := is.conductors[i], is.Grid.Conductors[i]
		var at *Exposure
		if what.lead != nil {
			at = &what.lead.Fault
		} else {
			at = &what.run.Rails[what.rail].Fault
		}
		if !e.Over(c) && (at.Unguarded || e.Amps < at.Amps) {
			continue
		}
		if x := is.exposureOf(what, e, c); x.Unguarded && !at.Unguarded || x.Unguarded == at.Unguarded && x.Amps > at.Amps {
			*at = x
		}
	}
}

// exposureOf is the exposure of a conductor, a rail's against what foil stands.
func (is *Island) exposureOf(what conductor, e protect.Exposure, c protect.Conductor) Exposure {
	out := is.exposure(e, c)
	if what.run != nil && out.Unguarded {
		out.Limit = is.foil(e, c.Ampacity, what.run.Strip.V.Rail)
		out.Unguarded = out.Amps > out.Limit*(1+1e-9)
	}
	return out
}

// foil is what the copper of a strip stands of a fault, A. It is a conductor like others for each way in alone: a fuse in front
// of it counts for no more than it may carry for good. What several such ways drive into one fault together only
// has to be borne: for long by what it is stuck to, and until the fuses open by itself.
func (is *Island) foil(e protect.Exposure, continuous float64, rail schema.Value[schema.Quantity]) float64 {
	through, rest := e.Through(), e.Amps
	for _, k := range through {
		rest -= is.Grid.Conductors[k].Fuse
		if is.Grid.Conductors[k].Fuse > continuous*(1+1e-9) {
			return continuous
		}
	}
	if rest > continuous*(1+1e-9) || !rail.Known() {
		return continuous
	}
	source := 0.0
	for _, s := range e.From() {
		source += is.Grid.Sources[s].Limit
	}
	limit := thermal.FoilAmps(rail.V.SI, thermal.FoilLimit-is.ambient)
	flash := thermal.FoilAmps(rail.V.SI, thermal.FoilFlash-is.ambient) // for ever
	for _, k := range through {
		l := is.conductors[k].lead
		for _, g := range l.Device.Gates(l.Fuse.V.SI) {
			times := g.Times / l.Device.Counts(1)
			most := math.Max(flash, thermal.FoilFlashAmps(rail.V.SI, is.ambient, g.Seconds))
			if source > most {
				limit = math.Min(limit, most/times)
			}
		}
	}
	return math.Max(continuous, limit)
}

// exposure is one of the grid's as blocks of the plan. Who feeds it is asked
// only where it is too much.
func (is *Island) exposure(e protect.Exposure, c protect.Conductor) Exposure {
	out := Exposure{Amps: e.Amps, Limit: c.Ampacity, Unguarded: e.Over(c), Minus: c.Side == protect.Minus}
	if !out.Unguarded {
		return out
	}
	var outputs []*schema.Supply // by source of the grid
	for _, s := range is.Supplies {
		for range s.Outputs.V {
			outputs = append(outputs, s)
		}
	}
	for _, s := range e.From() {
		if !slices.Contains(out.Sources, outputs[s]) {
			out.Sources = append(out.Sources, outputs[s])
		}
	}
	for _, k := range e.Through() {
		if l := is.conductors[k].lead; l != nil && !slices.Contains(out.Through, l) {
			out.Through = append(out.Through, l)
		}
	}
	return out
}
