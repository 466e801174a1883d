package ide

import (
	"strings"

	"ohmstead/lint"
	"ohmstead/schema/source"
)

// text is what stands at a place.
func text(at source.Span) string { return string(at.Bytes()) }

// bare takes the quotes off the place of a text, if there are any.
func bare(at source.Span) source.Span { return between(at, `"`, `"`) }

// inBrackets is what stands between the brackets of a step, if there are any.
func inBrackets(at source.Span) source.Span { return between(at, "[", "]") }

func between(at source.Span, open, end string) source.Span {
	if s := text(at); len(s) >= 2 && strings.HasPrefix(s, open) && strings.HasSuffix(s, end) {
		at.Start++
		at.End--
	}
	return at
}

func firstLine(s string) string {
	if i := strings.IndexByte(s, '\n'); i >= 0 {
		return strings.TrimRight(s[:i], "\r") + " …"
	}
	return s
}

// rule finds a rule by name.
func (v *View) rule(name string) (*lint.Rule, bool) { return lint.RuleNamed(v.Rules, name) }
