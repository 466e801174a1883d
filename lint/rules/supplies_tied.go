package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var SuppliesTied = &lint.Rule{
	Name:  "supplies-tied",
	Title: "The pluses of two supplies are joined",
	Level: lint.Error,
	Guard: true,
	Why: `No two supplies, and no two separately limited outputs of one, hold quite the same voltage.
Joined at their pluses, by leads or by the copper of a strip, the higher one gives nearly all the current and may feed the lower one backwards.
Few supplies stand that: protection trips, one carries everything, and when one of them fails the other feeds the fault as well.
A board with a supply of its own, such as a USB plug, is the same matter: what leads to it carries minus alone.
Their minuses are another matter: those are joined, so that data has one reference.`,
	Formula: "the network solved in the dark and in the case full; an output with a negative current is fed backwards",
	Do: `Cut the plus between the two: where one strip is fed from both, make two runs of it, cut the plus copper between them and leave minus and data through.
Or feed all of it from one supply.
Where the maker of the supplies allows them in parallel, say so in an allow comment.`,
	Sources: []string{
		"common practice, no source: pluses of supplies are joined only where their maker allows it",
		"the figures: Kirchhoff's laws, solved for this plan",
	},
	Bad: func() string {
		return instead(twoBricks(), "  from   = supply.brick.out\n"+lowLead+"  fuse   = \"5 A\"\n}\n", "  from   = supply.brick.out\n"+lowLead+"  fuse   = \"5 A\"\n}\n\n"+lowEnd+"\n"+commonMinus)
	},
	Good: func() string {
		return instead(twoBricks(), "  from   = supply.brick.out\n"+lowLead, "  from   = supply.second.out\n"+lowLead, `lead "board"`, commonMinus+"\n"+`lead "board"`)
	},
	Check: checkSuppliesTied,
}

// twoBricks is the shelf with a second supply that nothing hangs on yet.
func twoBricks() string {
	return instead(shelf, `controller "brain"`, `supply "second" {
  output = "5 V"
  trim   = "4.9 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "brain"`)
}

const lowEnd = `lead "low-end" {
  from   = supply.second.out
  to     = run.low.end
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
`

const commonMinus = `lead "common" {
  from    = supply.brick.out
  to      = supply.second.out
  wire    = wire.feed
  length  = "50 cm"
  carries = "minus"
}
`

func checkSuppliesTied(p *lint.Pass) {
	backFedBoards(p)
	joined := p.Figures.Connectivity()
	for _, group := range joined.Tied() {
		last := group[len(group)-1]
		s := last.Supply
		var others []figures.Output
		for _, o := range group {
			if o != last {
				others = append(others, o)
			}
		}
		f := lint.Finding{Subject: s.ID(), At: s.Head(), Message: fmt.Sprintf("%s: its plus is joined with that of %s", outputID(last), named(outputs(others)))}
		if through := joining(p.Plan, joined, last); len(through) > 0 {
			f.Message += " through " + named(through)
		}
		if said, value := backFed(p.Figures, group); said != "" {
			f.Message += ", so that " + said
			f.Value, f.Case = &value, "dark"
		}
		if l := between(p.Plan, group); l != nil {
			f.Message += "; write carries = \"minus\" in " + l.ID()
		} else {
			f.Message += "; cut the plus between them, keep the minus joined"
		}
		var tying []*schema.Lead
		if l := between(p.Plan, group); l != nil {
			tying = append(tying, l)
		}
		for _, l := range p.Plan.Leads {
			if l.Plus() && touches(l, s.ID()) && l.From.Known() && l.To.Known() {
				f.Related = append(f.Related, lint.Related{At: l.Head(), Message: "joins its plus"})
				tying = append(tying, l)
			}
		}
		f.Propose = func() [][]lint.Proposal { return [][]lint.Proposal{onlyMinus(tying)} }
		p.Report(f)
	}
}

// backFedBoards finds the boards with a supply of their own that the plan's
// leads bring a second plus.
func backFedBoards(p *lint.Pass) {
	for _, c := range p.Plan.Controllers {
		if !c.OwnPower.Known() || !c.OwnPower.V {
			continue
		}
		for _, l := range p.Plan.Leads {
			if !l.Plus() || l.Carries.Bad || !l.From.Known() || !l.To.Known() || !touches(l, c.ID()) {
				continue
			}
			f := lint.Finding{
				Subject: c.ID(), At: c.At(c.OwnPower.At),
				Message: fmt.Sprintf("%s: has a supply of its own, and %s joins its plus with another; write carries = \"minus\" in %s, or own_power = false",
					c.ID(), l.ID(), l.ID()),
				Related: []lint.Related{{At: l.Head(), Message: "joins its plus"}},
			}
			if l.Node != nil && l.Home == schema.InPlan && !l.Fuse.Set {
				f.Fixes = []lint.Fix{{Title: "Write carries = \"minus\"", Edits: []lint.Edit{schema.SetAttr(&l.Header, "carries", `"minus"`)}}}
			}
			p.Report(f)
		}
	}
}

// onlyMinus proposes for each of some leads that it carries minus alone, without a fuse then.
func onlyMinus(leads []*schema.Lead) (out []lint.Proposal) {
	for _, l := range leads {
		edits := []lint.Edit{schema.SetAttr(&l.Header, "carries", `"minus"`)}
		for _, name := range []string{"fuse", "holder"} {
			if a, own := l.Node.Assign(name); own {
				edits = append(edits, lint.Edit{At: schema.WholeLines(a.Whole)})
			}
		}
		out = append(out, proposal("Write carries = \"minus\" in "+l.ID(), edits...))
	}
	return out
}

func outputID(o figures.Output) string { return outputs([]figures.Output{o})[0] }

// between is the one lead with plus that goes straight from one of a group's
// supplies to another, where minus alone was meant.
func between(p *schema.Plan, group []figures.Output) (found *schema.Lead) {
	for _, l := range p.Leads {
		if !l.Plus() || !l.From.Known() || !l.To.Known() || l.From.V.Supply == nil || l.To.V.Supply == nil || l.From.V.Supply == l.To.V.Supply {
			continue
		}
		for _, o := range group {
			if o.Supply != l.From.V.Supply {
				continue
			}
			if found != nil {
				return nil
			}
			found = l
		}
	}
	return found
}

// joining lists the runs and joints that tie an output to others.
func joining(p *schema.Plan, joined *figures.Connectivity, o figures.Output) []string {
	var blocks []schema.Block
	for _, r := range p.Runs {
		blocks = append(blocks, r)
	}
	for _, j := range p.Joints {
		blocks = append(blocks, j)
	}
	var out []string
	for _, b := range joined.Between(o, blocks) {
		if id := schema.HeaderOf(b).ID(); severallyFed(p, id) {
			out = append(out, id)
		}
	}
	return out
}

// severallyFed reports whether more than one lead with plus ends at a block.
func severallyFed(p *schema.Plan, id string) bool {
	n := 0
	for _, l := range p.Leads {
		if l.Plus() && touches(l, id) {
			n++
		}
	}
	return n > 1
}

// backFed says which output of a group is fed backwards, in the dark and in
// the case full.
func backFed(f *figures.Figures, group []figures.Output) (said string, value lint.Value) {
	for _, is := range f.Islands {
		dark, ok := is.Dark()
		if !ok {
			continue
		}
		at := map[figures.Output]float64{}
		i := 0
		for _, s := range is.Supplies {
			for n := range s.Outputs.V {
				at[figures.Output{Supply: s, Number: n + 1}] = dark[i]
				i++
			}
		}
		for _, o := range group {
			amps, here := at[o]
			if !here || amps >= -1e-6 {
				continue
			}
			said = fmt.Sprintf("%s flow back into %s in the dark", showAmps(-amps), outputID(o))
			for _, s := range f.Cases[0].Supplies {
				if s.Supply != o.Supply || !s.OK || o.Number > len(s.Each) {
					continue
				}
				if each := s.Each[o.Number-1]; each < 0 {
					said += fmt.Sprintf(" and %s in case full", showAmps(-each))
				} else {
					said += fmt.Sprintf(", and in case full it gives %s", showAmps(each))
				}
			}
			return said, lint.Value{Got: amps, Limit: 0, Unit: "A"}
		}
	}
	return "", lint.Value{}
}
