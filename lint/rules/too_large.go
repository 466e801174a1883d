package rules

import (
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
)

// TooLarge is reported by the decoder.
var TooLarge = &lint.Rule{
	Name:  schema.RuleTooLarge,
	Title: "The text is too large or too deep, or cannot be read",
	Level: lint.Error,
	Why: `Limits on bytes, blocks, nesting and list lengths keep a slip, or a file of another kind, from stalling the check.
They lie far above what an installation needs. All files of a directory whose names end in .ohm.hcl are one plan: while
one of them is not read, what it says is not judged, and what the others say about it may seem wrong.`,
	Do: `Split the plan into several files of its directory, close the brace or quote that lets a block run on, or name copies with times.
A file that cannot be read: give yourself the permission, save it as UTF-8, or mend or remove a link that leads nowhere or out of the root.`,
	NoFix:   "A text that large is not read at all; what of it belongs elsewhere is for whoever wrote it.",
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return "plan \"porch\" { mains = \"230 V\" }\n\nlet { deep = " + strings.Repeat("[", 201) + strings.Repeat("]", 201) + " }\n"
	},
	Good: func() string {
		return "plan \"porch\" { mains = \"230 V\" }\n\nlet { deep = " + strings.Repeat("[", 3) + strings.Repeat("]", 3) + " }\n"
	},
}
