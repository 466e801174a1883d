package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var DataMerged = &lint.Rule{
	Name:  "data-merged",
	Title: "Two signals lead into one run",
	Level: lint.Error,
	Why: `Two outputs on one line drive against each other: when one says high and the other low, both carry their short-circuit current and the pixels read nonsense.
Outputs can die of it.`,
	Do: `Keep one of the two signals.
To choose between two controllers, use a switch or a gate, and plan the one that is connected.`,
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(twoPorts(4, 13), "order \"shelf\"", `signal "again" {
  from   = run.top.end
  to     = run.low.start
  wire   = wire.data
  length = "30 cm"
}

order "shelf"`)
	},
	Good:  func() string { return twoPorts(4, 13) },
	Check: checkDataMerged,
}

func checkDataMerged(p *lint.Pass) {
	first := map[*schema.Run]*schema.Signal{}
	for _, s := range p.Plan.Signals {
		if !s.To.Known() || s.To.V.Run == nil {
			continue
		}
		r := s.To.V.Run
		other, taken := first[r]
		if !taken {
			first[r] = s
			continue
		}
		p.Report(lint.Finding{
			Subject: s.ID(), At: s.At(s.To.At),
			Message: fmt.Sprintf("%s: leads into %s, as %s does, so that two outputs drive one line; keep one of them", s.ID(), r.ID(), other.ID()),
			Related: []lint.Related{{At: other.At(other.To.At), Message: "the other signal"}},
			Propose: func() (out [][]lint.Proposal) {
				for _, x := range []*schema.Signal{s, other} {
					if x.Copy == 0 && x.MadeBy() == nil {
						out = append(out, []lint.Proposal{proposal("Remove "+x.ID(), without(x.Node))})
					}
				}
				return out
			},
		})
	}
}
