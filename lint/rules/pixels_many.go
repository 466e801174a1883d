package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var PixelsMany = &lint.Rule{
	Name:  "pixels-many",
	Title: "A controller drives more pixels than its board can well",
	Level: lint.Warning,
	Why: `Every pixel costs memory and time to work out, beside the radio or the network.
Beyond what a board drives sensibly, effects stutter, and a small board runs out of memory.`,
	Do: `Share the pixels with a second controller, or take a board with more memory.
If your firmware does well with more, write the figure as pixels in a board block of your own.`,
	Sources: []string{
		"common practice, no source; each board's figure stands in its catalogue entry",
		"ATmega328P: 2 KiB of memory, 3 bytes a pixel (datasheet 8271H, Atmel)",
	},
	Bad:   func() string { return crowded("100") },
	Good:  func() string { return crowded("200") },
	Check: checkPixelsMany,
}

// crowded is the shelf on a board of the maker's own that drives so many pixels.
func crowded(pixels string) string {
	return instead(shelf, "catalog.esp32_devkit", "board.small",
		"controller \"brain\"", "board \"small\" {\n  like   = catalog.esp32_devkit\n  pixels = "+pixels+"\n}\n\ncontroller \"brain\"")
}

func checkPixelsMany(p *lint.Pass) {
	for _, c := range p.Figures.Controllers {
		b := c.Board.V
		if !c.Board.Known() || b == nil || !b.Pixels.Known() {
			continue
		}
		n, whole := 0, true
		for _, r := range c.Runs {
			n += r.Pixels
			whole = whole && r.OK
		}
		if n <= b.Pixels.V || !whole && n == 0 {
			continue
		}
		p.Report(lint.Finding{
			Subject: c.ID(), At: c.At(c.Board.At), Value: &lint.Value{Got: float64(n), Limit: float64(b.Pixels.V)},
			Message: fmt.Sprintf("%s: drives %d pixels, more than the %d that %s drives sensibly; share them with a second controller", c.ID(), n, b.Pixels.V, b.ID()),
			Propose: func() [][]lint.Proposal {
				return exchange(p.Plan, &c.Header, "board", p.Plan.Boards, func(x *schema.Board) bool { return x.Pixels.Known() && x.Pixels.V >= n }, func(x *schema.Board) float64 { return -float64(x.Pixels.V) })
			},
		})
	}
}
