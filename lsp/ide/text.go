package ide

import (
	"strings"

	"ohmstead/schema/source"
)

// text is what stands at a place.
func text(at source.Span) string { return string(at.Piece.Bytes()[at.Start:at.End]) }

func firstLine(s string) string {
	if i := strings.IndexByte(s, '\n'); i >= 0 {
		return strings.TrimRight(s[:i], "\r") + " …"
	}
	return s
}

// rule finds a rule by name.
func (v *View) rule(name string) (i int, ok bool) {
	for i, r := range v.Rules {
		if r.Name == name {
			return i, true
		}
	}
	return -1, false
}
