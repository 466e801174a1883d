package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// PlanMissing is reported by the decoder.
var PlanMissing = &lint.Rule{
	Name:  schema.RulePlanMissing,
	Title: "A directory does not have exactly one plan block",
	Level: lint.Error,
	Why: `All *.ohm.hcl files of a directory are one plan, and one of them names it with a plan block.
A directory of parts only is stock for other plans, and is not checked by itself.`,
	Do:      `Add a plan block, or remove the second one; two installations are two directories.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `wire "feed" { gauge = "16 AWG" }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" { gauge = "16 AWG" }
`
	},
}
