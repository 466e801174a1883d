package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// ReferenceUnknown is reported by the decoder.
var ReferenceUnknown = &lint.Rule{
	Name:  schema.RuleRefUnknown,
	Title: "A reference names nothing that there is",
	Level: lint.Error,
	Why: `References name blocks of the plan, of its stock, or of the catalogue.
One that names nothing leaves its block without that part, and what hangs on it is not worked out.`,
	Do: `Correct the name, or add the block that it names.
Catalogue entries are written catalog.NAME, named values let.NAME.`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.ws2815_12v_61 }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.ws2815_12v_60 }
`
	},
}
