package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// ReferenceCycle is reported by the decoder.
var ReferenceCycle = &lint.Rule{
	Name:    schema.RuleRefCycle,
	Title:   "Blocks or named values go round in a circle",
	Level:   lint.Error,
	Why:     `A block that is like one that is like the first has no beginning, and neither has a named value that is made of itself.`,
	Do:      `Give one of them values of its own.`,
	NoFix:   "Which of the blocks in the circle is the one that says the values itself, only who wrote them knows.",
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

wire "a" { like = wire.b }
wire "b" { like = wire.a }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

wire "a" { like = wire.b }
wire "b" { gauge = "16 AWG" }
`
	},
}
