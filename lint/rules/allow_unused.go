package rules

import (
	"ohmstead/lint"
)

// AllowUnused is reported by the engine.
var AllowUnused = &lint.Rule{
	Name:    lint.RuleAllowUnused,
	Title:   "A comment allows what is not found",
	Level:   lint.Warning,
	Why:     `A silence that silences nothing is left over from an earlier plan, or stands at the wrong place; it would hide a finding that comes later.`,
	Do:      `Remove the comment, as the fix does, or move it above the block that the finding is about.`,
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(shelf, "controller \"brain\"", "# ohmstead: allow rate-low because the picture stands still\ncontroller \"brain\"")
	},
	Good: func() string { return shelf },
}
