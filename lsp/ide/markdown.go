package ide

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

// Everything said about the language here comes from its declarations.

// page is Markdown in the making: parts with an empty line between them.
type page struct{ parts []string }

func (p *page) add(format string, args ...any) {
	if s := strings.TrimSpace(fmt.Sprintf(format, args...)); s != "" {
		p.parts = append(p.parts, s)
	}
}

func (p *page) String() string { return strings.Join(p.parts, "\n\n") }

// code sets a text as plan text, with a fence that it does not hold itself.
func code(text string) string {
	fence := "```"
	for strings.Contains(text, fence) {
		fence += "`"
	}
	return fence + "ohmstead\n" + strings.TrimRight(text, "\n") + "\n" + fence
}

// prose keeps what a plan says from being read as an image, which an editor may
// fetch as soon as it shows it, as a link or as a tag.
func prose(text string) string { return markup.Replace(terminal.Printable(text)) }

var markup = strings.NewReplacer(`\`, `\\`, "](", `\](`, "][", `\][`, "![", `\![`, "<", `\<`)

// facts lists what was worked out, and then shows what is a picture: a box of a
// few lines, as editors have them, should not be filled by that.
func (p *page) facts(fs facts) {
	var lines, images []string
	for _, f := range fs {
		if f.image != "" {
			images = append(images, f.image)
			continue
		}
		lines = append(lines, "- "+prose(f.name)+": "+prose(f.text))
	}
	p.add("%s", strings.Join(lines, "\n"))
	p.add("%s", strings.Join(images, "\n\n"))
}

// blockDoc documents a block type.
func blockDoc(t *schema.BlockType) string {
	var p page
	p.add("%s", t.Doc)
	p.add("%s", t.Detail)
	if t.Example != "" {
		p.add("%s", code(t.Example))
	}
	return p.String()
}

// attrDoc documents an attribute of a block type.
func attrDoc(t *schema.BlockType, a *schema.Attr) string {
	var p page
	p.add("%s", a.Doc)
	p.add("%s", a.Detail)
	if t != nil {
		if drawn := t.Picture(a); drawn != "" {
			p.add("%s", "```text"+drawn+"\n```")
		}
	}
	var lines []string
	line := func(name, text string) {
		if text != "" {
			lines = append(lines, "- "+name+": "+text)
		}
	}
	line("takes", takes(a))
	line("range", a.Limits())
	if a.Default != "" {
		line("default", "`"+a.Default+"`")
	}
	if a.Required {
		line("required", "yes")
	}
	line("excludes", strings.Join(excluded(t, a.OneOf, a.Name), ", "))
	p.add("%s", strings.Join(lines, "\n"))
	if len(a.Choices) > 0 {
		p.add("%s", choices(a.Choices))
	}
	if a.Example != "" && a.Name != "*" {
		p.add("%s", code(a.Name+" = "+a.Example))
	}
	return p.String()
}

func choices(os []schema.Option) string {
	var lines []string
	for _, o := range os {
		lines = append(lines, fmt.Sprintf("- `%q`: %s", o.Value, o.Doc))
	}
	return strings.Join(lines, "\n")
}

// excluded lists what stands in the same exclusive group.
func excluded(t *schema.BlockType, group, but string) []string {
	if group == "" || t == nil {
		return nil
	}
	var out []string
	for i := range t.Attrs {
		if t.Attrs[i].OneOf == group && t.Attrs[i].Name != but {
			out = append(out, t.Attrs[i].Name)
		}
	}
	for _, b := range t.Blocks {
		if b.OneOf == group && b.Name != but {
			out = append(out, b.Name)
		}
	}
	return out
}

// takes says what an attribute takes, with the first units of a measure.
func takes(a *schema.Attr) string {
	switch a.Kind {
	case schema.Choice:
		return "one of the values below"
	case schema.Measure, schema.Measures, schema.MeasureEach, schema.LetterMeasure:
		var names []string
		for _, u := range quantity.Units(a.Dim) {
			names = append(names, u.Symbol)
		}
		return a.Takes() + " (" + strings.Join(names[:min(len(names), 7)], ", ") + ")"
	}
	return a.Takes()
}

// functionDoc documents a function.
func functionDoc(f *schema.Function) string {
	var p page
	p.add("%s", f.Doc)
	if f.Detail != "" {
		p.add("%s", code(f.Detail))
	}
	return p.String()
}

// call writes a function with its parameters, and where each stands in it.
func call(f *schema.Function) (label string, params []Range) {
	var b strings.Builder
	b.WriteString(f.Name + "(")
	for i, p := range f.Params {
		if i > 0 {
			b.WriteString(", ")
		}
		start := b.Len()
		b.WriteString(p.Name)
		if f.More && i == len(f.Params)-1 {
			b.WriteString(", ...") // labels are ASCII: clients count their signs in three ways
		}
		params = append(params, Range{start, b.Len()})
	}
	b.WriteString(")")
	return b.String(), params
}

// partText writes what a block says once like is followed, as plan text.
func partText(b schema.Block) string {
	h := schema.HeaderOf(b)
	attrs, blocks := schema.Says(b)
	if len(blocks) > 6 {
		blocks = nil // the pins of a board are told otherwise
	}
	var out strings.Builder
	out.WriteString(h.Type.Name)
	if h.Type.Label != "" {
		fmt.Fprintf(&out, " %q", h.Node.Label())
	}
	out.WriteString(" {\n")
	width := 0
	for _, a := range attrs {
		width = max(width, len(a.Name))
	}
	// In the order of the declaration, which goes from the telling to the rest.
	slices.SortStableFunc(attrs, func(a, b *schema.Assign) int { return attrOrder(h.Type, a.Name) - attrOrder(h.Type, b.Name) })
	for _, a := range attrs {
		if a.Name == "source" {
			continue
		}
		fmt.Fprintf(&out, "  %-*s = %s\n", width, a.Name, a.Val)
	}
	for _, n := range blocks {
		fmt.Fprintf(&out, "  %s\n", firstLine(text(n.Whole)))
	}
	out.WriteString("}")
	return out.String()
}

func attrOrder(t *schema.BlockType, name string) int {
	for i := range t.Attrs {
		if t.Attrs[i].Name == name {
			return i
		}
	}
	return -1
}

// sourceText is where a part's values come from.
func sourceText(b schema.Block) string {
	attrs, _ := schema.Says(b)
	for _, a := range attrs {
		if a.Name == "source" && a.Val.Kind == schema.TextVal {
			return a.Val.Text
		}
	}
	return ""
}

// ruleDoc documents a rule in short.
func ruleDoc(r *lint.Rule) string {
	var p page
	p.add("**%s**: %s. Level: %s.", r.Name, r.Title, r.Level)
	if r.Guard {
		p.add("It guards against fire or shock: a policy cannot switch it off.")
	}
	p.add("%s", r.Why)
	p.add("%s", r.Do)
	return p.String()
}
