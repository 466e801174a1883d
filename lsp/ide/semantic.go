package ide

import (
	"bytes"
	"iter"
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

// Tokens visits the tokens that lie in a range of v.File, in their order.
func Tokens(v *View, at Range) iter.Seq[Token] {
	return func(yield func(Token) bool) {
		end := 0
		for i, piece := range v.File.Pieces {
			base := v.File.Offset(i)
			if base > at.End || base+len(piece.Bytes()) < at.Start {
				continue
			}
			var last *schema.Val
			var t thing
			var used int
			for _, m := range painted(piece) {
				k := Token{base + int(m.start), int(m.length), int(m.kind), m.modifiers}
				if m.ref != nil {
					if m.ref != last {
						last = m.ref
						t, used = v.follow(m.ref.Steps)
					}
					var ok bool
					if k.Type, k.Modifiers, ok = step(m.ref, int(m.step), t, used); !ok {
						continue
					}
				}
				if k.Start >= end && k.Start >= at.Start && k.Start+k.Length <= at.End {
					if !yield(k) {
						return
					}
					end = k.Start + k.Length
				}
			}
		}
	}
}

// mark is what a piece says of a token by itself: all, but for a step of a
// reference, whose meaning is the affair of the plan.
type mark struct {
	start, length uint32 // in the piece
	modifiers     uint32
	kind, step    uint16
	ref           *schema.Val
}

// painted lists the marks of a piece in their order.
func painted(piece *source.Piece) []mark {
	type memo struct{}
	return piece.Memo(memo{}, func(piece *source.Piece) any {
		p := &painter{spot: spot{piece: piece}}
		for _, n := range schema.NodesIn(piece) {
			p.block(n, nil)
		}
		p.comments()
		slices.SortFunc(p.out, func(a, b mark) int { return int(a.start) - int(b.start) })
		return slices.Clip(p.out)
	}).([]mark)
}

type painter struct {
	spot
	out []mark
}

func (p *painter) add(at source.Span, kind int, modifiers uint32) {
	p.mark(at, mark{kind: uint16(kind), modifiers: modifiers})
}

func (p *painter) mark(at source.Span, m mark) {
	if at.End <= at.Start || bytes.IndexByte(p.piece.Bytes()[at.Start:at.End], '\n') >= 0 {
		return
	}
	m.start, m.length = uint32(at.Start), uint32(at.End-at.Start)
	p.out = append(p.out, m)
}

func (p *painter) block(n *schema.Node, outer []*schema.BlockType) {
	types := append(outer[:len(outer):len(outer)], innerType(outer, n.Type, n.LabelTexts()...))
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
	reads := func(d quantity.Dimension) bool {
		_, err := quantity.ParseFor(d, v.Text)
		return err == nil
	}
	switch a.Kind {
	case schema.Choice, schema.RuleNames, schema.Letters, schema.Enclosure:
		return choiceToken
	case schema.Colour, schema.Date:
		return numberToken
	case schema.Values:
		for d := quantity.Length; d <= quantity.Money; d++ {
			if reads(d) {
				return numberToken
			}
		}
	}
	if d := dimensionOf(a); d != quantity.None && reads(d) {
		return numberToken
	}
	return stringToken
}

func (p *painter) reference(v *schema.Val) {
	for i, s := range v.Steps {
		switch {
		case s.Index != nil:
			p.value(s.Index, indexed)
		case i > 0:
			p.mark(s.At, mark{ref: v, step: uint16(i)})
		default:
			if _, isType := schema.TypeNamed(s.Name); isType || s.Name == "catalog" || s.Name == "let" {
				p.add(s.At, typeToken, 0)
			}
		}
	}
}

// step says what step i of a reference means that was followed to a thing.
func step(v *schema.Val, i int, t thing, used int) (kind int, modifiers uint32, ok bool) {
	switch {
	case used == 0: // it names nothing
		return 0, 0, false
	case t.let != nil:
		return variableToken, readonly, true
	case i == 1 && v.Steps[0].Name == "catalog":
		return classToken, readonly | builtIn, true
	case i == 1 || i == 3 && used == 4:
		return classToken, 0, true
	}
	return propertyToken, 0, true
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
