package figures

import "ohmstead/schema"

// Expected is what a meter should show where a reading was taken, in the
// reading's case: volts, or amperes where the reading has amps. It is false
// where that was not worked out.
func (f *Figures) Expected(r *schema.Reading) (si float64, c *Case, ok bool) {
	if r.Case.Bad || !r.Place.Known() || r.Place.V == nil {
		return 0, nil, false
	}
	for _, x := range f.Cases {
		// A case of the plan may bear the name of a built-in one.
		if r.Case.V == nil && x.Own == nil && x.Name == schema.Full || r.Case.V != nil && x.Own != nil && x.Name == r.Case.V.Name {
			c = x
		}
	}
	if c == nil {
		return 0, nil, false
	}
	switch pt := r.Place.V; {
	case pt.Run != nil:
		for i, run := range f.Runs {
			if run.Run == pt.Run && c.Runs[i].OK {
				if r.Amps.Set {
					return c.Runs[i].Amps, c, true
				}
				return c.Runs[i].PadVolts(run.Snap(pt).At), c, true
			}
		}
	case pt.Joint != nil:
		for _, j := range c.Joints {
			if j.Joint == pt.Joint && j.OK {
				if r.Amps.Set {
					return j.Amps, c, true
				}
				return j.Volts, c, true
			}
		}
	case pt.Supply != nil:
		for _, s := range c.Supplies {
			if s.Supply == pt.Supply && s.OK {
				if r.Amps.Set {
					return s.Each[pt.Output-1], c, true
				}
				return s.Volts, c, true
			}
		}
	}
	return 0, nil, false
}
