package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// Syntax is reported by the decoder.
var Syntax = &lint.Rule{
	Name:  schema.RuleSyntax,
	Title: "The text cannot be read",
	Level: lint.Error,
	Why: `A brace, bracket, quote or equals sign is missing or stands where it does not belong.
A mistake harms the block that it stands in; the rest of the plan is judged as ever, and what is missing elsewhere is not reported while the text may hold it.`,
	Do: `Close what is open: each "{" has its "}", each "[" its "]", each quote its fellow on the same line.
Values are written name = value, one to a line.`,
	Sources: []string{"HCL native syntax specification"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" {
  like = 
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" {
  like = catalog.ws2815_12v_60
}
`
	},
}
