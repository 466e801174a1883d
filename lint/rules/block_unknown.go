package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// BlockUnknown is reported by the decoder.
var BlockUnknown = &lint.Rule{
	Name:  schema.RuleBlockUnknown,
	Title: "There is no block of this kind",
	Level: lint.Error,
	Why: `The language has a fixed set of blocks, and each block a fixed set of blocks inside it.
An unknown one is skipped, so that whatever it was meant to say is missing.`,
	Do: `Correct the name; where it is within two letters of a known one, the fix does.
A block that belongs inside another, such as port, goes between the braces of that one.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

stripe "arch" { like = catalog.ws2815_12v_60 }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.ws2815_12v_60 }
`
	},
}
