package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var ShockVoltage = &lint.Rule{
	Name:  "shock-voltage",
	Title: "A supply gives more than an extra-low voltage",
	Level: lint.Error,
	Guard: true,
	Why: `Up to 60 V of direct current a circuit that is separated from the mains counts as extra-low voltage: touching it is not taken to be dangerous in dry places.
Above it bare pads, joints and open diffusers can kill, and the work belongs to a licensed electrician under the local code.
Wet skin conducts better: where a place is not dry the limit is 30 V, for everything that the plus of the supply is joined to.`,
	Formula: "`trim`, else `output`, at most 60 V direct current; 30 V where the `exposure` of the supply or of a run, joint or controller behind it is not dry.",
	Do: `Use strip and supplies of 5 V to 48 V, and of 5 V to 24 V where it is not dry.
Do not put supplies in series to reach more.`,
	NoFix: "Strip, supply and wire of another voltage make another plan.",
	Sources: []string{
		"IEC 61140, extra-low voltage, direct current; IEC 60950-1 / IEC 62368-1 (SELV, ES1): 60 V",
		"NFPA 70 Article 411, low-voltage lighting: 60 V direct current (from memory)",
		"IEC 60364-4-41 section 414.4.5: 60 V in the dry, 30 V in all other cases (from memory); IEC 60598-1:2008 8.2.3: 30 V in other than ordinary luminaires; NFPA 70 low-voltage contact limit: 30 V (from memory)",
	},
	Bad:   func() string { return instead(shockFree, `output = "48 V"`, `output = "72 V"`) },
	Good:  func() string { return shockFree },
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
	wet := map[*schema.Supply]standing{} // the first thing behind it that is not dry
	eachStanding(p.Plan, func(x standing) {
		behind := p.Figures.Connectivity().Plus(x.Block)
		if s, ok := x.Block.(*schema.Supply); ok {
			behind = []figures.Output{{Supply: s}}
		}
		for _, o := range behind {
			if _, ok := wet[o.Supply]; !ok {
				wet[o.Supply] = x
			}
		}
	})
	for _, s := range p.Plan.Supplies {
		if !s.Output.Known() || s.Trim.Bad {
			continue
		}
		f := lint.Finding{Subject: s.ID(), At: s.At(s.Output.At)}
		if s.Trim.Set {
			f.At = s.At(s.Trim.At)
		}
		says := func(limit float64, where, there, use string) {
			f.Value = &lint.Value{Got: s.Volts(), Limit: limit, Unit: "V"}
			f.Message = fmt.Sprintf("%s gives %s%s, above the %s of direct current that counts as safe to touch%s; use parts of %s or less, or leave the work to a licensed electrician under the local code",
				s.ID(), quantity.ShowAgainst(quantity.Voltage, s.Volts(), limit), where, showVolts(limit), there, use)
			p.Report(f)
		}
		x, damp := wet[s]
		switch {
		case s.Volts() > supply.TouchVolts:
			says(supply.TouchVolts, "", "", "48 V")
		case damp && s.Volts() > supply.WetTouchVolts:
			where := " in " + x.wetly()
			if x.Header != &s.Header {
				where = " to " + x.Header.ID() + where
			}
			f.Related = []lint.Related{{At: x.Inherited.At, Message: "the exposure"}}
			says(supply.WetTouchVolts, where, " there", "24 V")
		}
	}
}
