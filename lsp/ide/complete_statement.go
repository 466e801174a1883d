package ide

import (
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// statement proposes what a line may start with: a block at the top, an
// attribute or nested block within one.
func (p *proposer) statement(token int) {
	f, inner := p.block()
	if len(inner) > 0 || f.first >= 0 && f.first != token || p.before.Type == hclsyntax.TokenCBrace {
		return // behind something in the same line
	}
	types := p.types()
	if len(types) == 0 {
		p.topBlocks(token)
		return
	}
	t := types[len(types)-1]
	if t == nil || slices.Contains(types, nil) {
		return
	}
	p.attributes(types, t, p.written(f, token), token)
}

// follows reports whether a token of a kind stands behind the word in its line.
func (p *proposer) follows(token int, kinds ...hclsyntax.TokenType) bool {
	next := token
	if t := p.token(token); t.Range.Start.Byte < p.replace.End && t.Type == hclsyntax.TokenIdent {
		next++
	}
	return slices.Contains(kinds, p.token(next).Type)
}

// topBlocks proposes the block types, those that a plan has once only if they
// are not there yet.
func (p *proposer) topBlocks(token int) {
	headed := p.follows(token, hclsyntax.TokenOQuote, hclsyntax.TokenOBrace, hclsyntax.TokenIdent)
	for _, t := range schema.Language {
		if t.Once && !headed && slices.ContainsFunc(p.v.Plan.Blocks, func(b schema.Block) bool { return schema.HeaderOf(b).Type == t }) {
			continue
		}
		it := Item{Label: t.Name, Kind: BlockItem, Detail: t.Doc, Key: "block:" + t.Name}
		if !headed {
			s := p.blockSnippet(t)
			it.Text, it.Snippet = s.plain.String(), s.stops.String()
		}
		p.add(0, it)
	}
}

// written lists the names of the attributes and blocks that stand in an open
// block already, apart from the one at the cursor.
func (p *proposer) written(f *frame, cursor int) map[string]bool {
	out := map[string]bool{}
	depth, start := 0, f.open+1
	for i := f.open + 1; i < len(p.tokens); i++ {
		switch t := p.tokens[i]; t.Type {
		case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			if depth == 0 && t.Type == hclsyntax.TokenOBrace && start < i && start != cursor && p.tokens[start].Type == hclsyntax.TokenIdent {
				out[string(p.tokens[start].Bytes)] = true
			}
			depth++
		case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen, hclsyntax.TokenTemplateSeqEnd:
			if depth--; depth < 0 {
				return out
			}
		case hclsyntax.TokenEqual:
			if depth == 0 && start == i-1 && start != cursor && p.tokens[start].Type == hclsyntax.TokenIdent {
				out[string(p.tokens[start].Bytes)] = true
			}
		case hclsyntax.TokenNewline:
			if depth == 0 {
				start = i + 1
			}
		case hclsyntax.TokenComment:
			if depth == 0 && (start == i || strings.HasSuffix(string(t.Bytes), "\n")) {
				start = i + 1
			}
		}
	}
	return out
}

// attributes proposes what a block does not say yet: what it needs first, then
// the rest, then nested blocks. Of what excludes each other one may be written.
func (p *proposer) attributes(types []*schema.BlockType, t *schema.BlockType, written map[string]bool, token int) {
	path := typePath(types)
	groups := map[string]bool{}
	for i := range t.Attrs {
		if a := &t.Attrs[i]; a.OneOf != "" && written[a.Name] {
			groups[a.OneOf] = true
		}
	}
	for _, b := range t.Blocks {
		if b.OneOf != "" && written[b.Name] {
			groups[b.OneOf] = true
		}
	}
	set := p.follows(token, hclsyntax.TokenEqual)
	if len(types) == 1 && !written["like"] && t.Likes() && t.Name != "let" && t.Label != "" && t.Name != "plan" {
		p.attribute(1, set, path, t.Like())
	}
	for i := range t.Attrs {
		a := &t.Attrs[i]
		if a.Name == "*" || written[a.Name] || a.OneOf != "" && groups[a.OneOf] {
			continue
		}
		rank := 2
		if a.Required && !written["like"] {
			rank = 0
		}
		p.attribute(rank, set, path, a)
	}
	if set {
		return
	}
	for _, b := range t.Blocks {
		if b.Once && written[b.Name] || b.OneOf != "" && groups[b.OneOf] {
			continue
		}
		s := p.blockSnippet(b)
		p.add(3, Item{Label: b.Name, Kind: BlockItem, Detail: b.Doc, Text: s.plain.String(), Snippet: s.stops.String(), Key: "block:" + path + "/" + b.Name})
	}
}

func (p *proposer) attribute(rank int, set bool, path string, a *schema.Attr) {
	it := Item{Label: a.Name, Kind: AttributeItem, Detail: shape(a), Key: "attr:" + path + "." + a.Name}
	if a.Required {
		it.Note = "required"
	}
	if a.Name == "like" {
		it.Key, it.Doc = "", a.Doc
	}
	if !set {
		s := &snippet{}
		s.text(a.Name + " = ")
		switch a.Kind {
		case schema.Reference, schema.Place:
			it.Again = true
			s.end()
		case schema.References, schema.OrderedRuns, schema.Places:
			it.Again = true
			s.text("[")
			s.end()
			s.text("]")
		default:
			s.value(a, a.Example)
		}
		it.Text, it.Snippet = s.plain.String(), s.stops.String()
	}
	p.add(rank, it)
}

// shape says in a word or two what an attribute takes.
func shape(a *schema.Attr) string {
	switch a.Kind {
	case schema.Measure:
		return a.Dim.String()
	case schema.MeasureEach:
		return a.Dim.String() + ", or a list"
	case schema.Measures:
		return "list: " + a.Dim.String()
	case schema.Reference:
		return strings.Join(a.Types, " or ")
	case schema.Place:
		return strings.Join(schema.PlaceTypes(a.Places), ", ")
	case schema.Choice:
		var out []string
		for _, o := range a.Choices {
			out = append(out, o.Value)
		}
		if len(out) > 4 {
			out = append(out[:4], "…")
		}
		return strings.Join(out, " | ")
	case schema.Boolean:
		return "true | false"
	case schema.Integer:
		return "number"
	case schema.LetterMeasure, schema.LetterShare:
		return dimensionOf(a).String() + ", or by channel"
	}
	if a.Dim != quantity.None {
		return a.Dim.String()
	}
	return ""
}
