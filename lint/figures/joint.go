package figures

import (
	"context"

	"ohmstead/calc/protect"
	"ohmstead/schema"
)

// WorstJoint is the greatest current that enters a joint, A, by its place in
// the plan, and the case: any case or, for the leads that end in it, the bound
// over every pattern. Full stands for what the wiring must bear; a ceiling is
// software.
func (f *Figures) WorstJoint(i int) (amps float64, name string) {
	for _, c := range f.Cases {
		if jc := c.Joints[i]; jc.OK && jc.Amps > amps {
			amps, name = jc.Amps, c.Name
		}
	}
	for _, l := range f.Ends(f.Plan.Joints[i]) {
		if a := f.AnyOf(l); a.OK && a.Amps > amps+1e-9 {
			amps, name = a.Amps, schema.Any
		}
	}
	return amps, name
}

// Gauges are the thinnest and the thickest conductor that a joint takes; false where it does not say.
func Gauges(j *schema.Joint) (thin, thick schema.Quantity, ok bool) {
	if !j.Gauges.Set || j.Gauges.Bad || len(j.Gauges.V) != 2 {
		return thin, thick, false
	}
	thin, thick = j.Gauges.V[0], j.Gauges.V[1]
	if thin.SI > thick.SI {
		thin, thick = thick, thin
	}
	return thin, thick, true
}

// Clamps reports whether a joint takes a conductor of a cross-section, m2, which may be rounded: any where it does not say.
func Clamps(j *schema.Joint, area float64) bool {
	thin, thick, ok := Gauges(j)
	return !ok || area >= thin.SI*0.999 && area <= thick.SI*1.001
}

// JointFault is the most that a fault can drive through one plus contact of a
// joint, against its rating: what the joint sends into a lead that ends in it,
// or gets from one, past the fuse of that lead. Returns are not counted: they
// hang on how many faults there are at once.
func (f *Figures) JointFault(j *schema.Joint) Exposure {
	is := f.wired[j]
	if is == nil || is.split == nil || !j.Rating.Set || j.Rating.Bad || !is.guardsKnown() {
		return Exposure{}
	}
	_ = is.walk(context.Background()) // that does not end
	contact := protect.Conductor{Side: protect.Plus, Ampacity: j.Rating.V.SI}
	worst := Exposure{}
	if is.exposures.err != nil {
		return Exposure{}
	}
	for _, l := range is.meet[j] {
		if !l.Plus() {
			continue
		}
		c, e := is.Grid.Conductors[l.grid], is.exposures.value[l.grid]
		for end, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt.Joint != j {
				continue
			}
			in := e.Enters[1-end]
			if c.Fuse > 0 {
				in = min(in, c.Fuse)
			}
			if amps := max(e.Enters[end], in); amps > worst.Amps {
				e.Amps = amps
				worst = is.exposure(e, contact)
			}
		}
	}
	return worst
}
