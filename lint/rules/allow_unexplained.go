package rules

import (
	"ohmstead/lint"
)

// AllowUnexplained is reported by the engine.
var AllowUnexplained = &lint.Rule{
	Name:    lint.RuleAllowBare,
	Title:   "A finding is allowed without a reason",
	Level:   lint.Warning,
	Why:     `Whoever repairs the installation needs to know why a warning was waved through; a comment without a reason silences nothing.`,
	Do:      `Write the reason: "# ohmstead: allow RULE because …".`,
	NoFix:   "Only who allows it knows why it is harmless there.",
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(shelf, "rate  = \"40 Hz\"", "rate  = \"400 Hz\"", "controller \"brain\"", "# ohmstead: allow rate-low\ncontroller \"brain\"")
	},
	Good: func() string {
		return instead(shelf, "rate  = \"40 Hz\"", "rate  = \"400 Hz\"", "controller \"brain\"", "# ohmstead: allow rate-low because the picture stands still\ncontroller \"brain\"")
	},
}
