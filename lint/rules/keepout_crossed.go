package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var KeepoutCrossed = &lint.Rule{
	Name:  "keepout-crossed",
	Title: "Something lies in a part of a surface that must stay free",
	Level: lint.Warning,
	Why: `A keepout is a socket, a door, a window: what hangs across it cannot be mounted, or is in the way of opening and unplugging.
Nothing may cover a socket or a switch.`,
	Do: `Lead the run round it, move it with shift, or move what is mounted.
If the drawing is wrong, correct the keepout.`,
	NoFix:   "Which way round is free and looks right is seen on the wall.",
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(drawn(), "  height = \"80 cm\"\n}", `  height = "80 cm"
  keepout "socket" {
    from = ["50 cm", "25 cm"]
    to   = ["58 cm", "33 cm"]
    why  = "socket outlet"
  }
}`)
	},
	Good: func() string {
		return instead(drawn(), "  height = \"80 cm\"\n}", `  height = "80 cm"
  keepout "socket" {
    from = ["50 cm", "5 cm"]
    to   = ["58 cm", "13 cm"]
    why  = "socket outlet"
  }
}`)
	},
	Check: checkKeepoutCrossed,
}

func checkKeepoutCrossed(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if !r.On.Known() {
			continue
		}
		for _, on := range r.Unfolded() {
			for _, k := range on.Keepouts {
				from, to, ok := r.Crosses(k)
				if !ok {
					continue
				}
				p.Report(lint.Finding{
					Subject: r.ID(), At: geometryAt(r.Run), Related: []lint.Related{{At: k.Head(), Message: keepoutSays(k)}},
					Message: fmt.Sprintf("%s: crosses %s of %s from %s to %s of its length; lead it round", r.ID(), keepoutSays(k), on.ID(),
						p.Figures.Habit.Show(quantity.Length, from), p.Figures.Habit.Show(quantity.Length, to)),
				})
			}
		}
	}
	eachMounted(p.Plan, func(h *schema.Header, on *schema.Surface, at schema.Value[schema.XY]) {
		for _, k := range on.Keepouts {
			if k.From.Known() && k.To.Known() && figures.PlaceIn(k, at.V) {
				p.Report(lint.Finding{
					Subject: h.ID(), At: h.At(at.At), Related: []lint.Related{{At: k.Head(), Message: keepoutSays(k)}},
					Message: fmt.Sprintf("%s: sits in %s of %s; move it", h.ID(), keepoutSays(k), on.ID()),
				})
			}
		}
	})
}

func keepoutSays(k *schema.Keepout) string {
	if k.Why.Known() && k.Why.V != "" {
		return fmt.Sprintf("keepout %q (%s)", k.Name, k.Why.V)
	}
	return fmt.Sprintf("keepout %q", k.Name)
}

// eachMounted calls with every supply, controller and joint that has a place
// on a surface.
func eachMounted(plan *schema.Plan, call func(h *schema.Header, on *schema.Surface, at schema.Value[schema.XY])) {
	one := func(h *schema.Header, on schema.Value[*schema.Surface], at schema.Value[schema.XY]) {
		if on.Known() && at.Known() {
			call(h, on.V, at)
		}
	}
	for _, s := range plan.Supplies {
		one(&s.Header, s.On, s.Place)
	}
	for _, c := range plan.Controllers {
		one(&c.Header, c.On, c.Place)
	}
	for _, j := range plan.Joints {
		one(&j.Header, j.On, j.Place)
	}
}
