package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint"
	"ohmstead/lint/figures"
)

var AmpacityDoubtful = &lint.Rule{
	Name:  "ampacity-doubtful",
	Title: "A wire is said to carry more than its size can",
	Level: lint.Warning,
	Guard: true,
	Why: `What a wire may carry decides about every fuse in front of it.
Sellers print figures for a short piece alone in open air, or for seconds; in a wall, a channel or a bundle the same wire melts its insulation.`,
	Formula: "`ampacity` of the wire against what a single wire of its size is rated for in open air: 7 A for 22 AWG, 16 A for 18 AWG, 32 A for 14 AWG",
	Do: `Leave ampacity out: the conservative table counts then.
Where the maker's sheet does allow it the way the wire is laid, say so in an allow comment.`,
	Sources: []string{"Handbook of Electronic Tables and Formulas, chassis wiring; 8 AWG and thicker from memory"},
	Bad:     instead(shelf, `wire "data" { gauge = "22 AWG" }`, "wire \"data\" {\n  gauge    = \"22 AWG\"\n  ampacity = \"20 A\"\n}"),
	Good:    instead(shelf, `wire "data" { gauge = "22 AWG" }`, "wire \"data\" {\n  gauge    = \"22 AWG\"\n  ampacity = \"4 A\"\n}"),
	Check:   checkAmpacityDoubtful,
}

func checkAmpacityDoubtful(p *lint.Pass) {
	for _, w := range p.Plan.Wires {
		if w.Broken || !w.Ampacity.Set || w.Ampacity.Bad || !w.Gauge.Known() {
			continue
		}
		most, ok := wire.OpenAirAmpacity(figures.GaugeOf(w))
		if !ok || w.Ampacity.V.SI <= most*(1+1e-9) {
			continue
		}
		p.Report(lint.Finding{
			Subject: w.ID(), At: w.At(w.Ampacity.At),
			Value: &lint.Value{Got: w.Ampacity.V.SI, Limit: most, Unit: "A"},
			Message: fmt.Sprintf("%s: %s is more than the %s that a lone %s wire is rated for in open air; remove ampacity, or check its sheet for the way that it is laid",
				w.ID(), w.Ampacity.V, quantity.Show(quantity.Current, most), w.Gauge.V),
		})
	}
}
