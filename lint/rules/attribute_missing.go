package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// AttributeMissing is reported by the decoder.
var AttributeMissing = &lint.Rule{
	Name:  schema.RuleAttrMissing,
	Title: "A block lacks what it cannot do without",
	Level: lint.Error,
	Why: `Some values have no sensible default: a lead has two ends, a supply a voltage and a rating, a run a geometry.
What hangs on a missing value is not worked out.`,
	Do: `Write the attribute; the fix puts in an example to overwrite.
Or take it over from a block or a catalogue entry with like.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

supply "brick" { output = "12 V" }
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
