package rules

import (
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// boardsAsJoints finds the boards through whose power terminal other parts are
// fed.
func boardsAsJoints(p *lint.Pass) {
	for _, c := range p.Plan.Controllers {
		var amps []float64
		var related []lint.Related
		for _, l := range p.Figures.Ends(c) {
			if w := p.Figures.WorstLead(l); w.OK && l.Plus() {
				amps = append(amps, w.Value)
				related = append(related, lint.Related{At: l.Head(), Message: "ends at its power terminal"})
			}
		}
		if len(amps) < 2 {
			continue
		}
		slices.Sort(amps)
		through := amps[len(amps)-2] // the greatest brings it, the next takes it on
		if through <= figures.TerminalAmps {
			continue
		}
		p.Report(lint.Finding{
			Subject: c.ID(), At: c.Head(), Case: schema.Any, Level: lint.Warning, Related: related,
			Value: &lint.Value{Got: through, Limit: figures.TerminalAmps, Unit: "A"},
			Message: fmt.Sprintf("%s: its power terminal passes on up to %s to other parts, above the %s of a usual contact; feed them from a joint before it",
				c.ID(), quantity.ShowAgainst(quantity.Current, through, figures.TerminalAmps), showAmps(figures.TerminalAmps)),
		})
	}
}
