package lint

import (
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Finding is one thing found wrong at one place.
type Finding struct {
	Rule    string
	Level   Level
	Subject string   // the block it is about: "run.arch"; "" for the text itself
	Members []string // of a finding about several copies of a block, or several that one makes, all of them; Subject is the one farthest from its limit
	// Message names the thing, the number, the limit, the case and what to do.
	// Its part before the first semicolon can stand alone.
	Message string
	At      source.Span // always in one of the plan's or its stock's files; a zero Piece means the plan as a whole
	Value   *Value      // nil where nothing was measured
	Case    string      // the case that the number belongs to; "" for none, "any" for every pattern
	Related []Related
	Fixes   []Fix
	// Propose lists what may clear the finding beside Fixes: of the proposals in
	// each list, the cheapest first, one is wanted. Neither has been tried; that
	// is for package remedy. Nil where the rule knows nothing.
	Propose func() [][]Proposal
}

// Proposal is a fix, and what it reaches.
type Proposal struct {
	Fix
	Then func(*figures.Figures) string // of the changed plan: "4.87 V"; may be nil
	Last bool                          // wanted only where nothing before it holds what it promises
}

// Value is what was found against what is allowed, in SI units.
type Value struct {
	Got   float64
	Limit float64
	Unit  string // the SI unit's symbol
}

// Related, Fix and Edit are those of the language's problems.
type (
	Related = schema.Related
	Fix     = schema.Fix
	Edit    = schema.Edit
)
