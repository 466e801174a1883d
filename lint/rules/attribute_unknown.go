package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// AttributeUnknown is reported by the decoder.
var AttributeUnknown = &lint.Rule{
	Name:  schema.RuleAttrUnknown,
	Title: "The block has no such attribute",
	Level: lint.Error,
	Why:   `An attribute that a block does not have says nothing, and what it was meant to say is missing: a fuze protects no wire.`,
	Do: `Correct the name; where it is within two letters of a known one, the fix does.
Words for the next person go into a comment, or into note of the plan.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge  = "16 AWG"
  colour = "RD"
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

wire "feed" {
  gauge = "16 AWG"
  color = "RD"
}
`
	},
}
