package figures

import (
	"ohmstead/calc/circuit"
	"ohmstead/schema"
)

// Lit is a run as a pattern lights it.
type Lit struct {
	Run    *Run
	Shares []float64 // of each pixel's full light, 0 to 1
	Volts  []float64 // V, at each pixel; nil where the run has no power
}

// LeadPattern is a pattern that takes a lead to the current of WorstLead: what
// it lights, and the voltages that it leaves, of the runs in the part of the
// network that the lead is in. It is nil where nothing is known.
func (f *Figures) LeadPattern(l *Lead) []Lit {
	f.Need(l.Lead)
	w := f.WorstLead(l)
	if !w.OK || l.Island == nil || l.Island.split == nil {
		return nil
	}
	wire := l.plus
	if a := f.Any.Leads[l.place]; wire < 0 || a.OK && a.Amps > a.Plus {
		wire = l.minus
	}
	if wire < 0 {
		return nil
	}
	at := l.Island.split.Wires[wire]
	return l.Island.lit(at.Part, w, func(b *circuit.Bound) circuit.Drive { return b.WirePattern(at.Index) })
}

// RunPattern is the same of a pattern that takes the worst pixel of a run to
// the voltage of WorstVolts.
func (f *Figures) RunPattern(r *Run) []Lit {
	f.Need(r.Run)
	least := 0.0
	if s := r.Strip.V; s != nil {
		least = s.MinVoltage.V.SI
	}
	w := f.WorstVolts(r, least)
	if !w.OK || r.Island == nil || r.Island.split == nil || r.strip < 0 {
		return nil
	}
	at := r.Island.split.Strips[r.strip]
	return r.Island.lit(at.Part, w, func(b *circuit.Bound) circuit.Drive { return b.StripPattern(at.Index) })
}

// lit solves a part under the pattern behind a worst figure; where that is the
// case full, everything is lit.
func (is *Island) lit(part int, w Worst, pattern func(*circuit.Bound) circuit.Drive) []Lit {
	p := is.solved(part)
	if !p.Live || p.network.err != nil || p.bound.err != nil {
		return nil
	}
	drive := p.drives[0]
	if w.Case != schema.Full {
		if drive = pattern(p.bound.value); drive == nil {
			return nil
		}
	}
	sol, err := p.network.value.Solve(drive)
	if err != nil {
		return nil
	}
	out := make([]Lit, 0, len(p.Strips))
	for i, strip := range p.Strips {
		r := is.Runs[strip]
		x := Lit{Run: r, Shares: make([]float64, r.Pixels)}
		for k := range x.Shares {
			share := drive[i].Share
			if drive[i].Each != nil {
				share = drive[i].Each[k]
			}
			for _, s := range share {
				x.Shares[k] += s / float64(len(share))
			}
		}
		if st := &sol.Strips[i]; st.Powered {
			x.Volts = st.Volts()
		}
		out = append(out, x)
	}
	return out
}
