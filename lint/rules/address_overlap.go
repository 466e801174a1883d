package rules

import (
	"fmt"
	"slices"

	"ohmstead/calc/address"
	"ohmstead/lint"
	"ohmstead/schema"
)

var AddressOverlap = &lint.Rule{
	Name:  "address-overlap",
	Title: "Two orders share slots of a universe",
	Level: lint.Error,
	Why: `Each slot of a universe is one channel of one pixel.
Where two orders share slots, the pixels of one show the colours of the other.
Two orders with exactly the same addresses may be meant to show the same picture: a warning.`,
	Formula: "slots of an order: from universe first, slot on, as many as pixels x channels; with whole_pixels each universe ends at its last whole pixel",
	Do: `Start the second order behind the first one: in the next free universe, as the fix does, or at the next free slot.
Where the same picture twice is what you want, allow it and say so.`,
	Sources: []string{"ANSI E1.31-2018, Lightweight streaming protocol for transport of DMX512 using ACN: 512 slots a universe"},
	Bad:     func() string { return instead(addressed(), "first = 2", "first = 1") },
	Good:    addressed,
	Check:   checkAddressOverlap,
}

// addressed is the shelf with an order and universes for each run.
func addressed() string {
	return instead(shelf, "order \"shelf\" { runs = [run.top, run.low] }\n", `order "top" { runs = [run.top] }
order "low" { runs = [run.low] }

universes "top" {
  order = order.top
  first = 1
}

universes "low" {
  order = order.low
  first = 2
}
`)
}

func checkAddressOverlap(p *lint.Pass) {
	all := p.Figures.Universes
	for i, b := range all {
		for _, a := range all[:i] {
			if !a.OK || !b.OK {
				continue
			}
			shared := address.Overlap(a.Spans, b.Spans)
			if len(shared) == 0 {
				continue
			}
			first := shared[0]
			free := a.Spans[len(a.Spans)-1].Universe + 1
			f := lint.Finding{
				Subject: b.ID(), At: b.At(b.First.At),
				Message: fmt.Sprintf("%s: universe %d slots %d to %d belong to %s as well", b.ID(), first.Universe, first.Slot, first.Slot+first.Slots-1, a.ID()),
				Related: []lint.Related{{At: a.At(a.First.At), Message: "the other order's first universe"}},
			}
			if more := len(shared) - 1; more > 0 {
				f.Message += fmt.Sprintf(", and so do slots of %s more", count(more, "universe", "universes"))
			}
			if slices.Equal(a.Spans, b.Spans) && a.Layout.Channels == b.Layout.Channels {
				f.Level = lint.Warning
			}
			if free <= address.MaxUniverse {
				f.Message += fmt.Sprintf("; universe %d is the first one behind them", free)
				if _, own := b.Node.Assign("first"); own {
					f.Fixes = []lint.Fix{{Title: fmt.Sprintf("Begin at universe %d", free), Edits: []lint.Edit{schema.SetAttr(&b.Header, "first", fmt.Sprint(free))}}}
				}
			}
			p.Report(f)
			break
		}
	}
}
