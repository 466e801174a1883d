package rules

import (
	"fmt"

	"ohmstead/calc/address"
	"ohmstead/lint"
	"ohmstead/schema"
)

var AddressSplit = &lint.Rule{
	Name:  "address-split",
	Title: "Pixels straddle universes, or run past the last one",
	Level: lint.Error,
	Why: `A universe has 512 slots, which is no whole number of RGB pixels.
Laid end to end, a pixel then begins in one universe and ends in the next: its channels come in two packets, many receivers cannot take it apart, and it shows a torn colour when one packet is late (a warning).
An order that runs past universe 63999, or whose first universe has no room for a pixel, cannot be sent at all.`,
	Formula: "whole pixels in a universe = 512 / channels, rounded down: 170 of 3 channels, 128 of 4",
	Do: `Write whole_pixels = true, so that a pixel that does not fit goes whole into the next universe, and set the sender the same.
Start at a lower universe or slot where the order runs past the end.`,
	Sources: []string{"ANSI E1.31-2018: universes 1 to 63999, 512 slots each"},
	Bad:     func() string { return instead(longOrder(), "first = 1", "first = 1\n\n  whole_pixels = false") },
	Good:    longOrder,
	Check:   checkAddressSplit,
}

// longOrder is the shelf with lengths that take more than one universe.
func longOrder() string {
	return instead(shelf,
		"catalog.ws2812b_5v_60 }", "catalog.ws2812b_5v_144 }",
		"  ceiling = \"4 A\"\n", "  ceiling = \"2.5 A\"\n",
		"order \"shelf\" { runs = [run.top, run.low] }\n", `order "shelf" { runs = [run.top, run.low] }

universes "shelf" {
  order = order.shelf
  first = 1
}
`)
}

func checkAddressSplit(p *lint.Pass) {
	for _, u := range p.Figures.Universes {
		switch {
		case u.Err != nil:
			f := lint.Finding{Subject: u.ID(), At: u.At(u.First.At), Message: fmt.Sprintf("%s: %v", u.ID(), u.Err)}
			if u.Slot.Set && u.Layout.WholePixels && address.MaxSlot-u.Slot.V+1 < u.Layout.Channels {
				f.At = u.At(u.Slot.At)
			}
			if last, ok := u.LastFirst(); ok && u.First.V > last {
				f.Message += fmt.Sprintf("; begin at universe %d or before", last)
			}
			p.Report(f)
		case u.OK && !u.Layout.WholePixels:
			n, at := u.Split()
			if n == 0 {
				continue
			}
			p.Report(lint.Finding{
				Subject: u.ID(), At: u.At(u.WholePixels.At), Level: lint.Warning,
				Message: fmt.Sprintf("%s: %s between two universes, the first of them pixel %d; write whole_pixels = true, here and in the sender", u.ID(), count(n, "pixel is split", "pixels are split"), at),
				Fixes:   []lint.Fix{{Title: "Write whole_pixels = true", Edits: []lint.Edit{schema.SetAttr(&u.Header, "whole_pixels", "true")}}},
			})
		}
	}
}
