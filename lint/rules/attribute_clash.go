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
	Why: `Some attributes exclude each other: the geometry of a run is a length, or places that it goes through, or a path, and never two of them.
Others cannot both be true: a supply with limited = true that is rated above what the standards of limited power sources know would pass for one that needs no fuse.`,
	Do: `Keep the one that is meant and remove the other.
What a block takes over with like gives way to what is written in it, and needs no removing.`,
	Sources: []string{"the plan language: its reference lists every block and attribute", "IEC 60950-1 table 2B, the same in IEC 62368-1 annex Q: at most 8 A and 100 VA"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

policy {
  warning = ["rate-low"]
  hint    = ["rate-low"]
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

policy {
  hint = ["rate-low"]
}
`
	},
}
