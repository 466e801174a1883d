package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/lint"
)

var OverloadDoubtful = &lint.Rule{
	Name:  "overload-doubtful",
	Title: "A supply is said to cut off right at its rating",
	Level: lint.Warning,
	Guard: true,
	Why: `What a supply can feed into a fault decides which wires need a fuse.
Its own protection acts somewhere in a wide range: sheets print 105 to 135 % or 110 to 150 %, and what surely acts is the upper end.
A lower overload takes fuses away, so it needs the sheet's word.`,
	Formula: "`overload` at least 110 %, where the supply is not `limited` and says no `source`",
	Do: `Remove overload, so that 150 % count.
Or write the upper end of what its sheet prints, and the sheet as source; of a limited power source write limited = true.`,
	Sources: []string{"common practice, no source: ranges as makers of enclosed supplies print them"},
	Bad: func() string {
		return instead(shelf, brickLines, "  output   = \"5 V\"\n  rating   = \"10 A\"\n  overload = \"100 %\"\n  input    = [\"230 V\"]")
	},
	Good: func() string {
		return instead(shelf, brickLines, "  output   = \"5 V\"\n  rating   = \"10 A\"\n  overload = \"100 %\"\n  input    = [\"230 V\"]\n  source   = \"its sheet: constant current of 10 A\"")
	},
	Check: checkOverloadDoubtful,
}

// brickLines is what the shelf says of its supply.
const brickLines = `  output = "5 V"
  rating = "10 A"
  input  = ["230 V"]`

func checkOverloadDoubtful(p *lint.Pass) {
	for _, s := range p.Plan.Supplies {
		if s.Broken || !s.Overload.Set || s.Overload.Bad || s.Limited.Bad || s.Limited.V || s.Source.Bad || s.Source.V != "" || s.Overload.V.SI >= supply.LeastOverload*(1-1e-9) {
			continue
		}
		p.Report(lint.Finding{
			Subject: s.ID(), At: s.At(s.Overload.At), Value: &lint.Value{Got: s.Overload.V.SI, Limit: supply.LeastOverload, Unit: "1"},
			Message: fmt.Sprintf("%s: nothing says why it should surely cut off at %s of its rating, below %s; write the sheet that says so as its source, or remove overload",
				s.ID(), s.Overload.V, quantity.Show(quantity.Share, supply.LeastOverload)),
			Fixes: drop(&s.Header, "overload"),
		})
	}
}
