package rules

import (
	"fmt"

	"ohmstead/lint"
)

var LengthMissing = &lint.Rule{
	Name:  "length-missing",
	Title: "The length or size of a lead or run cannot be worked out",
	Level: lint.Error,
	Why: `Without the length of a lead its resistance is not known, and with it nothing about the voltages behind it.
A length is written, or estimated from the places of both ends when they lie on one surface; a geometry that cannot be drawn has no length either.`,
	Formula: "Estimated length: straight distance between the two places, plus the greater of `policy.slack` times it and two `policy.tail`.",
	Do: `Measure along the way that the cable will take, and write length.
Or give both ends a surface (on) and a place (at).`,
	NoFix:   "Nobody has measured it yet: a length that the program made up would be worse than none.",
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(shelf, `  from   = supply.brick.out
  to     = run.low.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"`, `  from = supply.brick.out
  to   = run.low.start
  wire = wire.feed
  fuse = "5 A"`)
	},
	Good:  func() string { return shelf },
	Check: checkLengthMissing,
}

func checkLengthMissing(p *lint.Pass) {
	for _, l := range p.Figures.Leads {
		if l.OK || l.Why == "" {
			continue
		}
		f := lint.Finding{Subject: l.ID(), At: l.Head(), Message: fmt.Sprintf("%s: %s; write length = \"…\", or on and at for both ends", l.ID(), l.Why)}
		if l.Lead.Length.Set {
			f.Message = fmt.Sprintf("%s: %s", l.ID(), l.Why)
			f.At = l.At(l.Wire.At)
		}
		p.Report(f)
	}
	for _, r := range p.Figures.Runs {
		if r.OK || r.Why == "" {
			continue
		}
		p.Report(lint.Finding{Subject: r.ID(), At: r.DrawnAt(), Message: fmt.Sprintf("%s: %s", r.ID(), r.Why)})
	}
}
