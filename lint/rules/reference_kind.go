package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// ReferenceKind is reported by the decoder.
var ReferenceKind = &lint.Rule{
	Name:  schema.RuleRefKind,
	Title: "A reference names a thing of another kind",
	Level: lint.Error,
	Why:   `The named block exists, but is not of a kind that can stand there: a wire cannot be a strip, and a lead ends at a place, not at a supply as such.`,
	Do: `Name a block of the kind that the message asks for.
Places are written supply.NAME.out, joint.NAME, controller.NAME.power, run.NAME.start, run.NAME.end, run.NAME["1.5 m"] or run.NAME[90].`,
	Sources: []string{"the plan language: its reference lists every block and attribute"},
	Bad: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.awg_16 }
`
	},
	Good: func() string {
		return `plan "porch" { mains = "230 V" }

strip "arch" { like = catalog.ws2815_12v_60 }
`
	},
}
