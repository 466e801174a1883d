package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// ValueRange is reported by the decoder.
var ValueRange = &lint.Rule{
	Name:  schema.RuleValueRange,
	Title: "A value lies outside of what makes sense",
	Level: lint.Error,
	Why: `Lengths and ratings are above zero, shares lie between nothing and all, and nothing is as large as only a slip makes it.
Out of range, a value is not used and what hangs on it is not worked out.`,
	Do:      `Correct the number or its unit: "1200 cm" for "1200 mm" is the usual slip.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge = "16 AWG"
  cores = 0
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge = "16 AWG"
  cores = 2
}
`
	},
}
