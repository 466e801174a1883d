package figures

import (
	"math"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
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
		r.Rails = append(r.Rails, Rail{From: a.At, To: b.At})
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
		if over := e.Over(c); e.Amps < at.Amps && !over || at.Unguarded && !over || e.Amps <= at.Amps && over == at.Unguarded {
			continue
		}
		*at = is.exposure(e, c)
	}
}

// exposure is one of the grid's as blocks of the plan. Who feeds it is asked
// only where it is too much.
func (is *Island) exposure(e protect.Exposure, c protect.Conductor) Exposure {
	out := Exposure{Amps: e.Amps, Unguarded: e.Over(c), Minus: c.Side == protect.Minus}
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
