package rules

import (
	"fmt"
	"math"
	"strconv"

	"ohmstead/calc/logic"
	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var LogicTooHigh = &lint.Rule{
	Name:  "logic-too-high",
	Title: "The data level is more than a pixel's input stands",
	Level: lint.Error,
	Why: `The input of a pixel is tied by a diode to its own supply.
A level that lies more than half a volt above that supply drives current through the diode: the first pixel dies, and often those behind it.
A buffer that runs from the 12 V of another strip does it at once.`,
	Formula: "`buffer`, else the controller's logic level, against what the first pixel of each port sees at the most, plus 0.5 V",
	Do:      `Run the buffer from the supply of the pixels that it drives, and write its output level as buffer = "5 V".`,
	Sources: []string{"WS2812B and SK6812 datasheets, absolute maximum ratings: data input at most VDD + 0.5 V (from memory)"},
	Bad:     func() string { return instead(shelf, `buffer  = "5 V"`, `buffer  = "12 V"`) },
	Good:    func() string { return shelf },
	Follows: []string{"supply-voltage-mismatch"},
	Check:   checkLogicTooHigh,
}

func checkLogicTooHigh(p *lint.Pass) {
	for _, c := range p.Figures.Controllers {
		level, at := 0.0, c.Head()
		if c.Buffer.Set {
			level, at = c.Buffer.V.SI, c.At(c.Buffer.At)
		} else {
			level, _ = c.LogicVolts()
		}
		if level == 0 || c.Buffer.Bad || c.Logic.Bad {
			continue
		}
		// The first run on a port with the lowest supply speaks for all.
		var first *figures.Run
		least := 0.0
		for _, port := range c.Busy() {
			r := port.Runs[0]
			if live := p.Figures.LiveVolts(r); live > 0 && logic.TooHigh(level, live) && (first == nil || live < least) {
				first, least = r, live
			}
		}
		if first == nil {
			continue
		}
		p.Report(lint.Finding{
			Subject: c.ID(), At: at,
			Value: &lint.Value{Got: level, Limit: least + logic.Margin, Unit: "V"},
			Message: fmt.Sprintf("%s: its data ones reach %s, above the %s that the input of %s stands at its own %s; run the buffer from %s",
				c.ID(), showVolts(level), showVolts(least+logic.Margin), first.ID(),
				showVolts(least), showVolts(least)),
			Related: []lint.Related{{At: first.At(first.Strip.At), Message: "the strip that takes no more"}},
			Propose: func() [][]lint.Proposal {
				q := quantity.Of(quantity.Voltage, math.Floor(least*10+1e-6)/10).Exact()
				return [][]lint.Proposal{{proposal("Run the buffer from "+q, schema.SetAttr(&c.Header, "buffer", strconv.Quote(q)))}}
			},
		})
	}
}
