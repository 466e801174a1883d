package lint

import (
	"bytes"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// OpenMark begins a comment that says what is still to be decided or measured, as drafts have them.
const OpenMark = "# ?"

// OpenQuestions says how many of them there are.
func OpenQuestions(n int) string { return quantity.Count(n, "open question") + " (" + OpenMark + ")" }

// Open lists what a plan's own files say is still open: the comments that begin with "# ?", with the lines of
// comment directly below one that stands on a line of its own, which go on with it.
func Open(plan *schema.Plan) (out []source.Span) {
	eachMarked(plan.Files, []byte(OpenMark), func(p *source.Piece) {
		type memo struct{}
		out = append(out, p.Memo(memo{}, func(p *source.Piece) any { return readOpen(p) }).([]source.Span)...)
	})
	return out
}

// Question is what one of them says, in one line.
func Question(at source.Span) string {
	var words []string
	for line := range strings.Lines(string(at.Bytes())) {
		words = append(words, strings.Fields(strings.TrimLeft(line, "#/? \t"))...)
	}
	return strings.Join(words, " ")
}

func readOpen(p *source.Piece) (out []source.Span) {
	src := p.Bytes()
	goesOn := -1 // where a comment of its own line goes on with the last one
	for _, t := range p.Comments() {
		start, end := t.Range.Start.Byte, t.Range.Start.Byte+len(bytes.TrimRight(t.Bytes, "\r\n"))
		line := bytes.LastIndexByte(src[:start], '\n') + 1
		own := len(bytes.TrimSpace(src[line:start])) == 0
		switch {
		case bytes.HasPrefix(t.Bytes, []byte(OpenMark)):
			out = append(out, source.Span{Piece: p, Start: start, End: end})
		case own && line == goesOn:
			out[len(out)-1].End = end
		default:
			continue
		}
		if goesOn = -1; own {
			goesOn = t.Range.Start.Byte + len(t.Bytes) // a comment takes the end of its line with it
		}
	}
	return out
}
