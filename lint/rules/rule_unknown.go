package rules

import (
	"ohmstead/lint"
)

// RuleUnknown is reported by the engine.
var RuleUnknown = &lint.Rule{
	Name:    lint.RuleNameUnknown,
	Title:   "A policy or comment names no rule",
	Level:   lint.Warning,
	Why:     `A level or a silence for a rule that does not exist changes nothing, and the findings that it was meant for stay.`,
	Do:      `Correct the name; ohmstead explain lists all rules.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

policy {
  hint = ["rate-slow"]
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

policy {
  hint = ["rate-low"]
}
`
	},
}
