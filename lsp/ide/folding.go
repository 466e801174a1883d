package ide

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/quantity"
)

// FoldKind is the sort of thing that is folded.
type FoldKind int

// The kinds of folds.
const (
	BlockFold FoldKind = iota
	ListFold
	TextFold
	CommentFold
)

// Fold is a stretch over several lines that can be shown as one. Start is in
// the line that stays, End in the last line that is hidden.
type Fold struct {
	Range
	Kind FoldKind
	Text string // what to show for it, such as "{ 12 lines }"
}

// Folds finds what can be folded: blocks, lists, maps, heredocs, and comments
// over several lines.
func Folds(v *View) []Fold {
	f := folder{v: v}
	for i, p := range v.File.Pieces {
		f.spot = spot{piece: p, base: v.File.Offset(i)}
		f.open = f.open[:0]
		for _, t := range p.Tokens() {
			f.take(t)
		}
		f.comments()
	}
	slices.SortStableFunc(f.out, func(a, b Fold) int { return a.Start - b.Start })
	return f.out
}

type folder struct {
	spot
	v        *View
	out      []Fold
	open     []hclsyntax.Token
	comment  hclsyntax.Token // the first of comment lines one below the other
	last     int             // end of the last of them
	lastLine int
	running  bool
}

func (f *folder) line(offset int) int { return f.v.File.Text.OffsetPosition(f.base+offset, 0).Line }

func (f *folder) add(start, end int, kind FoldKind, shown string) {
	if f.line(start) < f.line(end) {
		f.out = append(f.out, Fold{Range{f.base + start, f.base + end}, kind, shown})
	}
}

func (f *folder) take(t hclsyntax.Token) {
	if t.Type == hclsyntax.TokenComment {
		f.takeComment(t)
		return
	}
	if t.Type != hclsyntax.TokenNewline {
		f.comments()
	}
	switch t.Type {
	case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenOHeredoc:
		f.open = append(f.open, t)
	case hclsyntax.TokenCBrace:
		f.close(hclsyntax.TokenOBrace, t, BlockFold)
	case hclsyntax.TokenCBrack:
		f.close(hclsyntax.TokenOBrack, t, ListFold)
	case hclsyntax.TokenCParen:
		f.close(hclsyntax.TokenOParen, t, ListFold)
	case hclsyntax.TokenCHeredoc:
		f.close(hclsyntax.TokenOHeredoc, t, TextFold)
	}
}

// close ends the innermost stretch of a kind. A closing bracket's own line
// stays in sight, unless there is nothing else to hide.
func (f *folder) close(opened hclsyntax.TokenType, t hclsyntax.Token, kind FoldKind) {
	for n := len(f.open) - 1; n >= 0; n-- {
		if f.open[n].Type != opened {
			continue
		}
		start := f.open[n].Range.End.Byte
		if opened == hclsyntax.TokenOHeredoc {
			start = f.open[n].Range.Start.Byte + len(bytes.TrimRight(f.open[n].Bytes, "\r\n"))
		}
		f.open = f.open[:n]
		lines := f.line(t.Range.Start.Byte) - f.line(start) - 1
		shown := fmt.Sprintf("%s %s %s", map[hclsyntax.TokenType]string{hclsyntax.TokenOBrace: "{", hclsyntax.TokenOBrack: "[", hclsyntax.TokenOParen: "(", hclsyntax.TokenOHeredoc: "…"}[opened],
			quantity.Count(max(lines, 0), "line"), map[hclsyntax.TokenType]string{hclsyntax.TokenOBrace: "}", hclsyntax.TokenOBrack: "]", hclsyntax.TokenOParen: ")", hclsyntax.TokenOHeredoc: "…"}[opened])
		f.add(start, t.Range.Start.Byte, kind, shown)
		return
	}
}

func (f *folder) takeComment(t hclsyntax.Token) {
	start := t.Range.Start.Byte
	text := bytes.TrimRight(t.Bytes, "\r\n")
	if bytes.HasPrefix(text, []byte("/*")) {
		f.comments()
		f.add(start, start+len(text), CommentFold, firstLine(string(text)))
		return
	}
	line := f.line(start)
	alone := len(bytes.TrimSpace(f.piece.Bytes()[bytes.LastIndexByte(f.piece.Bytes()[:start], '\n')+1:start])) == 0
	if !alone {
		f.comments()
		return
	}
	if f.running && line != f.lastLine+1 {
		f.comments()
	}
	if !f.running {
		f.running, f.comment = true, t
	}
	f.last, f.lastLine = start+len(text), line
}

// comments ends a group of comment lines.
func (f *folder) comments() {
	if f.running {
		f.running = false
		first := bytes.TrimRight(f.comment.Bytes, "\r\n")
		f.add(f.comment.Range.Start.Byte+len(first), f.last, CommentFold, " …")
	}
}
