package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

var LanesExceeded = &lint.Rule{
	Name:  "lanes-exceeded",
	Title: "A controller's ports take turns",
	Level: lint.Hint,
	Why: `A board sends on so many ports at the same time, its lanes; further ports wait for their turn.
Each group then adds its time to the frame, so that splitting a chain over more ports gains nothing.
Where the plan asks for a rate, rate-low judges it; this hint is for plans that ask for none.`,
	Do: `Use no more ports than lanes, balance the pixels over them, or take a board with more lanes.
Or write rate in the plan block, if what you get is enough.`,
	Sources: []string{"the boards' catalogue entries name a source for their lanes"},
	Bad:     func() string { return instead(turns(), "  rate  = \"40 Hz\"\n", "") },
	Good:    turns,
	Check:   checkLanesExceeded,
}

// turns is the shelf with two ports on a board that drives one at a time.
func turns() string {
	return instead(twoPorts(4, 12), "catalog.esp32_devkit", "catalog.avr_328p_5v_board")
}

func checkLanesExceeded(p *lint.Pass) {
	if h := p.Plan.Head; h == nil || h.Rate.Set {
		return
	}
	for _, c := range p.Figures.Controllers {
		lanes, known := c.Lanes()
		busy := c.Busy()
		if !known || len(busy) <= lanes || !busy[0].OK {
			continue
		}
		p.Report(lint.Finding{
			Subject: c.ID(), At: c.At(c.Board.At), Value: &lint.Value{Got: float64(len(busy)), Limit: float64(lanes)},
			Message: fmt.Sprintf("%s: its %d ports take turns, as its board drives %d at a time, and reach %s; write rate in the plan if that is enough",
				c.ID(), len(busy), lanes, quantity.Show(quantity.Frequency, busy[0].Rate)),
		})
	}
}
