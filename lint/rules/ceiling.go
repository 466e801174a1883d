package rules

import (
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// lowerCeiling says whose ceiling bounds what a run draws: one to set where
// there is none yet. It is "" where no controller drives the run.
func lowerCeiling(f *figures.Figures, r *schema.Run) string {
	c := driverOf(f, r)
	switch {
	case c == nil:
		return ""
	case c.Ceiling.Set:
		return "lower the ceiling of " + c.ID()
	}
	return "set a ceiling in " + c.ID()
}

// driverOf is the controller whose data reaches a run; nil where none does.
func driverOf(f *figures.Figures, r *schema.Run) *figures.Controller {
	for _, c := range f.Controllers {
		if slices.ContainsFunc(c.Runs, func(x *figures.Run) bool { return x.Run == r }) {
			return c
		}
	}
	return nil
}

// ceilingThatKeeps looks for the ceiling, in steps of 0.1 A, under which a run
// gives off at most a share of what it gives off in case held, and tries it.
func ceilingThatKeeps(p *lint.Pass, r *figures.Run, share float64) (string, bool) {
	c := driverOf(p.Figures, r.Run)
	if c == nil {
		return "", false
	}
	i := slices.Index(p.Figures.Controllers, c)
	for _, k := range p.Figures.Cases {
		if k.Name != schema.Held || !k.Controllers[i].OK {
			continue
		}
		// Less current loses less on the way, so a little less than the share.
		for _, less := range []float64{0.97, 0.9} {
			most := math.Floor(k.Controllers[i].Estimate*share*less*10) / 10
			if most <= c.Idle {
				return "", false
			}
			lower := *c.Controller
			lower.Ceiling.V, lower.Ceiling.Set, lower.Ceiling.Bad = quantity.Of(quantity.Current, most), true, false
			if _, ok := p.Clears(r.ID(), func(plan *schema.Plan) { swapController(plan, c.Controller, &lower) }); ok {
				return fmt.Sprintf("a ceiling of %s in %s", lower.Ceiling.V.Exact(), c.ID()), true
			}
		}
	}
	return "", false
}
