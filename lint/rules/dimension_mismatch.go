package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// DimensionMismatch is reported by the decoder.
var DimensionMismatch = &lint.Rule{
	Name:  schema.RuleDimension,
	Title: "A quantity measures another kind of thing",
	Level: lint.Error,
	Why: `A length stands where a current belongs, or the like.
The number cannot be used, and most often two lines were mixed up.`,
	Do:      `Write a quantity of the kind that the message names.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

supply "brick" {
  output = "12 V"
  rating = "60 W"
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

supply "brick" {
  output = "12 V"
  rating = "5 A"
}
`
	},
}
