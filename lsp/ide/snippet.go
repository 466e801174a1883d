package ide

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// snippet is text with tab stops in the making, and the same text without them.
type snippet struct {
	stops, plain strings.Builder
	n            int
}

// A closing brace ends a tab stop, so it is escaped within one only.
var (
	escapes     = strings.NewReplacer(`\`, `\\`, `$`, `\$`)
	stopEscapes = strings.NewReplacer(`\`, `\\`, `$`, `\$`, `}`, `\}`)
)

func (s *snippet) text(t string) {
	s.stops.WriteString(escapes.Replace(t))
	s.plain.WriteString(t)
}

// stop adds a tab stop with a text to type over.
func (s *snippet) stop(t string) {
	s.n++
	fmt.Fprintf(&s.stops, "${%d:%s}", s.n, stopEscapes.Replace(t))
	s.plain.WriteString(t)
}

// choice adds a tab stop with a list to pick from.
func (s *snippet) choice(options []string) {
	s.n++
	esc := strings.NewReplacer(`\`, `\\`, `,`, `\,`, `|`, `\|`, `$`, `\$`, `}`, `\}`)
	var out []string
	for _, o := range options {
		out = append(out, esc.Replace(o))
	}
	fmt.Fprintf(&s.stops, "${%d|%s|}", s.n, strings.Join(out, ","))
	s.plain.WriteString(options[0])
}

// end adds the last tab stop.
func (s *snippet) end() { s.stops.WriteString("$0") }

// value adds a value of an attribute, to be typed over.
func (s *snippet) value(a *schema.Attr, text string) {
	inner := strings.TrimSuffix(strings.TrimPrefix(text, `"`), `"`)
	switch {
	case a != nil && a.Kind == schema.Choice:
		options := []string{inner}
		for _, o := range a.Choices {
			if o.Value != inner {
				options = append(options, o.Value)
			}
		}
		s.text(`"`)
		s.choice(options)
		s.text(`"`)
	case a != nil && a.Kind == schema.Boolean:
		s.choice([]string{text, map[string]string{"true": "false", "false": "true"}[text]})
	case len(text) >= 2 && text[0] == '"' && text[len(text)-1] == '"' && !strings.Contains(inner, `"`):
		s.text(`"`)
		s.stop(inner)
		s.text(`"`)
	case len(text) >= 2 && text[0] == '[' && text[len(text)-1] == ']':
		s.text("[")
		s.stop(text[1 : len(text)-1])
		s.text("]")
	default:
		s.stop(text)
	}
}

// blockSnippet is a whole block to fill in, after the declared example: names
// and values are typed over, references already name what the plan has.
func (p *proposer) blockSnippet(t *schema.BlockType) *snippet {
	s := &snippet{}
	n, ok := examples()[t]
	if !ok {
		s.text(t.Name + " {\n  ")
		s.end()
		s.text("\n}")
		return s
	}
	p.nodeSnippet(s, n, t, "")
	return s
}

// examples are the declared examples of all block types, parsed once.
var examples = sync.OnceValue(func() map[*schema.BlockType]*schema.Node {
	out := map[*schema.BlockType]*schema.Node{}
	var add func(ts []*schema.BlockType)
	add = func(ts []*schema.BlockType) {
		for _, t := range ts {
			text := t.Example
			if text == "" {
				text = plainExample(t)
			}
			if nodes := schema.NodesIn(source.Parse(source.NewText("", []byte(text))).Pieces[0]); len(nodes) > 0 {
				out[t] = nodes[0]
			}
			add(t.Blocks)
		}
	}
	add(schema.Language)
	return out
})

// plainExample writes a block with the attributes that it needs.
func plainExample(t *schema.BlockType) string {
	out := t.Name
	if t.Label != "" {
		out += ` "` + t.Label + `"`
	}
	out += " {\n"
	groups := map[string]bool{}
	for i := range t.Attrs {
		a := &t.Attrs[i]
		if a.Required || a.OneOf != "" && !groups[a.OneOf] || len(t.Attrs) == 1 {
			groups[a.OneOf] = true
			out += "  " + a.Name + " = " + a.Example + "\n"
		}
	}
	return out + "}"
}

func (p *proposer) nodeSnippet(s *snippet, n *schema.Node, t *schema.BlockType, indent string) {
	if n.InLine() {
		s.stop(p.free(n.Type, n.Label()))
		s.text(" = ")
		s.value(nil, n.Assigns[0].Val.String())
		return
	}
	s.text(n.Type + " ")
	if len(n.Labels) > 0 {
		s.text(`"`)
		s.stop(p.free(n.Type, n.Label()))
		s.text(`" `)
	}
	s.text("{\n")
	type line struct {
		name, value string
		attr        *schema.Attr
	}
	var list []line
	width := 0
	for _, a := range n.Assigns {
		l := line{a.Name, a.Val.String(), attrNamed(t, a.Name)}
		if l.attr != nil && strangers(l.attr) {
			continue
		}
		if l.attr != nil && names(l.attr) {
			best := p.best(l.attr)
			if best == "" && !l.attr.Required && !strings.HasPrefix(l.value, "catalog.") {
				continue // it would name what the plan does not have
			}
			if best != "" {
				l.value = best
			}
		}
		width = max(width, len(l.name))
		list = append(list, l)
	}
	for _, l := range list {
		s.text(fmt.Sprintf("%s  %-*s = ", indent, width, l.name))
		s.value(l.attr, l.value)
		s.text("\n")
	}
	for _, c := range n.Blocks {
		ct, ok := t.Block(c.Type)
		if !ok || slices.ContainsFunc(c.Assigns, func(a *schema.Assign) bool { d := attrNamed(ct, a.Name); return d != nil && strangers(d) }) {
			continue // that there is one, and why, only the maker knows
		}
		s.text(indent + "  ")
		p.nodeSnippet(s, c, ct, indent+"  ")
		s.text("\n")
	}
	if indent == "" {
		s.stops.WriteString("  $0\n")
	}
	s.text(indent + "}")
}

// strangers reports whether an example of an attribute would be a fact or decision of
// somebody else's where it is left as it stands: a price, a reason, rules switched off.
func strangers(a *schema.Attr) bool {
	return !a.Required && (a.Name == "because" || a.Name == "why" || a.Kind == schema.RuleNames || a.Dim == quantity.Money)
}

// names reports whether an attribute's value names blocks.
func names(a *schema.Attr) bool {
	return a.Kind == schema.Reference || a.Kind == schema.References || a.Kind == schema.OrderedRuns || a.Kind == schema.Place || a.Kind == schema.Places
}

// free is a name that no block of the type has yet: with a number behind it, and with a letter
// where numbers are those of copies.
func (p *proposer) free(typeName, name string) string {
	_, copied := p.v.find(typeName, name+"-1")
	out := name
	for i := 2; ; i++ {
		if _, taken := p.v.find(typeName, out); !taken {
			return out
		}
		out = fmt.Sprintf("%s-%d", name, i)
		if copied {
			out = name + "-" + strings.Repeat("z", (i-1)/26) + string(rune('a'+(i-1)%26))
		}
	}
}

// best is the likeliest value of an attribute that names blocks: the first
// that completion would propose among the plan's own.
func (p *proposer) best(a *schema.Attr) string {
	refs := p.candidates(a)
	if len(refs) == 0 {
		return ""
	}
	best := slices.MinFunc(refs, func(a, b candidate) int { return a.rank - b.rank })
	if a.Kind == schema.Place && best.rank > 0 && a.Name != "at" {
		return "" // nothing waits to be connected
	}
	if a.Kind == schema.References || a.Kind == schema.OrderedRuns || a.Kind == schema.Places {
		return "[" + best.text + "]"
	}
	return best.text
}
