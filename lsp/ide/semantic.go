package ide

import (
	"bytes"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// TokenTypes and TokenModifiers are the legend of Tokens, in names of the
// language server protocol.
var (
	TokenTypes     = []string{"keyword", "type", "class", "property", "variable", "function", "string", "number", "enumMember", "comment", "operator", "parameter"}
	TokenModifiers = []string{"declaration", "readonly", "defaultLibrary", "deprecated", "documentation"}
)

// Indexes of TokenTypes.
const (
	keywordToken = iota
	typeToken
	classToken
	propertyToken
	variableToken
	functionToken
	stringToken
	numberToken
	choiceToken
	commentToken
)

// Bits of TokenModifiers.
const (
	declaration uint32 = 1 << iota
	readonly
	builtIn
	_
	documentation
)

// Token is a word with its meaning: Type and the bits of Modifiers are indexes
// of the legend. A token lies within one line.
type Token struct {
	Start, Length int
	Type          int
	Modifiers     uint32
}

// Tokens lists the tokens that lie in a range of v.File, in their order.
func Tokens(v *View, at Range) []Token {
	p := &painter{v: v}
	for i, piece := range v.File.Pieces {
		base := v.File.Offset(i)
		if base > at.End || base+len(piece.Bytes()) < at.Start {
			continue
		}
		p.spot = spot{piece: piece, base: base}
		first := len(p.out)
		for _, n := range schema.NodesIn(piece) {
			p.block(n, nil)
		}
		p.comments()
		slices.SortFunc(p.out[first:], func(a, b Token) int { return a.Start - b.Start })
	}
	end := 0
	return slices.DeleteFunc(p.out, func(t Token) bool {
		if t.Start < end || t.Start < at.Start || t.Start+t.Length > at.End {
			return true
		}
		end = t.Start + t.Length
		return false
	})
}

type painter struct {
	spot
	v   *View
	out []Token
}

func (p *painter) add(at source.Span, kind int, modifiers uint32) {
	if at.End <= at.Start || bytes.IndexByte(p.piece.Bytes()[at.Start:at.End], '\n') >= 0 {
		return
	}
	p.out = append(p.out, Token{p.base + at.Start, at.End - at.Start, kind, modifiers})
}

func (p *painter) block(n *schema.Node, outer []*schema.BlockType) {
	types := append(outer[:len(outer):len(outer)], innerType(outer, n.Type))
	t := types[len(types)-1]
	if t != nil {
		p.add(n.TypeAt, keywordToken, 0)
		if len(n.Labels) > 0 {
			p.add(bare(n.Labels[0].At), classToken, declaration)
		}
	}
	for _, a := range n.Assigns {
		var attr *schema.Attr
		if t != nil {
			attr = attrNamed(t, a.Name)
		}
		switch {
		case n.Type == "let" && len(types) == 1:
			p.add(a.NameAt, variableToken, declaration|readonly)
		case attr != nil:
			p.add(a.NameAt, propertyToken, 0)
		case a.Name == "like" && len(types) == 1:
			p.add(a.NameAt, keywordToken, 0)
		}
		p.value(a.Val, attr)
	}
	for _, c := range n.Blocks {
		p.block(c, types)
	}
}

func (p *painter) value(v *schema.Val, a *schema.Attr) {
	switch v.Kind {
	case schema.TextVal:
		p.add(inBrackets(v.At), p.textType(v, a), 0)
	case schema.NumberVal:
		p.add(inBrackets(v.At), numberToken, 0)
	case schema.BoolVal:
		p.add(v.At, choiceToken, 0)
	case schema.RefVal:
		p.reference(v)
	case schema.CallVal:
		if _, ok := schema.FunctionNamed(v.Func.Text); ok {
			p.add(v.Func.At, functionToken, builtIn)
		}
	case schema.MapVal:
		for _, k := range v.Keys {
			p.add(k.At, propertyToken, 0)
		}
	}
	for _, x := range v.Items {
		p.value(x, a)
	}
}

// textType says what a text in quotes is: a quantity, one of a fixed set, or text.
func (p *painter) textType(v *schema.Val, a *schema.Attr) int {
	if a == nil {
		return stringToken
	}
	switch a.Kind {
	case schema.Choice, schema.RuleNames, schema.Letters, schema.Enclosure:
		return choiceToken
	case schema.Colour, schema.Date:
		return numberToken
	case schema.Values:
		if _, ok := p.v.evaluate(v); ok {
			return numberToken
		}
	}
	if d := dimensionOf(a); d != quantity.None {
		if _, ok := p.v.Plan.Evaluate(v, d); ok {
			return numberToken
		}
	}
	return stringToken
}

func (p *painter) reference(v *schema.Val) {
	t, used := p.v.follow(v.Steps)
	for i, s := range v.Steps {
		if s.Index != nil {
			p.value(s.Index, indexed)
			continue
		}
		switch {
		case i == 0:
			if _, isType := schema.TypeNamed(s.Name); isType || s.Name == "catalog" || s.Name == "let" {
				p.add(s.At, typeToken, 0)
			}
		case used == 0: // it names nothing
		case t.let != nil:
			p.add(s.At, variableToken, readonly)
		case i == 1 && v.Steps[0].Name == "catalog":
			p.add(s.At, classToken, readonly|builtIn)
		case i == 1 || i == 3 && used == 4:
			p.add(s.At, classToken, 0)
		default:
			p.add(s.At, propertyToken, 0)
		}
	}
}

// comments marks comments, in silencing ones the rule.
func (p *painter) comments() {
	allows := lint.Allows(p.piece)
	for _, t := range p.piece.Comments() {
		at := p.span(t.Range.Start.Byte, t.Range.Start.Byte+len(bytes.TrimRight(t.Bytes, "\r\n")))
		i := slices.IndexFunc(allows, func(a lint.Allow) bool { return a.At.Start == at.Start })
		if i < 0 {
			for _, line := range lines(at) {
				p.add(line, commentToken, 0)
			}
			continue
		}
		rule := allows[i].Rule.At
		p.add(p.span(at.Start, rule.Start), commentToken, documentation)
		p.add(rule, choiceToken, 0)
		p.add(p.span(rule.End, at.End), commentToken, documentation)
	}
}

// lines cuts a stretch at its line ends.
func lines(at source.Span) []source.Span {
	var out []source.Span
	src := at.Piece.Bytes()
	for start := at.Start; start < at.End; {
		end := at.End
		if n := bytes.IndexByte(src[start:at.End], '\n'); n >= 0 {
			end = start + n
		}
		out = append(out, source.Span{Piece: at.Piece, Start: start, End: start + len(bytes.TrimRight(src[start:end], "\r"))})
		start = end + 1
	}
	return out
}
