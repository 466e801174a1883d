package rules

import (
	"fmt"
	"slices"

	"ohmstead/calc/thermal"
	"ohmstead/calc/wire"
	"ohmstead/lint"
	"ohmstead/schema"
)

var AmpacityDoubtful = &lint.Rule{
	Name:  "ampacity-doubtful",
	Title: "Copper is said to carry more than its size can",
	Level: lint.Warning,
	Guard: true,
	Why: `What a wire may carry decides about every fuse in front of it.
Sellers print figures for a short piece alone in open air, or for seconds; in a wall, a channel or a bundle the same wire melts its insulation.
The copper of a strip is no better: what it may carry follows from its resistance.`,
	Formula: "`ampacity` of the wire against what a single wire of its size is rated for in open air: 7 A for 22 AWG, 16 A for 18 AWG, 32 A for 14 AWG. `rail_current` of a strip against the current that warms copper of its `rail` resistance by 20 K: 0.048 x 20^0.44 x A^0.725, A in square mil",
	Do: `Leave ampacity out: the conservative table counts then. For a strip, take what the catalogue says of one like it.
Where the maker's sheet does allow it the way the wire is laid, say so in an allow comment.`,
	Sources: []string{"Handbook of Electronic Tables and Formulas, chassis wiring; 8 AWG and thicker from memory", "IPC-2221 section 6.2, outer layers (from memory)"},
	Bad: func() string {
		return instead(shelf, `wire "data" { gauge = "22 AWG" }`, "wire \"data\" {\n  gauge    = \"22 AWG\"\n  ampacity = \"20 A\"\n}")
	},
	Good: func() string {
		return instead(shelf, `wire "data" { gauge = "22 AWG" }`, "wire \"data\" {\n  gauge    = \"22 AWG\"\n  ampacity = \"4 A\"\n}")
	},
	Check: checkAmpacityDoubtful,
}

func checkAmpacityDoubtful(p *lint.Pass) {
	wires, strips := partsOf(p)
	for _, w := range wires {
		if w.Broken || !w.Ampacity.Set || w.Ampacity.Bad || !w.Gauge.Known() {
			continue
		}
		most, ok := wire.OpenAirAmpacity(wire.Of(w.Gauge.V))
		if !ok || w.Ampacity.V.SI < most*(1-1e-9) {
			continue
		}
		than := "more than"
		if w.Ampacity.V.SI <= most*(1+1e-9) {
			than = "just" // copied from such a table
		}
		p.Report(lint.Finding{
			Subject: w.ID(), At: w.At(w.Ampacity.At),
			Value: &lint.Value{Got: w.Ampacity.V.SI, Limit: most, Unit: "A"},
			Message: fmt.Sprintf("%s: %s is %s the %s that a lone %s wire is rated for in open air; remove ampacity, or check its sheet for the way that it is laid",
				w.ID(), w.Ampacity.V, than, showAmps(most), w.Gauge.V),
			Fixes: drop(&w.Header, "ampacity"),
		})
	}
	for _, strip := range strips {
		if strip.Broken || !strip.RailCurrent.Set || strip.RailCurrent.Bad || !strip.Rail.Known() {
			continue
		}
		most := thermal.FoilAmps(strip.Rail.V.SI, warmFoil)
		if strip.RailCurrent.V.SI <= most {
			continue
		}
		p.Report(lint.Finding{
			Subject: strip.ID(), At: strip.At(strip.RailCurrent.At),
			Value: &lint.Value{Got: strip.RailCurrent.V.SI, Limit: most, Unit: "A"},
			Message: fmt.Sprintf("%s: %s is more than the %s that warm copper of %s by 20 K; take rail_current from its sheet, or measure rail again",
				strip.ID(), strip.RailCurrent.V, showAmps(most), strip.Rail.V),
		})
	}
}

// partsOf are the wires and strips that the plan rests on: its own, and those
// of its stock that something in it is made of.
func partsOf(p *lint.Pass) (wires []*schema.Wire, strips []*schema.Strip) {
	wires, strips = slices.Clone(p.Plan.Wires), slices.Clone(p.Plan.Strips)
	seen := map[schema.Block]bool{}
	fresh := func(b schema.Block, h schema.Home) bool {
		if h != schema.InStock || seen[b] {
			return false
		}
		seen[b] = true
		return true
	}
	wire := func(w *schema.Wire) {
		if w != nil && fresh(w, w.Home) {
			wires = append(wires, w)
		}
	}
	for _, l := range p.Plan.Leads {
		wire(l.Wire.V)
	}
	for _, s := range p.Plan.Signals {
		wire(s.Wire.V)
	}
	for _, r := range p.Plan.Runs {
		if s := r.Strip.V; s != nil && fresh(s, s.Home) {
			strips = append(strips, s)
		}
	}
	return wires, strips
}

// warmFoil is the rise in K that the copper of a strip is allowed.
const warmFoil = 20
