package figures

import "ohmstead/schema"

// uncounted tells whether it is not known how many there are of some block of
// the wiring: what its copies carry may hang on any network.
func (f *Figures) uncounted() bool {
	for _, b := range f.Plan.Blocks {
		switch b := b.(type) {
		case *schema.Run:
			if b.Times.Bad {
				return true
			}
		case *schema.Lead:
			if b.Times.Bad {
				return true
			}
		case *schema.Joint:
			if b.Times.Bad {
				return true
			}
		}
	}
	return false
}

// ceilingUnknown tells whether some ceiling, or which runs it holds, cannot be
// read.
func (f *Figures) ceilingUnknown() bool {
	for _, c := range f.Plan.Controllers {
		if c.Ceiling.Bad {
			return true
		}
	}
	for _, s := range f.Plan.Signals {
		if s.From.Bad || s.To.Bad || s.Times.Bad {
			return true
		}
	}
	return false
}

// withhold takes back what was worked out with ceilings when one of them is not
// known: without it there would be more current than there is.
func (f *Figures) withhold() {
	if f.unheld = f.ceilingUnknown(); !f.unheld {
		return
	}
	for _, c := range f.Cases {
		if !c.Held {
			continue
		}
		clear(c.Leads)
		clear(c.Runs)
		for i := range c.Supplies {
			c.Supplies[i] = SupplyCase{Supply: c.Supplies[i].Supply}
		}
		for i := range c.Joints {
			c.Joints[i] = JointCase{Joint: c.Joints[i].Joint}
		}
	}
	clear(f.Any.Leads)
	clear(f.Any.Runs)
	clear(f.Any.Supplies)
}
