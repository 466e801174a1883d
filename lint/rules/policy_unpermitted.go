package rules

import (
	"ohmstead/lint"
)

// PolicyUnpermitted is reported by the engine.
var PolicyUnpermitted = &lint.Rule{
	Name:  lint.RuleUnpermitted,
	Title: "A rule that must not be silenced is",
	Level: lint.Error,
	Why: `Rules that guard against fire or shock cannot be switched off for a whole plan; a single finding can be allowed at its block with a reason that others can read.
What does not parse, and the rules about allowing, cannot be allowed at all.`,
	Do: `Take the rule out of the policy, and mend what it finds.
Where a finding is known to be harmless, write above the block: "# ohmstead: allow RULE because …".`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

policy {
  off     = ["fuse-too-large"]
  because = "there is no fire in this house"
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

policy {
  off     = ["rate-low"]
  because = "a still picture"
}
`
	},
}
