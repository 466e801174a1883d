package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// UnitUnknown is reported by the decoder.
var UnitUnknown = &lint.Rule{
	Name:    schema.RuleUnitUnknown,
	Title:   "There is no such unit",
	Level:   lint.Error,
	Why:     `The unit of a quantity is none that the language reads.`,
	Do:      `Correct its spelling: units keep their letters as they are printed, "mA" and not "ma", "AWG" and "mm2" for wire, "degC" for temperature.`,
	Sources: []string{"SI brochure, BIPM, unit symbols; ASTM B258 for AWG"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge = "16 AWG"
  reel  = "25 mtr"
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge = "16 AWG"
  reel  = "25 m"
}
`
	},
}
