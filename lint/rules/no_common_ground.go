package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var NoCommonGround = &lint.Rule{
	Name:  "no-common-ground",
	Title: "Controller and pixels have no common minus",
	Level: lint.Error,
	Why: `A data line is a voltage against minus.
Where the minus of the controller is not joined to the minus of the pixels that it drives, the pixels see no defined level: they flicker, stay dark, or the current looks for a way through the data line and harms a chip.
That holds for a controller with a supply of its own as well.`,
	Do: `Join the two with a lead that carries only minus, from the supply or joint that feeds the pixels to the controller's power terminal, along the data line.
Join minus only: two supplies share a plus only where their maker allows it.
When connecting, make the minus first, then plus, then data.`,
	Sources: []string{
		"common practice, no source (a component seller's best-practice guide for addressable LEDs says the same)",
	},
	Bad: func() string {
		return instead(shelf, `  ceiling = "4 A"`, `  ceiling = "4 A"`+"\n\n  own_power = true", leadBoard, "")
	},
	Good: func() string {
		return instead(shelf, `  ceiling = "4 A"`, `  ceiling = "4 A"`+"\n\n  own_power = true", `  fuse   = "1 A"`, `  carries = "minus"`, "  from   = supply.brick.out\n  to     = controller.brain.power\n  wire   = wire.data\n  length = \"20 cm\"", "  from    = supply.brick.out\n  to      = controller.brain.power\n  wire    = wire.data\n  length  = \"20 cm\"")
	},
	Check: checkNoCommonGround,
}

const leadBoard = `lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.data
  length = "20 cm"
  fuse   = "1 A"
}

`

func checkNoCommonGround(p *lint.Pass) {
	if !p.Figures.Complete {
		return
	}
	joined := p.Figures.Connectivity()
	for _, c := range p.Figures.Controllers {
		own := joined.Minus(c)
		if !c.OwnPower.Known() || !c.OwnPower.V && len(own) == 0 {
			continue // it has no minus at all, which other rules report
		}
		for _, r := range c.Runs {
			of := joined.Minus(r)
			if len(of) == 0 || len(own) > 0 && of[0] == own[0] {
				continue
			}
			from, feeds := feedOf(p.Plan, r.Run)
			f := lint.Finding{
				Subject: c.ID(), At: c.Head(),
				Message: fmt.Sprintf("%s: its minus is not joined to the minus of %s, which it drives", c.ID(), r.ID()),
				Related: []lint.Related{{At: r.Head(), Message: "the run that it drives"}},
			}
			if c.OwnPower.V {
				f.At = c.At(c.OwnPower.At)
			}
			if feeds {
				f.Message += fmt.Sprintf("; lead minus from %s to %s.power, beside the data line", from, c.ID())
				f.Fixes = joinGround(p.Figures, c, from)
			}
			p.Report(f)
			break // one lead mends it for all runs on that supply
		}
	}
}

// feedOf is where the minus of a run comes from: the far end of a lead to it.
func feedOf(plan *schema.Plan, r *schema.Run) (*schema.Point, bool) {
	for _, l := range plan.Leads {
		if !l.From.Known() || !l.To.Known() || !l.Minus() {
			continue
		}
		if l.To.V.Run == r && l.From.V.Run != r {
			return l.From.V, true
		}
		if l.From.V.Run == r && l.To.V.Run != r {
			return l.To.V, true
		}
	}
	return nil, false
}

// joinGround adds the missing lead, made as long as and of the same wire as
// the signal that it goes along.
func joinGround(fig *figures.Figures, c *figures.Controller, from *schema.Point) []lint.Fix {
	for _, s := range fig.Plan.Signals {
		if !s.From.Known() || s.From.V.Controller != c.Controller || !s.Wire.Known() || s.Copy > 0 {
			continue
		}
		length, _, ok := fig.SignalLength(s)
		if !ok || from.Run != nil && from.Where != schema.AtStart && from.Where != schema.AtEnd {
			continue
		}
		text := fmt.Sprintf("lead %q {\n  from    = %s\n  to      = %s.power\n  wire    = %s\n  length  = %q\n  carries = \"minus\"\n}",
			freeName(fig.Plan, "lead", c.Name+"-minus"), from, c.ID(), s.Wire.V.ID(), lengthLike(s.Length.V, length))
		return []lint.Fix{{Title: "Add a lead that carries minus", Edits: []lint.Edit{after(c.Node, text)}}}
	}
	return nil
}
