package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"

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

// setCeiling proposes a controller's ceiling.
func setCeiling(c *figures.Controller, amps float64) lint.Proposal {
	q := quantity.Of(quantity.Current, amps).Exact()
	return proposal(fmt.Sprintf("Set the ceiling of %s to %s", c.ID(), q), schema.SetAttr(&c.Header, "ceiling", strconv.Quote(q)))
}

// ceilingsThatKeep proposes the ceilings, in steps of 0.1 A, under which a run
// gives off at most a share of what it gives off in case held.
func ceilingsThatKeep(f *figures.Figures, r *figures.Run, share float64) []lint.Proposal {
	c := driverOf(f, r.Run)
	k, ok := f.Case(schema.Held)
	if c == nil || !ok {
		return nil
	}
	now := k.Controllers[slices.Index(f.Controllers, c)]
	if !now.OK {
		return nil
	}
	var out []lint.Proposal
	// Less current loses less on the way, so a little less than the share.
	for _, less := range []float64{0.97, 0.9} {
		if most := math.Floor(now.Estimate*share*less*10) / 10; most > c.Idle {
			out = append(out, setCeiling(c, most))
		}
	}
	return out
}
