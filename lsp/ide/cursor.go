package ide

import (
	"bytes"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// spot is a place in v.File as a place in one of its pieces.
type spot struct {
	piece *source.Piece
	base  int // offset of the piece in the file
	at    int // offset in the piece
}

// spot is false for a file that was refused.
func (v *View) spot(offset int) (spot, bool) {
	i := v.File.PieceAt(offset)
	if i < 0 {
		return spot{}, false
	}
	s := spot{piece: v.File.Pieces[i], base: v.File.Offset(i)}
	s.at = min(max(offset-s.base, 0), len(s.piece.Bytes()))
	return s, true
}

func (s spot) span(start, end int) source.Span {
	return source.Span{Piece: s.piece, Start: start, End: end}
}

// file turns a span of the spot's piece into a range of the file.
func (s spot) file(at source.Span) Range { return Range{s.base + at.Start, s.base + at.End} }

// cursor is what the tokens in front of a place say about it. It knows the
// place in text that does not parse, which the syntax tree does not.
type cursor struct {
	spot
	v      *View
	tokens hclsyntax.Tokens
	last   int     // the token that starts before the place and ends last; -1 for none
	frames []frame // what is open around the place; the first is the file itself
}

// frame is one thing that is open: a block, a bracket, a quote.
type frame struct {
	kind   frameKind
	open   int    // its opening token; of a file -1
	word   string // block: its type; call: the function
	labels []string
	indent int // of the line that it was opened in

	first int // block: the first token of the statement so far; -1 at its start
	equal int // block, map: the token "=" of the item so far; -1 without one
	items int // list, map, call: items that are complete
}

type frameKind int

const (
	blockFrame frameKind = iota
	mapFrame
	listFrame
	indexFrame
	callFrame
	groupFrame    // ( … )
	quoteFrame    // " … "
	heredocFrame  // <<E … E
	templateFrame // ${ … }
)

func (s spot) cursor(v *View) *cursor {
	c := &cursor{spot: s, v: v, tokens: s.piece.Tokens(), last: -1, frames: []frame{{open: -1, first: -1, equal: -1, indent: -1}}}
	broken := len(s.piece.Problems()) > 0
	for i, t := range c.tokens {
		if t.Range.Start.Byte >= s.at || t.Type == hclsyntax.TokenEOF {
			break
		}
		c.last = i
		if broken {
			c.recover(t)
		}
		c.take(i, t)
	}
	if start := c.lineStart(s.at); broken && len(bytes.Trim(s.piece.Bytes()[start:s.at], " \t")) == 0 && !c.inside(heredocFrame) {
		c.leaveBrackets(s.at - start)
	}
	return c
}

// leaveBrackets leaves brackets and quotes that a blank line of some
// indentation does not belong to; which block it belongs to stays open.
func (c *cursor) leaveBrackets(indent int) {
	n := len(c.frames)
	for n > 1 && c.frames[n-1].kind != blockFrame && (c.frames[n-1].indent >= indent || c.frames[n-1].kind == quoteFrame) {
		n--
	}
	c.frames = c.frames[:n]
	if f := c.top(); f.kind == blockFrame {
		f.first, f.equal = -1, -1
	}
}

func (c *cursor) top() *frame { return &c.frames[len(c.frames)-1] }

func (c *cursor) push(f frame) {
	f.first, f.equal = -1, -1
	f.indent = c.indent(c.tokens[f.open].Range.Start.Byte)
	c.frames = append(c.frames, f)
}

// pop leaves the innermost frame of one of the kinds, if there is one.
func (c *cursor) pop(kinds ...frameKind) {
	for n := len(c.frames) - 1; n > 0; n-- {
		for _, k := range kinds {
			if c.frames[n].kind == k {
				c.frames = c.frames[:n]
				return
			}
		}
	}
}

// indent is the width of the blanks at the start of the line of an offset.
func (c *cursor) indent(offset int) int {
	start := c.lineStart(offset)
	text := c.piece.Bytes()[start:offset]
	return len(text) - len(bytes.TrimLeft(text, " \t"))
}

func (c *cursor) lineStart(offset int) int {
	return bytes.LastIndexByte(c.piece.Bytes()[:offset], '\n') + 1
}

// recover leaves what was never closed, in text with mistakes: a quote ends
// with its line, and a line that is indented no deeper than the one that opened
// something does not belong to it.
func (c *cursor) recover(t hclsyntax.Token) {
	at := t.Range.Start.Byte
	src := c.piece.Bytes()
	for n := len(c.frames) - 1; n > 0; n-- {
		open := c.tokens[c.frames[n].open].Range
		if c.frames[n].kind == quoteFrame && bytes.IndexByte(src[min(open.Start.Byte, at):at], '\n') >= 0 {
			c.frames = c.frames[:n]
		}
	}
	start := c.lineStart(at)
	if t.Type == hclsyntax.TokenNewline || len(bytes.TrimLeft(src[start:at], " \t")) > 0 || c.inside(heredocFrame) {
		return
	}
	indent := at - start
	closes := t.Type == hclsyntax.TokenCBrace || t.Type == hclsyntax.TokenCBrack || t.Type == hclsyntax.TokenCParen
	if !closes && t.Type != hclsyntax.TokenIdent {
		return
	}
	n := len(c.frames)
	for n > 1 && (c.frames[n-1].indent > indent || c.frames[n-1].indent == indent && !closes) {
		n--
	}
	c.frames = c.frames[:n]
	if f := c.top(); f.kind == blockFrame && !closes {
		f.first, f.equal = -1, -1 // a value goes over several lines in brackets only
	}
}

func (c *cursor) inside(k frameKind) bool {
	for _, f := range c.frames {
		if f.kind == k {
			return true
		}
	}
	return false
}

// take moves over one token.
func (c *cursor) take(i int, t hclsyntax.Token) {
	f := c.top()
	switch t.Type {
	case hclsyntax.TokenOQuote:
		c.start(i)
		c.push(frame{kind: quoteFrame, open: i})
	case hclsyntax.TokenCQuote:
		c.pop(quoteFrame)
	case hclsyntax.TokenOHeredoc:
		c.push(frame{kind: heredocFrame, open: i})
	case hclsyntax.TokenCHeredoc:
		c.pop(heredocFrame)
	case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
		c.push(frame{kind: templateFrame, open: i})
	case hclsyntax.TokenTemplateSeqEnd:
		c.pop(templateFrame)
	case hclsyntax.TokenOBrace:
		if f.kind == blockFrame && f.equal < 0 && f.first >= 0 {
			word, labels := c.header(f.first, i)
			c.push(frame{kind: blockFrame, open: i, word: word, labels: labels})
			return
		}
		c.push(frame{kind: mapFrame, open: i})
	case hclsyntax.TokenCBrace:
		c.pop(blockFrame, mapFrame)
		c.end(c.top())
	case hclsyntax.TokenOBrack:
		if i > 0 && c.tokens[i-1].Range.End.Byte == t.Range.Start.Byte && (c.tokens[i-1].Type == hclsyntax.TokenIdent || c.tokens[i-1].Type == hclsyntax.TokenCBrack) {
			c.push(frame{kind: indexFrame, open: i})
			return
		}
		c.push(frame{kind: listFrame, open: i})
	case hclsyntax.TokenCBrack:
		c.pop(listFrame, indexFrame)
	case hclsyntax.TokenOParen:
		if i > 0 && c.tokens[i-1].Type == hclsyntax.TokenIdent {
			c.push(frame{kind: callFrame, open: i, word: string(c.tokens[i-1].Bytes)})
			return
		}
		c.push(frame{kind: groupFrame, open: i})
	case hclsyntax.TokenCParen:
		c.pop(callFrame, groupFrame)
	case hclsyntax.TokenComma:
		f.items++
		f.equal = -1
	case hclsyntax.TokenEqual:
		if f.equal < 0 {
			f.equal = i
		}
	case hclsyntax.TokenNewline:
		if f.kind == blockFrame {
			f.first, f.equal = -1, -1
		} else if f.kind == mapFrame && f.equal >= 0 {
			f.items++
			f.equal = -1
		}
	case hclsyntax.TokenComment:
		// A comment up to the end of its line holds the line end.
		if f.kind == blockFrame && bytes.HasSuffix(t.Bytes, []byte("\n")) {
			f.first, f.equal = -1, -1
		}
	default:
		c.start(i)
	}
}

// start notes the first token of a statement.
func (c *cursor) start(i int) {
	if f := c.top(); f.kind == blockFrame && f.first < 0 {
		f.first = i
	}
}

// end closes a statement that ended with a brace: a block on one line may be
// followed by the brace around it.
func (c *cursor) end(f *frame) {
	if f.kind == blockFrame && f.equal < 0 {
		f.first = -1
	}
}

// header reads the type and labels of a block from the tokens in front of its brace.
func (c *cursor) header(first, brace int) (word string, labels []string) {
	for i := first; i < brace; i++ {
		switch t := c.tokens[i]; t.Type {
		case hclsyntax.TokenIdent:
			if word == "" {
				word = string(t.Bytes)
			} else {
				labels = append(labels, string(t.Bytes))
			}
		case hclsyntax.TokenQuotedLit:
			labels = append(labels, string(t.Bytes))
		}
	}
	return word, labels
}

// block is the innermost block that is open, and how many frames are open in it.
func (c *cursor) block() (f *frame, inner []frame) {
	n := len(c.frames) - 1
	for c.frames[n].kind != blockFrame {
		n--
	}
	return &c.frames[n], c.frames[n+1:]
}

// types are the declarations of the blocks that are open, outermost first; nil
// stands for one that the language does not have.
func (c *cursor) types() []*schema.BlockType {
	var out []*schema.BlockType
	for _, f := range c.frames[1:] {
		if f.kind != blockFrame {
			break
		}
		out = append(out, innerType(out, f.word, f.labels...))
	}
	return out
}

// innerType is the declaration of a block within others.
func innerType(outer []*schema.BlockType, name string, labels ...string) *schema.BlockType {
	var t *schema.BlockType
	if len(outer) == 0 {
		t, _ = schema.TypeOf(name, labels...)
	} else if o := outer[len(outer)-1]; o != nil {
		t, _ = o.Block(name)
	}
	return t
}

// assigned is the name of the attribute whose value the place is in, or "".
func (c *cursor) assigned() string {
	f, _ := c.block()
	if f.equal < 0 || f.first < 0 || c.tokens[f.first].Type != hclsyntax.TokenIdent {
		return ""
	}
	return string(c.tokens[f.first].Bytes)
}

// token is the token i, or an empty one.
func (c *cursor) token(i int) hclsyntax.Token {
	if i < 0 || i >= len(c.tokens) {
		return hclsyntax.Token{Type: hclsyntax.TokenNil}
	}
	return c.tokens[i]
}

// word is the part of an identifier (or number) in front of the place, and all
// of it: what completion compares with and what it replaces.
func (c *cursor) word() (typed string, all source.Span, token int) {
	t := c.token(c.last)
	if (t.Type == hclsyntax.TokenIdent || t.Type == hclsyntax.TokenNumberLit) && t.Range.End.Byte >= c.at {
		return string(c.piece.Bytes()[t.Range.Start.Byte:c.at]), c.span(t.Range.Start.Byte, t.Range.End.Byte), c.last
	}
	return "", c.span(c.at, c.at), c.last + 1
}

// comment is the comment that the place is in.
func (c *cursor) comment() (source.Span, bool) {
	t := c.token(c.last)
	if t.Type != hclsyntax.TokenComment {
		return source.Span{}, false
	}
	end := t.Range.End.Byte
	if text := bytes.TrimRight(t.Bytes, "\r\n"); len(text) < len(t.Bytes) {
		end = t.Range.Start.Byte + len(text)
	}
	if c.at > end || bytes.HasPrefix(t.Bytes, []byte("/*")) && c.at == end {
		return source.Span{}, false
	}
	return c.span(t.Range.Start.Byte, end), true
}

// quoted is the text in quotes that the place is in: what lies between the
// quotes, up to the end of its line where the second one is missing.
func (c *cursor) quoted() (source.Span, bool) {
	f := c.top()
	if f.kind != quoteFrame {
		return source.Span{}, false
	}
	src := c.piece.Bytes()
	start := c.tokens[f.open].Range.End.Byte
	end := len(src)
	if n := bytes.IndexByte(src[start:], '\n'); n >= 0 {
		end = start + n
	}
	for _, t := range c.tokens[f.open+1:] {
		if t.Range.Start.Byte >= end {
			break
		}
		if t.Type == hclsyntax.TokenCQuote {
			end = t.Range.Start.Byte
			break
		}
	}
	end = start + len(bytes.TrimRight(src[start:end], "\r"))
	return c.span(start, max(end, start)), c.at >= start
}
