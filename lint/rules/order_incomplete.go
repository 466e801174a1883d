package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var OrderIncomplete = &lint.Rule{
	Name:  "order-incomplete",
	Title: "A run stands in no order",
	Level: lint.Warning,
	Why: `Effects and network addresses see only the pixels that an order holds.
A run that is in none, in a plan that has orders, will stay dark or show whatever was left in its memory.`,
	Do: `Put the run into an order where an effect is to meet it.
A plan without any order is not judged.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return instead(shelf, "[run.top, run.low]", "[run.top]") },
	Good:    func() string { return shelf },
	Check:   checkOrderIncomplete,
}

func checkOrderIncomplete(p *lint.Pass) {
	in := map[*schema.Run]bool{}
	for _, o := range p.Plan.Orders {
		if !o.Runs.Known() {
			return
		}
		for _, ref := range o.Runs.V {
			in[ref.Run] = true
		}
	}
	if len(p.Plan.Orders) == 0 || !p.Figures.Complete {
		return
	}
	last := p.Plan.Orders[len(p.Plan.Orders)-1]
	for _, r := range p.Plan.Runs {
		if in[r] {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.Head(),
			Message: fmt.Sprintf("%s: stands in no order, so that no effect reaches it; add it to the runs of %s", r.ID(), last.ID()),
			Related: []lint.Related{{At: last.At(last.Runs.At), Message: "an order of the plan"}},
		}
		if len(p.Plan.Orders) > 1 {
			f.Message = fmt.Sprintf("%s: stands in none of the %d orders, so that no effect reaches it; add it to the runs of one", r.ID(), len(p.Plan.Orders))
			f.Related = nil
		}
		for _, o := range p.Plan.Orders {
			f.Fixes = append(f.Fixes, addToOrder(o, r)...)
		}
		p.Report(f)
	}
}

// addToOrder puts a run at the end of an order's list.
func addToOrder(o *schema.Order, r *schema.Run) []lint.Fix {
	a, ok := o.Node.Assign("runs")
	if !ok || len(a.Val.Listed()) == 0 || r.Copy > 0 {
		return nil
	}
	items := a.Val.Listed()
	first, last := items[0].At, items[len(items)-1].At
	first.End, last.Start = first.Start, last.End
	edits := []lint.Edit{{At: last, New: ", " + r.ID()}}
	if a.Val.Kind != schema.ListVal {
		edits = []lint.Edit{{At: first, New: "["}, {At: last, New: ", " + r.ID() + "]"}}
	}
	return []lint.Fix{{Title: fmt.Sprintf("Add %s to %s", r.ID(), o.ID()), Edits: edits}}
}
