package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// NameDuplicate is reported by the decoder.
var NameDuplicate = &lint.Rule{
	Name:  schema.RuleNameDuplicate,
	Title: "A name is given twice",
	Level: lint.Error,
	Why: `Blocks are named so that others can refer to them; two of one kind with one name leave it open which is meant.
The first one counts.
A name of the plan wins over the same name in stock without a finding.`,
	Do: `Give one of them another name, or remove it.
To change a part of the stock or the catalogue for this plan, write a block that is like it.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" { gauge = "16 AWG" }
wire "feed" { gauge = "18 AWG" }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" { gauge = "16 AWG" }
wire "tap" { gauge = "18 AWG" }
`
	},
}
