package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// StockUnusable is reported by the decoder.
var StockUnusable = &lint.Rule{
	Name:  schema.RuleStock,
	Title: "A stock directory cannot be used",
	Level: lint.Error,
	Why: `A plan may use parts of other directories of the workspace.
A path that leads out of the workspace, to the network, to nothing or back to the plan itself cannot be followed.`,
	Do: `Write a path relative to the plan's directory, with forward slashes, that stays inside the root and holds *.ohm.hcl files.
The root is the repository or, without one, the parent of the plan's directory; of several plans or workspace folders what holds them all.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" {
  mains = "230 V"
  stock = ["../../elsewhere"]
}
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }
`
	},
}
