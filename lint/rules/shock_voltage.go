package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/lint"
)

var ShockVoltage = &lint.Rule{
	Name:  "shock-voltage",
	Title: "A supply gives more than an extra-low voltage",
	Level: lint.Error,
	Guard: true,
	Why: `Up to 60 V of direct current a circuit that is separated from the mains counts as extra-low voltage: touching it is not taken to be dangerous in dry places.
Above it bare pads, joints and open diffusers can kill, and the work belongs to a licensed electrician under the local code.`,
	Formula: "`trim`, else `output`, at most 60 V direct current.",
	Do: `Use strip and supplies of 5 V to 48 V.
Do not put supplies in series to reach more.`,
	Sources: []string{
		"IEC 61140, extra-low voltage, direct current; IEC 60950-1 / IEC 62368-1 (SELV, ES1): 60 V",
		"NFPA 70 Article 411, low-voltage lighting: 60 V direct current (from memory)",
	},
	Bad:   instead(shockFree, `output = "48 V"`, `output = "72 V"`),
	Good:  shockFree,
	Check: checkShockVoltage,
}

const shockFree = `plan "sign" {
  mains = "230 V"
}

supply "high" {
  output = "48 V"
  rating = "2 A"
  input  = ["230 V"]
}
`

func checkShockVoltage(p *lint.Pass) {
	for _, s := range p.Plan.Supplies {
		if !s.Output.Known() || s.Trim.Bad || s.Volts() <= supply.TouchVolts {
			continue
		}
		at := s.Output.At
		if s.Trim.Set {
			at = s.Trim.At
		}
		p.Report(lint.Finding{
			Subject: s.ID(), At: s.At(at),
			Value: &lint.Value{Got: s.Volts(), Limit: supply.TouchVolts, Unit: "V"},
			Message: fmt.Sprintf("%s gives %s, above the %s of direct current that counts as safe to touch; use parts of 48 V or less, or leave the work to a licensed electrician under the local code",
				s.ID(), quantity.ShowAgainst(quantity.Voltage, s.Volts(), supply.TouchVolts), quantity.Show(quantity.Voltage, supply.TouchVolts)),
		})
	}
}
