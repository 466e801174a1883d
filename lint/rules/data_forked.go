package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var DataForked = &lint.Rule{
	Name:  "data-forked",
	Title: "One output leads to two runs",
	Level: lint.Warning,
	Why: `Two runs behind one output show the same pixels.
The firmware counts those pixels once, so its current ceiling lets through twice what it believes, and the plan's rate and addresses count one of the runs only.
The two lines also load the output and reflect into each other.`,
	Do: `Give the second run a port of its own, or chain it behind the last run of the first line.
Where the same picture twice is what you want, allow it and set the ceiling to half.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return instead(shelf, "run.top.end", "controller.brain.port.a") },
	Good:    func() string { return shelf },
	Check:   checkDataForked,
}

func checkDataForked(p *lint.Pass) {
	first := map[string]*schema.Signal{}
	for _, s := range p.Plan.Signals {
		if !s.From.Known() || !s.To.Known() || s.To.V.Run == nil {
			continue
		}
		at := s.From.V.String()
		other, taken := first[at]
		if !taken {
			first[at] = s
			continue
		}
		if other.To.V.Run == s.To.V.Run {
			continue // the same two places twice: data-merged
		}
		then, remedy, behind := other.To.V.Run, "lead it from a port of its own", []lint.Proposal(nil)
		if end := readSignals(p.Plan).lineEnd(then, s.To.V.Run); end != nil {
			remedy += ", or from " + end.DataOut()
			behind = []lint.Proposal{proposal("Lead it from "+end.DataOut(), schema.SetAttr(&s.Header, "from", end.DataOut()))}
		}
		p.Report(lint.Finding{
			Subject: s.ID(), At: s.At(s.From.At),
			Message: fmt.Sprintf("%s: leaves %s, as %s does, so that %s and %s show the same pixels and are counted once; %s",
				s.ID(), at, other.ID(), then.ID(), s.To.V.Run.ID(), remedy),
			Related: []lint.Related{{At: other.At(other.From.At), Message: "the other signal"}},
			Propose: func() [][]lint.Proposal {
				c := s.From.V.Controller
				if r := s.From.V.Run; r != nil {
					if by := driverOf(p.Figures, r); by != nil {
						c = by.Controller
					}
				}
				if c == nil {
					return [][]lint.Proposal{behind}
				}
				return [][]lint.Proposal{behind, ownPort(p.Plan, c, s)}
			},
		})
	}
}
