package ide

import (
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

// Lens is a line of figures above a block. It does nothing when clicked.
type Lens struct {
	Range
	Title string // 216 pixels, 3.6 m, least 11.4 V in full
	Plan  bool   // it stands above the plan block
}

// Lenses lists the figures of the blocks of v.File, in the load case of that
// name (see HoverAt).
func Lenses(v *View, caseName string) []Lens {
	var out []Lens
	blocks := v.byNode()
	for i, p := range v.File.Pieces {
		s := spot{piece: p, base: v.File.Offset(i)}
		for _, n := range schema.NodesIn(p) {
			copies := blocks[n]
			if len(copies) == 0 {
				continue
			}
			var title string
			switch n.Type {
			case "plan":
				title = v.summary()
			case "run", "supply", "controller", "order", "universes":
				title = v.briefOf(copies, caseName)
				if l := v.limited(copies[0]); l != "" && title != "" {
					title += ", " + l
				}
			}
			if title != "" {
				out = append(out, Lens{s.file(n.Head), title, n.Type == "plan"})
			}
		}
	}
	return out
}

// summary says what was found in the whole plan, and how large it is.
func (v *View) summary() string {
	var parts []string
	for _, l := range []struct {
		level lint.Level
		noun  string
	}{{lint.Error, "error"}, {lint.Warning, "warning"}, {lint.Hint, "hint"}} {
		n := 0
		for _, f := range v.Findings {
			if f.Level == l.level {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, quantity.Count(n, l.noun))
		}
	}
	if len(parts) == 0 {
		parts = append(parts, "nothing found")
	}
	if v.Figures != nil {
		for _, f := range v.planFacts() {
			if f.name == "runs" {
				parts = append(parts, f.text)
			}
		}
	}
	return strings.Join(parts, ", ")
}
