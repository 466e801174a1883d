package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// ValueKind is reported by the decoder.
var ValueKind = &lint.Rule{
	Name:  schema.RuleValueKind,
	Title: "A value is not of the kind that belongs there",
	Level: lint.Error,
	Why:   `Each attribute takes one kind of value: a quantity in quotes with its unit, a whole number without quotes, true or false, a reference without quotes, a list in brackets.`,
	Do: `Write the value as the message shows.
References are never in quotes, quantities always.
There is no arithmetic with signs: use sum, difference, scale, least, greatest and round_to.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = "catalog.ws2815_12v_60" }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.ws2815_12v_60 }
`
	},
}
