package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var PushTooFar = &lint.Rule{
	Name:  "push-too-far",
	Title: "A strip is pushed further into its tube than it goes",
	Level: lint.Warning,
	Why: `A strip pushed into a silicone tube rubs against its wall and buckles; after about 60 cm it jams, and more force breaks solder joints.
A cord drawn through first, or a tube slit along its back, has no such limit.`,
	Do: `Write how it gets in: insert = "cord" where a cord is pulled through first, insert = "slit" where the tube is open along its back.
Or make two shorter runs of it.`,
	Sources: []string{"common practice, no source: about 0.6 m (2 ft), give or take a quarter"},
	Bad:     func() string { return instead(tubed(), "insert   = \"cord\"", "insert   = \"push\"") },
	Good:    tubed,
	Check:   checkPushTooFar,
}

// tubed is the shelf with its upper run bent in a tube.
func tubed() string {
	return instead(shelf,
		"controller \"brain\"", `diffuser "tube" { like = catalog.silicone_tube_side_bend }

surface "wall" {
  width  = "1.2 m"
  height = "80 cm"
}

controller "brain"`,
		"run \"top\" {\n  strip  = strip.led\n  length = \"1 m\"\n}", `run "top" {
  strip    = strip.led
  diffuser = diffuser.tube
  insert   = "cord"
  on       = surface.wall
  path {
    start   = ["10 cm", "30 cm"]
    heading = "0 deg"
    line { length = "40 cm" }
    arc {
      radius = "10 cm"
      sweep  = "90 deg"
      turn   = "left"
    }
    line { length = "30 cm" }
  }
}`)
}

func checkPushTooFar(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		d := r.Diffuser.V
		if r.Length == 0 || d == nil || !r.Diffuser.Known() || !r.Insert.Known() || r.Insert.V != "push" || d.Kind.V != "tube" || !d.PushLimit.Known() {
			continue
		}
		limit := d.PushLimit.V.SI
		if r.Length <= limit {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.Head(), Value: &lint.Value{Got: r.Length, Limit: limit, Unit: "m"},
			Message: fmt.Sprintf("%s: is pushed %s into %s, further than the %s that it goes", r.ID(), p.Figures.Habit.ShowAgainst(quantity.Length, r.Length, limit), d.ID(), p.Figures.Habit.Quantity(d.PushLimit.V)),
		}
		if r.Insert.Set {
			f.At = r.At(r.Insert.At)
		}
		f.Message += "; pull it in with a cord (insert = \"cord\"), take a tube with a slit, or make two runs of it"
		f.Fixes = []lint.Fix{
			{Title: `Write insert = "cord"`, Edits: []lint.Edit{schema.SetAttr(&r.Header, "insert", `"cord"`)}},
			{Title: `Write insert = "slit"`, Edits: []lint.Edit{schema.SetAttr(&r.Header, "insert", `"slit"`)}},
		}
		p.Report(f)
	}
}
