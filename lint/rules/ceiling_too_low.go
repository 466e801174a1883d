package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

var CeilingTooLow = &lint.Rule{
	Name:  "ceiling-too-low",
	Title: "A ceiling lies below what the dark pixels draw",
	Level: lint.Warning,
	Why: `Pixels draw current when they are dark as well: each chip about 1 mA, some at 12 V more than 2 mA.
A firmware that counts that finds its ceiling used up before anything is lit, and leaves everything dark.`,
	Formula: "dark current = sum over the controller's pixels of idle_current",
	Do:      `Raise the ceiling well above the dark current, or share the pixels with a second controller.`,
	Sources: []string{"bench logs of a strip tester: 0.6 to 1.3 mA a dark pixel at 5 V; datasheets of the chips"},
	Bad:     func() string { return instead(shelf, `ceiling = "4 A"`, `ceiling = "100 mA"`) },
	Good:    func() string { return shelf },
	Check:   checkCeilingTooLow,
}

func checkCeilingTooLow(p *lint.Pass) {
	for _, c := range p.Figures.Controllers {
		if !c.Ceiling.Set || c.Ceiling.Bad || c.Idle <= c.Ceiling.V.SI {
			continue
		}
		pixels := 0
		for _, r := range c.Runs {
			pixels += r.Pixels
		}
		p.Report(lint.Finding{
			Subject: c.ID(), At: c.At(c.Ceiling.At), Value: &lint.Value{Got: c.Ceiling.V.SI, Limit: c.Idle, Unit: "A"},
			Message: fmt.Sprintf("%s: its ceiling of %s lies below the %s that its %d pixels draw dark, so that nothing lights; raise it well above that",
				c.ID(), c.Ceiling.V, quantity.ShowAgainst(quantity.Current, c.Idle, c.Ceiling.V.SI), pixels),
			Propose: func() [][]lint.Proposal {
				return [][]lint.Proposal{{setCeiling(c, upTo(10*c.Idle, 0.1)), setCeiling(c, upTo(4*c.Idle, 0.1)), setCeiling(c, upTo(2*c.Idle, 0.1))}}
			},
		})
	}
}
