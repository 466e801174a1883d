package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var ChipOrder = &lint.Rule{
	Name:  "chip-order",
	Title: "Runs on one port take their colours in another order",
	Level: lint.Warning,
	Why: `Each chip takes its channels in an order of its own: GRB, RGB, BGR.
A controller sends one order on a port unless its firmware sets it run by run, so the second run would show red as green.`,
	Do: `Use strips of one channel order on a port, or give the run a port of its own.
Where your firmware sets the order for parts of a port, allow the finding and say so.
Sheets and reels disagree: light the first pixel in plain red and see, then write channels in the strip.`,
	Sources: []string{"datasheets of the chips, data format: GRB (WS2812B, Worldsemi), RGB (WS2811, Worldsemi), BGR (APA102)"},
	Bad: func() string {
		return instead(mixedShelf("catalog.ws2812b_5v_30"), "{ like = catalog.ws2812b_5v_30 }", "{\n  like     = catalog.ws2812b_5v_30\n  channels = \"RGB\"\n}")
	},
	Good:  func() string { return shelf },
	Check: checkChipOrder,
}

func checkChipOrder(p *lint.Pass) {
	eachNeighbour(p, func(port *schema.Port, a, b *schema.Run) bool {
		s, t := a.Strip.V, b.Strip.V
		if !s.Channels.Known() || !t.Channels.Known() || s.Channels.V == t.Channels.V || len(s.Channels.V) != len(t.Channels.V) {
			return false // where the count differs, chip-mixed speaks of the bits
		}
		p.Report(lint.Finding{
			Subject: b.ID(), At: b.At(b.Strip.At),
			Message: fmt.Sprintf("%s: takes its colours as %s, but %s before it on %s takes %s; use strips of one order on the port, or set the order run by run in the firmware",
				b.ID(), t.Channels.V, a.ID(), port.ID(), s.Channels.V),
			Related: []lint.Related{{At: a.At(a.Strip.At), Message: "the strip before it"}},
			Propose: func() [][]lint.Proposal { return unmix(p.Plan, port, a, b) },
		})
		return true
	})
}
