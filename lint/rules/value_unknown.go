package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// ValueUnknown is reported by the decoder.
var ValueUnknown = &lint.Rule{
	Name:    schema.RuleValueUnknown,
	Title:   "A word is none of those that belong there",
	Level:   lint.Error,
	Why:     `Some attributes take one of a few words, or a fixed form: an order of channels, a colour, a day, a protection class.`,
	Do:      `Take one of the words that the message lists; hover over the attribute shows what each means.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

diffuser "tube" { kind = "hose" }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

diffuser "tube" { kind = "tube" }
`
	},
}
