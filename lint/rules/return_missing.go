package rules

import (
	"fmt"
	"slices"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var ReturnMissing = &lint.Rule{
	Name:  "return-missing",
	Title: "Current has a way to a run but none back",
	Level: lint.Error,
	Why: `Current flows in a circle: from the plus of a supply through the pixels and back to the minus of the same supply.
With plus alone, or with minus alone, nothing lights; worse, the current may look for a way back through the data line and a chip.`,
	Do: `Use leads that carry the pair, or add a lead for the missing side.
Several supplies share their minus: join it, and keep the pluses apart.
When connecting, make the minus first, then plus, then data.`,
	Sources: []string{
		"Kirchhoff's current law",
		"common practice, no source: minus is connected first (a component seller's best-practice guide for addressable LEDs says the same)",
	},
	Bad: func() string {
		return instead(shelf, "  from   = supply.brick.out\n"+lowLead+"  fuse   = \"5 A\"", lowPlus)
	},
	Good: func() string {
		return instead(shelf, "  from   = supply.brick.out\n"+lowLead+"  fuse   = \"5 A\"\n}\n", lowPlus+"\n}\n\n"+lowBack)
	},
	Check: checkReturnMissing,
}

const lowPlus = `  from    = supply.brick.out
  to      = run.low.start
  wire    = wire.feed
  length  = "1 m"
  fuse    = "5 A"
  carries = "plus"`

const lowBack = `lead "low-back" {
  from    = supply.brick.out
  to      = run.low.start
  wire    = wire.feed
  length  = "1 m"
  carries = "minus"
}
`

func checkReturnMissing(p *lint.Pass) {
	if !p.Figures.Complete {
		return
	}
	joined := p.Figures.Connectivity()
	report := func(b schema.Block, ownPower bool) {
		plus, minus := joined.Plus(b), joined.Minus(b)
		id := schema.HeaderOf(b).ID()
		f := lint.Finding{Subject: id, At: schema.HeaderOf(b).Head()}
		switch {
		case len(plus) == 0 && len(minus) == 0 || closed(plus, minus):
			return
		case len(minus) == 0:
			f.Message = fmt.Sprintf("%s: plus arrives from %s and no minus leads back to it; add a lead that carries minus, or both", id, named(outputs(plus)))
		case len(plus) == 0:
			if ownPower {
				return
			}
			f.Message = fmt.Sprintf("%s: its minus leads to %s and no plus arrives; add a lead that carries plus, or both", id, named(idsOf(minus)))
		default:
			f.Message = fmt.Sprintf("%s: plus arrives from %s and minus leads back to %s, so no current flows; join the minus of the two supplies", id, named(outputs(plus)), named(idsOf(minus)))
		}
		for _, l := range p.Plan.Leads {
			if touches(l, id) {
				f.Related = append(f.Related, lint.Related{At: l.Head(), Message: "carries " + side(l)})
				if l.Carries.V == "plus" && !l.Carries.Bad && len(f.Fixes) == 0 && l.Node != nil && len(plus)+len(minus) == 1 {
					f.Fixes = []lint.Fix{{Title: "Let " + l.ID() + " carry the pair", Edits: []lint.Edit{schema.SetAttr(&l.Header, "carries", `"pair"`)}}}
				}
			}
		}
		p.Report(f)
	}
	for _, r := range p.Plan.Runs {
		report(r, false)
	}
	for _, c := range p.Plan.Controllers {
		report(c, c.OwnPower.V)
	}
}

// closed reports whether a supply whose plus arrives has its minus there too.
func closed(plus []figures.Output, minus []*schema.Supply) bool {
	for _, o := range plus {
		if slices.Contains(minus, o.Supply) {
			return true
		}
	}
	return false
}

func outputs(os []figures.Output) []string {
	var out []string
	for _, o := range os {
		name := o.Supply.ID()
		if o.Supply.Outputs.V > 1 {
			name = fmt.Sprintf("%s.out[%d]", name, o.Number)
		}
		out = append(out, name)
	}
	return out
}

// touches reports whether a lead ends at a block.
func touches(l *schema.Lead, id string) bool {
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt != nil && schema.HeaderOf(pt.Block()).ID() == id {
			return true
		}
	}
	return false
}

func side(l *schema.Lead) string {
	if l.Carries.V == "pair" {
		return "plus and minus"
	}
	return l.Carries.V + " only"
}
