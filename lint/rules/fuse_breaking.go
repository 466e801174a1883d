package rules

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var FuseBreaking = &lint.Rule{
	Name:  "fuse-breaking",
	Title: "A short circuit may be more than a fuse can break",
	Level: lint.Warning,
	Guard: true,
	Why: `A fuse opens a short circuit up to its breaking capacity; above it a glass cartridge bursts, and a resettable fuse burns.
A fuse further ahead does not help: until it opens, all of the current flows through both.`,
	Formula: "What all supplies on the lead's plus side can feed into a short (`overload` times the rating, less where `limited`), against 35 A or 10 times the rating for a glass cartridge, 1500 A for a ceramic one, 1000 A for a blade, 2000 A for a bolted fuse, 40 A for a resettable one.",
	Do: `Use a sand-filled ceramic cartridge or a blade behind a large supply.
In the first moment the capacitors of a supply give more than it can go on feeding; the maker's sheet of the fuse decides.`,
	Sources: []string{
		"ISO 8820-3, types C, E and F: 1000 A",
		"IEC 60127-2, low breaking capacity: 35 A or 10 times the rating, the greater; high: 1500 A (from memory)",
		"ISO 8820-5 and resettable fuses: from memory",
	},
	Bad: func() string {
		return instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+"  fuse   = \"5 A\"\n  holder = catalog.inline_glass", `  rating = "10 A"`, `  rating = "40 A"`, `wire "feed" { gauge = "16 AWG" }`, `wire "feed" { gauge = "14 AWG" }`, `strip "led" { like = catalog.ws2812b_5v_60 }`, twoRails)
	},
	Good: func() string {
		return instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+"  fuse   = \"5 A\"\n  holder = catalog.inline_ceramic", `  rating = "10 A"`, `  rating = "40 A"`, `wire "feed" { gauge = "16 AWG" }`, `wire "feed" { gauge = "14 AWG" }`, `strip "led" { like = catalog.ws2812b_5v_60 }`, twoRails)
	},
	Check: checkFuseBreaking,
}

// twoRails is a strip whose copper a 5 A cartridge protects.
const twoRails = `strip "led" {
  like         = catalog.ws2812b_5v_60
  rail         = "0.05 ohm/m"
  rail_current = "8 A"
}`

func checkFuseBreaking(p *lint.Pass) {
	for _, l := range p.Figures.Leads {
		if !l.OK || !l.Fused() || l.Holder.V == nil && l.Fuse.V.SI > fuse.Everyday {
			continue
		}
		drives, fault, ok := shortOf(fedBy(p.Figures, l))
		limit := l.Device.Capacity(l.Fuse.V.SI)
		if !ok || drives <= limit*(1+1e-9) {
			continue
		}
		p.Report(lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At), Value: &lint.Value{Got: drives, Limit: limit, Unit: "A"},
			Message: fmt.Sprintf("%s: %s can drive %s into a short behind its %s, which breaks %s; use a ceramic cartridge or a blade, and name its holder", l.ID(), named(idsOf(fault.Sources)),
				quantity.ShowAgainst(quantity.Current, drives, limit), fuseWord(l), showAmps(limit)),
			Related: suppliesOf(fault),
			Propose: func() [][]lint.Proposal {
				return exchange(p.Plan, &l.Header, "holder", p.Plan.Holders, func(h *schema.Holder) bool {
					k, ok := fuse.Named(h.Kind.V)
					return ok && !h.Ways.Set && k.Sold(l.Fuse.V.SI) && k.Capacity(l.Fuse.V.SI) >= drives
				})
			},
		})
	}
}

// shortOf is what outputs together can go on feeding into a short circuit, A.
func shortOf(outputs []figures.Output) (amps float64, by figures.Exposure, ok bool) {
	for _, o := range outputs {
		s := o.Supply
		if !s.Rating.Known() || !s.Overload.Known() || !s.Limited.Known() || !s.Output.Known() || s.Trim.Bad {
			return 0, by, false
		}
		a, err := supply.FaultCurrent(s.Rating.V.SI, s.Overload.V.SI, s.Volts(), s.Limited.V)
		if err != nil {
			return 0, by, false
		}
		amps += a
		if o.Number == 1 || len(by.Sources) == 0 || by.Sources[len(by.Sources)-1] != s {
			by.Sources = append(by.Sources, s)
		}
	}
	return amps, by, len(outputs) > 0
}
