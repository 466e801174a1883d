package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// FunctionMisuse is reported by the decoder.
var FunctionMisuse = &lint.Rule{
	Name:    schema.RuleFunction,
	Title:   "A function is unknown, or has the wrong arguments",
	Level:   lint.Error,
	Why:     `The language has six functions on quantities, sum, difference, scale, least, greatest and round_to, and two that stand in the runs of an order, from_end and in_turn.`,
	Do:      `Correct the name or the arguments as the message shows; quantities of one call are of one dimension.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

let { span = add("1 m", "20 cm") }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

let { span = sum("1 m", "20 cm") }
`
	},
}
