package ide

import (
	"fmt"
	"strings"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// snippet is text with tab stops in the making, and the same text without them.
type snippet struct {
	stops, plain strings.Builder
	n            int
}

var escapes = strings.NewReplacer(`\`, `\\`, `$`, `\$`, `}`, `\}`)

func (s *snippet) text(t string) {
	s.stops.WriteString(escapes.Replace(t))
	s.plain.WriteString(t)
}

// stop adds a tab stop with a text to type over.
func (s *snippet) stop(t string) {
	s.n++
	fmt.Fprintf(&s.stops, "${%d:%s}", s.n, escapes.Replace(t))
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
	example := t.Example
	if example == "" {
		example = plainExample(t)
	}
	piece := source.Parse(source.NewText("", []byte(example))).Pieces[0]
	nodes := schema.NodesIn(piece)
	if len(nodes) == 0 {
		s.text(t.Name + " {\n  ")
		s.end()
		s.text("\n}")
		return s
	}
	p.nodeSnippet(s, nodes[0], t, "")
	return s
}

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
	s.text(n.Type + " ")
	if len(n.Labels) > 0 {
		s.text(`"`)
		s.stop(n.Label())
		s.text(`" `)
	}
	s.text("{\n")
	width := 0
	for _, a := range n.Assigns {
		width = max(width, len(a.Name))
	}
	for _, a := range n.Assigns {
		s.text(fmt.Sprintf("%s  %-*s = ", indent, width, a.Name))
		attr, value := attrNamed(t, a.Name), a.Val.String()
		if a.Name == "like" {
			attr = &schema.Attr{Kind: schema.Reference, Types: []string{t.Name}}
		}
		if best := p.best(attr); best != "" {
			value = best
		}
		s.value(attr, value)
		s.text("\n")
	}
	for _, c := range n.Blocks {
		ct, ok := t.Block(c.Type)
		if !ok {
			continue
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

// best is the likeliest reference for an attribute: the first that completion
// would propose among the plan's own blocks.
func (p *proposer) best(a *schema.Attr) string {
	if a == nil {
		return ""
	}
	var refs []candidate
	switch a.Kind {
	case schema.Reference:
		refs = p.blocks(a)
	case schema.Place:
		refs = p.places(a)
	}
	for _, r := range refs {
		if r.rank == 0 {
			return r.text
		}
	}
	for _, r := range refs {
		return r.text
	}
	return ""
}
