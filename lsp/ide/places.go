package ide

import (
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// runCase is a run in a case; false where that could not be worked out.
func (v *View) runCase(i int, c *figures.Case) (figures.RunCase, bool) {
	if c == nil || i < 0 || i >= len(c.Runs) {
		return figures.RunCase{}, false
	}
	v.Figures.Need(v.Figures.Runs[i].Run)
	return c.Runs[i], c.Runs[i].OK
}

func (v *View) leadCase(i int, c *figures.Case) (figures.LeadCase, bool) {
	if c == nil || i < 0 || i >= len(c.Leads) {
		return figures.LeadCase{}, false
	}
	v.Figures.Need(v.Figures.Leads[i].Lead)
	return c.Leads[i], c.Leads[i].OK
}

func (v *View) supplyCase(s *schema.Supply, c *figures.Case) (figures.SupplyCase, bool) {
	i := v.Figures.Place(s)
	if c == nil || i < 0 || i >= len(c.Supplies) {
		return figures.SupplyCase{}, false
	}
	v.Figures.Need(s)
	return c.Supplies[i], c.Supplies[i].OK
}

func (v *View) jointCase(j *schema.Joint, c *figures.Case) (figures.JointCase, bool) {
	i := v.Figures.Place(j)
	if c == nil || i < 0 || i >= len(c.Joints) {
		return figures.JointCase{}, false
	}
	v.Figures.Need(j)
	return c.Joints[i], c.Joints[i].OK
}

func (v *View) controllerCase(i int, c *figures.Case) (figures.ControllerCase, bool) {
	if c == nil || i < 0 || i >= len(c.Controllers) {
		return figures.ControllerCase{}, false
	}
	v.Figures.Need(v.Figures.Controllers[i].Controller)
	return c.Controllers[i], c.Controllers[i].OK
}

func (v *View) anyLead(i int) (figures.AnyLead, bool) {
	if i < 0 || i >= len(v.Figures.Any.Leads) {
		return figures.AnyLead{}, false
	}
	v.Figures.Need(v.Figures.Leads[i].Lead)
	return v.Figures.Any.Leads[i], v.Figures.Any.Leads[i].OK
}

func (v *View) anyRun(i int) (figures.AnyRun, bool) {
	if i < 0 || i >= len(v.Figures.Any.Runs) {
		return figures.AnyRun{}, false
	}
	v.Figures.Need(v.Figures.Runs[i].Run)
	return v.Figures.Any.Runs[i], v.Figures.Any.Runs[i].OK
}

func (v *View) anySupply(s *schema.Supply) (figures.AnySupply, bool) {
	i := v.Figures.Place(s)
	if i < 0 || i >= len(v.Figures.Any.Supplies) {
		return figures.AnySupply{}, false
	}
	v.Figures.Need(s)
	return v.Figures.Any.Supplies[i], v.Figures.Any.Supplies[i].OK
}
