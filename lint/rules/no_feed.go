package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

var NoFeed = &lint.Rule{
	Name:  "no-feed",
	Title: "No lead brings power to a run or controller",
	Level: lint.Error,
	Why: `Power and data go separate ways in a plan: a signal brings only data.
A run or a controller that no lead leads to from a supply stays dark.
A controller with a supply of its own says ` + "`own_power = true`" + `.`,
	Do: `Add a lead from a supply, or from a joint that a supply feeds, to the run's start or end, or to the controller's power terminal.
Where there is no supply yet, ` + "`ohmstead size NAME --write`" + ` drafts it with all leads: it takes ` + "`mains`" + ` in the plan block.`,
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(shelf, "lead \"low\" {\n  from   = supply.brick.out\n"+lowLead+"  fuse   = \"5 A\"\n}\n\n", "")
	},
	Good:  func() string { return shelf },
	Check: checkNoFeed,
}

func checkNoFeed(p *lint.Pass) {
	if !p.Figures.Complete {
		return
	}
	joined := p.Figures.Connectivity()
	report := func(b schema.Block, fix func() []lint.Fix) {
		if len(joined.Plus(b)) > 0 || len(joined.Minus(b)) > 0 {
			return // a side of it is there: return-missing
		}
		h := schema.HeaderOf(b)
		id := h.ID()
		f := lint.Finding{Subject: id, At: h.Head()}
		if joined.Touched(b) {
			f.Message = fmt.Sprintf("%s: no supply feeds what its leads lead to; add a lead from a supply to %s", id, farEnd(p.Plan, id))
		} else {
			f.Message = fmt.Sprintf("%s: no lead brings power to it; %s", id, feedAdvice(p.Plan))
			f.Fixes = fix()
		}
		p.Report(f)
	}
	for _, r := range p.Plan.Runs {
		report(r, func() []lint.Fix { return leadFix(p.Plan, &r.Header, ".start") })
	}
	for _, c := range p.Plan.Controllers {
		if c.OwnPower.Known() && !c.OwnPower.V {
			report(c, func() []lint.Fix { return leadFix(p.Plan, &c.Header, ".power") })
		}
	}
}

// feedAdvice says what to do about a block without a lead. Where there is nothing yet that a lead could come from, all of
// the power can be drafted.
func feedAdvice(p *schema.Plan) string {
	switch {
	case len(p.Supplies) > 0 || len(p.Joints) > 0:
		return "add one from a supply or joint"
	case !sizing.Bare(p):
		return "write a supply, and a lead from it"
	case p.Head != nil && p.Head.Mains.Known() && p.Head.Mains.Set:
		return "run ohmstead size NAME --write, which drafts supply and leads"
	}
	return `write mains = "230 V" or "120 V" into the plan block and run ohmstead size NAME --write, which drafts supply and leads`
}

// leadFix adds a lead from the plan's only supply, like the leads that there
// are: of the wire of the first, and without a fuse where that is to be chosen.
// Its length is the way between its places; one that nobody measured is not made up.
func leadFix(p *schema.Plan, to *schema.Header, place string) []lint.Fix {
	if len(p.Supplies) != 1 || p.Supplies[0].Outputs.V != 1 || to.Node == nil || to.Copy > 0 {
		return nil
	}
	for _, l := range p.Leads {
		if !l.Wire.Known() || l.From.V == nil || l.From.V.Supply != p.Supplies[0] || !l.Plus() || !l.Minus() {
			continue
		}
		text := fmt.Sprintf("lead %q {\n  from   = %s.out\n  to     = %s\n  wire   = %s\n", freeName(p, "lead", to.Name), p.Supplies[0].ID(), to.ID()+place, l.Wire.V.ID())
		if l.Fuse.Set && !l.Fuse.Bad {
			text += fmt.Sprintf("  fuse   = %q\n", l.Fuse.V.Exact())
			if h := l.Holder.V; h != nil && !h.Ways.Set { // of a block nobody knows a free way
				text += fmt.Sprintf("  holder = %s\n", h.ID())
			}
		}
		return []lint.Fix{{Title: "Add a lead like " + l.ID(), Edits: []lint.Edit{after(to.Node, text+"}")}}}
	}
	return nil
}

// farEnd names what the first lead of a block comes from, or the block where
// that is not known.
func farEnd(p *schema.Plan, id string) string {
	for _, l := range p.Leads {
		if !l.From.Known() || !l.To.Known() || !touches(l, id) {
			continue
		}
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt != nil && schema.HeaderOf(pt.Block()).ID() != id {
				return pt.String()
			}
		}
	}
	return id
}
