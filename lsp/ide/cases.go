package ide

import (
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// worked is where a block stands in each case, with its figures worked out there; false where it has none.
func (v *View) worked(b schema.Block) (int, bool) {
	i := v.Figures.Place(b)
	if i >= 0 {
		v.Figures.Need(b)
	}
	return i, i >= 0
}

// runCase is a run in a case; false where that could not be worked out.
func (v *View) runCase(r *schema.Run, c *figures.Case) (x figures.RunCase, ok bool) {
	if i, known := v.worked(r); known && c != nil {
		x = c.Runs[i]
	}
	return x, x.OK
}

func (v *View) leadCase(l *schema.Lead, c *figures.Case) (x figures.LeadCase, ok bool) {
	if i, known := v.worked(l); known && c != nil {
		x = c.Leads[i]
	}
	return x, x.OK
}

func (v *View) supplyCase(s *schema.Supply, c *figures.Case) (x figures.SupplyCase, ok bool) {
	if i, known := v.worked(s); known && c != nil {
		x = c.Supplies[i]
	}
	return x, x.OK
}

func (v *View) jointCase(j *schema.Joint, c *figures.Case) (x figures.JointCase, ok bool) {
	if i, known := v.worked(j); known && c != nil {
		x = c.Joints[i]
	}
	return x, x.OK
}

func (v *View) controllerCase(b *schema.Controller, c *figures.Case) (x figures.ControllerCase, ok bool) {
	if i, known := v.worked(b); known && c != nil {
		x = c.Controllers[i]
	}
	return x, x.OK
}

func (v *View) anyLead(l *schema.Lead) (x figures.AnyLead, ok bool) {
	if i, known := v.worked(l); known {
		x = v.Figures.Any.Leads[i]
	}
	return x, x.OK
}

func (v *View) anyRun(r *schema.Run) (x figures.AnyRun, ok bool) {
	if i, known := v.worked(r); known {
		x = v.Figures.Any.Runs[i]
	}
	return x, x.OK
}

func (v *View) anySupply(s *schema.Supply) (x figures.AnySupply, ok bool) {
	if i, known := v.worked(s); known {
		x = v.Figures.Any.Supplies[i]
	}
	return x, x.OK
}
