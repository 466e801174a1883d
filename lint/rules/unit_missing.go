package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// UnitMissing is reported by the decoder.
var UnitMissing = &lint.Rule{
	Name:  schema.RuleUnitMissing,
	Title: "A quantity has no unit",
	Level: lint.Error,
	Why: `A bare number says nothing of metres or inches, amperes or milliamperes.
Every quantity is written in quotes with its unit, so that nobody has to guess.`,
	Do: `Take the fix with the unit that you mean.
Compound feet and inches are read too: "16 ft 4 in".`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge = "16 AWG"
  reel  = 25
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
