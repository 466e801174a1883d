package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint"
)

var WireOverheated = &lint.Rule{
	Name:  "wire-overheated",
	Title: "The air alone takes a wire to what its insulation stands",
	Level: lint.Error,
	Guard: true,
	Why: `The current that a wire may carry is what heats it from the temperature of the air to that of its insulation.
Where the air is that warm already, nothing is left: any current softens the insulation. A few kelvin below, no standard has a figure any more.`,
	Formula: "ampacity = table x sqrt((`max_temperature` - `ambient`) / 30 K), 0 within 5 K of what the insulation stands (70 degC for ordinary PVC), where the published tables end; sizes thinner than 14 AWG: table x sqrt((`max_temperature` - `ambient`) / (`max_temperature` - 30 degC))",
	Do: `Lead the wire another way, away from the heat, or use one whose insulation stands more and write its own ` + "`ampacity`" + `.
Check ` + "`ambient`" + ` too: it is the warmest air around wires and supplies.`,
	NoFix:   "How hot it is there, and what another insulation stands, is not in the plan: only another way or another wire helps.",
	Sources: []string{"IEC 60204-1 table 6 and its correction for ambient temperature, 70 degC PVC", "NFPA 70 (NEC) table 402.5 and 310.15(B)(1)"},
	Bad: func() string {
		return instead(shelf, `  rate  = "40 Hz"`, "  rate  = \"40 Hz\"\n\n  ambient = \"75 degC\"")
	},
	Good: func() string {
		return instead(shelf, `  rate  = "40 Hz"`, "  rate  = \"40 Hz\"\n\n  ambient = \"35 degC\"")
	},
	Check: checkWireOverheated,
}

func checkWireOverheated(p *lint.Pass) {
	ambient := p.Plan.Ambient()
	for _, l := range p.Figures.Leads {
		if !l.OK || l.Ampacity > 0 {
			continue
		}
		stands := float64(wire.InsulationTemperature)
		if m := l.Wire.V.MaxTemperature; m.Set && !m.Bad {
			stands = min(stands, m.V.SI)
		}
		warm := "and its insulation stands %s, so that no current is left for it"
		if ambient < stands {
			warm = fmt.Sprintf("and its insulation stands %%s; within %d K of that no table leaves it any current", wire.LeastReserve)
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Wire.At),
			Value: &lint.Value{Got: ambient, Limit: stands, Unit: "degC"},
			Message: fmt.Sprintf("%s: the air around it has %s "+warm+"; lead it elsewhere, or use a wire that stands more and write its ampacity",
				l.ID(), p.Figures.Habit.Show(quantity.Temperature, ambient), p.Figures.Habit.Show(quantity.Temperature, stands)),
		}
		if p.Plan.Head != nil && p.Plan.Head.Ambient.Set {
			f.Related = []lint.Related{{At: p.Plan.Head.At(p.Plan.Head.Ambient.At), Message: "the warmest air around wires and supplies"}}
		}
		p.Report(f)
	}
}
