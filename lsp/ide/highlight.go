package ide

import "ohmstead/schema/source"

// Highlight is a place of v.File where the thing at the cursor is declared
// (Write) or used.
type Highlight struct {
	Range
	Write bool
}

// Highlights finds the places of v.File that name the thing at an offset.
func Highlights(v *View, offset int) []Highlight {
	t, ok := v.thingAt(offset)
	if !ok {
		return nil
	}
	var out []Highlight
	declared := t.name()
	add := func(at source.Span, write bool) {
		if start, end, ok := v.File.Range(at); ok {
			out = append(out, Highlight{Range{start, end}, write})
		}
	}
	for _, p := range v.File.Pieces {
		if declared.Piece == p {
			add(declared, true)
		}
		for _, at := range v.usesIn(p, t) {
			add(at, false)
		}
	}
	return out
}
