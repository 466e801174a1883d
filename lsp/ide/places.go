package ide

import (
	"sync"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// places says where a block stands among the figures, worked out when it is
// first asked for.
type places struct {
	once  sync.Once
	index map[schema.Block]int
}

func (v *View) place(b schema.Block) int {
	v.places.once.Do(func() {
		f := v.Figures
		v.places.index = make(map[schema.Block]int, len(f.Runs)+len(f.Leads)+len(f.Controllers)+len(v.Plan.Supplies)+len(v.Plan.Joints))
		for i, r := range f.Runs {
			v.places.index[r.Run] = i
		}
		for i, l := range f.Leads {
			v.places.index[l.Lead] = i
		}
		for i, c := range f.Controllers {
			v.places.index[c.Controller] = i
		}
		for i, s := range v.Plan.Supplies {
			v.places.index[s] = i
		}
		for i, j := range v.Plan.Joints {
			v.places.index[j] = i
		}
	})
	if i, ok := v.places.index[b]; ok {
		return i
	}
	return -1
}

func (v *View) runIndex(r *schema.Run) int { return v.place(r) }

func (v *View) leadIndex(l *schema.Lead) int { return v.place(l) }

func (v *View) controllerIndex(c *schema.Controller) int { return v.place(c) }

// runCase is a run in a case; false where that could not be worked out.
func (v *View) runCase(i int, c *figures.Case) (figures.RunCase, bool) {
	if c == nil || i < 0 || i >= len(c.Runs) || !c.Runs[i].OK {
		return figures.RunCase{}, false
	}
	return c.Runs[i], true
}

func (v *View) leadCase(i int, c *figures.Case) (figures.LeadCase, bool) {
	if c == nil || i < 0 || i >= len(c.Leads) || !c.Leads[i].OK {
		return figures.LeadCase{}, false
	}
	return c.Leads[i], true
}

func (v *View) supplyCase(s *schema.Supply, c *figures.Case) (figures.SupplyCase, bool) {
	if i := v.place(s); c != nil && i >= 0 && i < len(c.Supplies) && c.Supplies[i].OK {
		return c.Supplies[i], true
	}
	return figures.SupplyCase{}, false
}

func (v *View) jointCase(j *schema.Joint, c *figures.Case) (figures.JointCase, bool) {
	if i := v.place(j); c != nil && i >= 0 && i < len(c.Joints) && c.Joints[i].OK {
		return c.Joints[i], true
	}
	return figures.JointCase{}, false
}

func (v *View) controllerCase(i int, c *figures.Case) (figures.ControllerCase, bool) {
	if c == nil || i < 0 || i >= len(c.Controllers) || !c.Controllers[i].OK {
		return figures.ControllerCase{}, false
	}
	return c.Controllers[i], true
}

func (v *View) anyLead(i int) (figures.AnyLead, bool) {
	if i < 0 || i >= len(v.Figures.Any.Leads) || !v.Figures.Any.Leads[i].OK {
		return figures.AnyLead{}, false
	}
	return v.Figures.Any.Leads[i], true
}

func (v *View) anyRun(i int) (figures.AnyRun, bool) {
	if i < 0 || i >= len(v.Figures.Any.Runs) || !v.Figures.Any.Runs[i].OK {
		return figures.AnyRun{}, false
	}
	return v.Figures.Any.Runs[i], true
}
