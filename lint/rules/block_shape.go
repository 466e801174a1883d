package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// BlockShape is reported by the decoder.
var BlockShape = &lint.Rule{
	Name:  schema.RuleBlockShape,
	Title: "A block is not built as its kind asks",
	Level: lint.Error,
	Why: `Most blocks carry one name in quotes; policy, let, marking and path carry none.
Attributes stand inside a block, and a block is written without an equals sign.`,
	Do: `Write the label, the braces or the equals sign as the message shows.
A block that seems to stand inside another one often means that the brace before it is missing.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

strip { like = catalog.ws2815_12v_60 }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.ws2815_12v_60 }
`
	},
}
