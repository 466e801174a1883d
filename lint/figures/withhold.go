package figures

import "ohmstead/schema"

// uncounted tells whether it is not known how many there are of some block of
// the wiring: what its copies carry may hang on any network.
func (f *Figures) uncounted() (schema.Block, bool) {
	for _, b := range f.Plan.Blocks {
		switch b := b.(type) {
		case *schema.Run:
			if b.Times.Bad {
				return b, true
			}
		case *schema.Lead:
			if b.Times.Bad {
				return b, true
			}
		case *schema.Joint:
			if b.Times.Bad {
				return b, true
			}
		}
	}
	return nil, false
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

// withheld tells whether a case is left out because ceilings apply in it and
// one of them is not known: without it there would be more current than there
// is. The bound over every pattern is left out then as well.
func (f *Figures) withheld(c *Case) bool { return f.unheld && c.Held }
