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
	i := v.place(s)
	if c == nil || i < 0 || i >= len(c.Supplies) {
		return figures.SupplyCase{}, false
	}
	v.Figures.Need(s)
	return c.Supplies[i], c.Supplies[i].OK
}

func (v *View) jointCase(j *schema.Joint, c *figures.Case) (figures.JointCase, bool) {
	i := v.place(j)
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
	i := v.place(s)
	if i < 0 || i >= len(v.Figures.Any.Supplies) {
		return figures.AnySupply{}, false
	}
	v.Figures.Need(s)
	return v.Figures.Any.Supplies[i], v.Figures.Any.Supplies[i].OK
}
