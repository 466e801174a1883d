package figures

import "math"

// Hazard is a way in which something can come to harm.
type Hazard string

// Load is what flows when nothing is wrong, over every pattern; Fault what a
// short circuit can drive; FuseLoad what flows through a lead's fuse; Loose
// what flows once one connection has come loose.
const (
	Load     Hazard = "load"
	Fault    Hazard = "fault"
	FuseLoad Hazard = "fuse"
	Loose    Hazard = "loose"
)

// Guarded is one thing that can come to harm in one way.
type Guarded struct {
	ID     string // of the block
	Hazard Hazard
}

// Margins gives for leads, fuses, rails, joints and supplies what flows or can
// be driven over what is allowed where that is above 1, which is
// too much, whether a rule reports it or not. What is not known is not there.
func (f *Figures) Margins() map[Guarded]float64 {
	out := map[Guarded]float64{}
	note := func(id string, h Hazard, is, may float64) {
		if may > 0 && is > may {
			k := Guarded{id, h}
			out[k] = math.Max(out[k], is/may)
		}
	}
	faults := f.Faults()
	for _, l := range f.Leads {
		if !l.OK || l.Ampacity <= 0 {
			continue
		}
		note(l.ID(), Fault, faults.Lead(l).Amps, l.Ampacity)
		if w := f.WorstLead(l); w.OK {
			note(l.ID(), Load, w.Value, l.Ampacity)
		}
		for _, x := range []Loosened{f.LooseReturn(l), f.LooseConductor(l)} {
			note(l.ID(), Loose, x.Amps, x.Limit)
		}
		if w := f.WorstFuse(l); w.OK && l.Fused() {
			note(l.ID(), FuseLoad, w.Value, l.Device.Share*l.Fuse.V.SI)
		}
	}
	for _, r := range f.Runs {
		if !r.OK || !r.Strip.V.RailCurrent.Set || r.Strip.V.RailCurrent.Bad {
			continue
		}
		may := r.Strip.V.RailCurrent.V.SI
		if w, _ := f.WorstRail(r); w.OK {
			note(r.ID(), Load, w.Value, may)
		}
		loose := f.LooseRail(r)
		note(r.ID(), Loose, loose.Amps, loose.Limit)
		for i := range r.Rails {
			fault := faults.Rail(r, i)
			note(r.ID(), Fault, fault.Amps, fault.Limit)
		}
	}
	for i, j := range f.Plan.Joints {
		if j.Rating.Set && !j.Rating.Bad {
			worst, _ := f.WorstJoint(i)
			note(j.ID(), Load, worst, j.Rating.V.SI)
			note(j.ID(), Fault, f.JointFault(j).Amps, j.Rating.V.SI)
		}
	}
	for i, s := range f.Plan.Supplies {
		if w := f.WorstSupply(i); w.OK && s.Rating.Known() {
			note(s.ID(), Load, w.Value, s.Rating.V.SI*f.Derated(s))
		}
	}
	return out
}
