package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var HolderFull = &lint.Rule{
	Name:    "holder-full",
	Title:   "More fuses sit in a block than it has ways",
	Level:   lint.Error,
	Why:     `A fuse block has a place for each fuse; what does not fit is wired past it, or not fused at all.`,
	Formula: "Leads with a fuse that name the holder, against its `ways`. A holder without ways is an in-line one, of which each lead has its own.",
	Do:      `Use a block of more ways, or a second one with a name of its own.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return instead(blocked(), "ways = 2", "ways = 1") },
	Good:    blocked,
	Check:   checkHolderFull,
}

// blocked is the shelf with the fuses of its runs in one block.
func blocked() string {
	return instead(shelf, `run "top" {`, `holder "block" {
  like = catalog.blade_block_4
  ways = 2
}

run "top" {`, `  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
`, `  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
  holder = holder.block
`, lowLead, lowLead+"  holder = holder.block\n")
}

// anotherBlock proposes a second block of fuses like one that is full, for the leads that find no room in it.
func anotherBlock(p *schema.Plan, full *schema.Holder, leads []*figures.Lead) [][]lint.Proposal {
	name := freeName(p, "holder", full.Name+"-2")
	behind := full.Node
	if full.Home != schema.InPlan {
		behind = leads[0].Node
	}
	edits := []lint.Edit{after(behind, fmt.Sprintf("holder %q {\n  like = %s\n}", name, full.ID()))}
	for _, l := range leads {
		edits = append(edits, schema.SetAttr(&l.Header, "holder", "holder."+name))
	}
	return [][]lint.Proposal{{proposal("Add a second block like "+full.ID(), edits...)}}
}

func checkHolderFull(p *lint.Pass) {
	in := map[*schema.Holder][]*figures.Lead{}
	for _, l := range p.Figures.Leads {
		h := l.Holder.V
		if !l.Fused() || l.Holder.Bad || h == nil || !h.Ways.Set || h.Ways.Bad {
			continue
		}
		in[h] = append(in[h], l)
	}
	for _, l := range p.Figures.Leads { // in the order of the text, reported at the first that does not fit
		leads := in[l.Holder.V]
		if l.Holder.V == nil || len(leads) == 0 {
			continue
		}
		ways := l.Holder.V.Ways.V
		if len(leads) <= ways || leads[ways] != l {
			continue
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Holder.At), Value: &lint.Value{Got: float64(len(leads)), Limit: float64(ways)},
			Message: fmt.Sprintf("%s: %s sit in %s, which takes %d; use a block of more ways, or a second one", l.ID(), count(len(leads), "fuse", "fuses"), l.Holder.V.ID(), ways),
		}
		for _, o := range leads[:ways] {
			f.Related = append(f.Related, lint.Related{At: o.At(o.Holder.At), Message: "the fuse of " + o.ID() + " sits there"})
		}
		f.Propose = func() [][]lint.Proposal { return anotherBlock(p.Plan, l.Holder.V, leads[ways:min(len(leads), 2*ways)]) }
		p.Report(f)
	}
}
