package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// AttributeClash is reported by the decoder.
var AttributeClash = &lint.Rule{
	Name:  schema.RuleAttrClash,
	Title: "Two values of a block contradict each other",
	Level: lint.Error,
	Why:   `Some attributes exclude each other: the geometry of a run is a length, or places that it goes through, or a path, and never two of them.`,
	Do: `Keep the one that is meant and remove the other.
What a block takes over with like gives way to what is written in it, and needs no removing.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: `plan "porch" { mains = "230 V" }

policy {
  warning = ["rate-low"]
  hint    = ["rate-low"]
}
`,
	Good: `plan "porch" { mains = "230 V" }

policy {
  hint = ["rate-low"]
}
`,
}
