package rules

import (
	"ohmstead/lint"
)

// RuleFailed is reported by the engine.
var RuleFailed = &lint.Rule{
	Name:  lint.RuleFailed,
	Title: "A rule failed, and what it looks for is not judged",
	Level: lint.Error,
	Why: `A mistake in the program made one of its rules stop on this plan.
What the other rules found stands, but what this one looks for may be there all the same, so the plan must not be taken for sound: ` + "`ohmstead check`" + ` ends with code 2.
Where the rule guards against fire or shock, no fix is offered either, because nothing says whether it is harmless.`,
	Do: `Report it with the plan and the place that the message names.
Until then judge by hand what the rule looks for; ` + "`ohmstead explain RULE`" + ` says what that is.`,
	NoFix:   "The mistake is in the program, not in the plan.",
	Sources: []string{"common practice, no source"},
}
