package compare

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"

	"ohmstead/calc/quantity"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// inner is a change inside a nested block.
type inner struct {
	Attr
	was, is resolved.Attr
}

// nested compares the blocks inside of a block: those with a label by type and
// label, the others by type and place.
func (m *matching) nested(prefix string, base, head []schema.Block) []inner {
	var out []inner
	was, wasKeys := keyed(base)
	is, isKeys := keyed(head)
	for _, k := range wasKeys {
		if _, ok := is[k]; !ok {
			out = append(out, inner{Attr: Attr{Name: prefix + k, Was: inside(was[k])}})
		}
	}
	for _, k := range isKeys {
		b, ok := was[k]
		if !ok {
			out = append(out, inner{Attr: Attr{Name: prefix + k, Is: inside(is[k])}})
			continue
		}
		h := is[k]
		x, y := byName(resolved.Attrs(b)), byName(resolved.Attrs(h))
		for i := range schema.HeaderOf(h).Type.Attrs {
			name := schema.HeaderOf(h).Type.Attrs[i].Name
			p, inBase := x[name]
			q, inHead := y[name]
			if !inBase && !inHead || inBase && inHead && !p.Bad && !q.Bad && resolved.Same(p.Value, q.Value, m.rename) || p.Bad && q.Bad && same(p.Text(), q.Text()) {
				continue
			}
			out = append(out, inner{Attr{Name: prefix + k + " " + name, Was: show(p), Is: show(q)}, p, q})
		}
		out = append(out, m.nested(prefix+k+" ", resolved.Nested(b), resolved.Nested(h))...)
	}
	return out
}

func keyed(bs []schema.Block) (map[string]schema.Block, []string) {
	out := map[string]schema.Block{}
	var order []string
	count := map[string]int{}
	unlabelled := 0
	for _, b := range bs {
		if schema.HeaderOf(b).Type.Label == "" {
			unlabelled++
		}
	}
	for _, b := range bs {
		h := schema.HeaderOf(b)
		key := h.Type.Name
		if h.Type.Label != "" {
			key += " " + h.Name
		} else if unlabelled > 1 {
			count[""]++ // the steps of a path count together: their place in it is what matters
			key = fmt.Sprintf("%s %d", h.Type.Name, count[""])
		}
		if _, dup := out[key]; dup {
			continue
		}
		out[key] = b
		order = append(order, key)
	}
	return out, order
}

// inside says in short what a nested block holds.
func inside(b schema.Block) string {
	var parts []string
	for _, a := range resolved.Attrs(b) {
		parts = append(parts, a.Name+" "+show(a))
	}
	if n := len(resolved.Nested(b)); n > 0 {
		parts = append(parts, quantity.Count(n, "step"))
	}
	if len(parts) == 0 {
		return schema.HeaderOf(b).Type.Name
	}
	return strings.Join(parts, ", ")
}

func show(a resolved.Attr) string {
	if a.Bad {
		return strings.Join(strings.Fields(a.Text()), " ")
	}
	if q, ok := a.Value.(schema.Quantity); ok && q.Dim() == quantity.Money && q.SI != math.Trunc(q.SI) {
		return Amount{q.SI, q.Unit.Symbol}.String()
	}
	if _, ok := a.Value.(schema.XY); ok && measured().MatchString(a.Text()) { // in the units that it is written in
		return strings.Join(strings.Fields(strings.ReplaceAll(a.Text(), `"`, "")), " ")
	}
	return resolved.Show(a.Value)
}

// measured is a place of two lengths, without names or functions.
var measured = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\[\s*"[^"]*"\s*,\s*"[^"]*"\s*,?\s*\]$`) })

// same compares two expressions as written, white space aside.
func same(a, b string) bool {
	return strings.Join(strings.Fields(a), " ") == strings.Join(strings.Fields(b), " ")
}

func likeOf(b schema.Block, rename resolved.Rename) string {
	h := schema.HeaderOf(b)
	if h.Like == nil {
		return ""
	}
	id := schema.HeaderOf(h.Like).ID()
	if rename != nil {
		id = rename(id)
	}
	return id
}
