package figures

import (
	"math"

	"ohmstead/schema"
)

// Worst is the worst that any pattern under the ceilings can make of one
// number, as closely as it is known.
type Worst struct {
	OK    bool
	Value float64 // A or V
	Pixel int     // of a voltage
	Case  string  // schema.Full where that case is the worst one, else schema.Any
	Lit   []*Run  // of schema.Any: what the pattern lights
}

// same is the relative difference below which two figures are one.
const same = 1e-6

func alike(a, b float64) bool { return math.Abs(a-b) <= same*math.Max(math.Abs(a), math.Abs(b)) }

// nearest is what the case full makes of a current or the bound over every pattern, whichever is the worst as
// closely as it is known. Where wires share a current the bound reckons with the least warmth of one and the most
// of all others at once; a case that differs from it by no more than what that may spill is the worst one still.
func nearest(most, bound, spill float64, lit []*Run) Worst {
	switch {
	case alike(most, bound):
		return Worst{OK: true, Value: most, Case: schema.Full}
	case math.Abs(most-bound) <= 2*spill:
		return Worst{OK: true, Value: math.Max(most, bound), Case: schema.Full}
	}
	return Worst{OK: true, Value: bound, Case: schema.Any, Lit: lit}
}

// WorstLead is the greatest current of a lead, A. It is the bound over every
// pattern, in which pixels draw what they want even where they are starved;
// where it agrees with the case full, that case is named.
func (f *Figures) WorstLead(l *Lead) Worst {
	a, full := f.Any.Leads[l.place], f.Cases[0].Leads[l.place]
	most := math.Max(math.Abs(full.Amps), math.Abs(full.Back))
	switch {
	case !full.OK || f.unheld:
		return Worst{}
	case !a.OK:
		return Worst{OK: true, Value: most, Case: schema.Full}
	}
	return nearest(most, a.Amps, a.Spill, a.Lit)
}

// LeadDrop is what a lead loses at a current in A, V, both sides together, with its copper as warm as in the case
// full. It is NaN where that is not known.
func (f *Figures) LeadDrop(l *Lead, amps float64) float64 {
	full := f.Cases[0].Leads[l.place]
	most := math.Max(math.Abs(full.Amps), math.Abs(full.Back))
	if !full.OK || !(most > 0) {
		return math.NaN()
	}
	return math.Abs(full.Drop) * amps / most
}

// WorstFuse is the greatest current of a lead's plus side, A, where its fuse
// sits, as WorstLead has it: returns that others share pass no fuse.
func (f *Figures) WorstFuse(l *Lead) Worst {
	a, full := f.Any.Leads[l.place], f.Cases[0].Leads[l.place]
	most := math.Abs(full.Amps)
	switch {
	case !full.OK || f.unheld || !l.Plus():
		return Worst{}
	case !a.OK:
		return Worst{OK: true, Value: most, Case: schema.Full}
	}
	return nearest(most, a.Plus, a.Spill, a.PlusLit)
}

// WorstSupply is the greatest current of a supply's fullest output, A. Where
// one output feeds all that hangs together through pairs, no pattern draws more
// than all pixels at 100 % do.
func (f *Figures) WorstSupply(i int) Worst {
	a, full := f.Any.Supplies[i], f.Cases[0].Supplies[i]
	if !full.OK || f.unheld {
		return Worst{}
	}
	most := 0.0
	for _, x := range full.Each {
		most = math.Max(most, math.Abs(x))
	}
	one := f.alone(f.Plan.Supplies[i])
	if !a.OK || one && most < a.Amps {
		return Worst{OK: true, Value: most, Case: schema.Full}
	}
	return nearest(most, a.Amps, a.Spill, nil)
}

// alone reports whether a supply alone feeds an island that is plain.
func (f *Figures) alone(s *schema.Supply) bool {
	for _, is := range f.Islands {
		if len(is.Supplies) == 1 && is.Supplies[0] == s {
			return is.Circuit != nil && is.plain()
		}
	}
	return false
}

// plain reports whether one source feeds the island and each lead carries both
// plus and minus. Then both sides of the island are alike, and every load that
// draws more lowers the voltage everywhere. Where returns take other ways than
// what they return from, a starved pixel that draws less can raise the voltage of
// another one that shares its return alone.
func (is *Island) plain() bool {
	for _, l := range is.Leads {
		if !l.Plus() || !l.Minus() {
			return false
		}
	}
	return len(is.Circuit.Sources) == 1
}

// WorstVolts is the least voltage of a run, V. In an island with one source and
// pairs for leads more light anywhere never raises a voltage, so that both the
// bound over every pattern and the case full lie below the truth, and the higher
// of them is nearer to it. Elsewhere the bound alone is safe; where even the case
// full goes below least, that case is told.
func (f *Figures) WorstVolts(r *Run, least float64) Worst {
	a, full := f.Any.Runs[r.place], f.Cases[0].Runs[r.place]
	switch {
	case !full.OK || f.unheld:
		return Worst{}
	case !a.OK || full.MinVolts >= a.MinVolts-same && (r.Island.plain() || full.MinVolts < least):
		return Worst{OK: true, Value: full.MinVolts, Pixel: full.MinPixel, Case: schema.Full}
	}
	return Worst{OK: true, Value: a.MinVolts, Pixel: a.MinPixel, Case: schema.Any, Lit: a.Lit}
}

// WorstRail is the greatest current in a rail of a run, A, and where it flows,
// as WorstLead has it.
func (f *Figures) WorstRail(r *Run) (w Worst, at float64) {
	a, full := f.Any.Runs[r.place], f.Cases[0].Runs[r.place]
	switch {
	case !full.OK || f.unheld:
		return Worst{}, 0
	case !a.OK:
		return Worst{OK: true, Value: full.RailAmps, Case: schema.Full}, full.RailAt
	}
	if w = nearest(full.RailAmps, a.RailAmps, a.Spill, a.RailLit); w.Case == schema.Full {
		return w, full.RailAt
	}
	return w, a.RailAt
}
