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
// comment directly below one that stands on a line of its own, which go on with it. Such a one that says "write
// material = ...", is open until that attribute is written in the block that it stands in or above.
func Open(plan *schema.Plan) (out []source.Span) {
	for _, q := range Questions(plan) {
		if !q.Answered {
			out = append(out, q.At)
		}
	}
	return out
}

// Asked is a comment that begins with "# ?".
type Asked struct {
	At       source.Span
	Answered bool
}

// Questions lists those of a plan's own files, answered or not.
func Questions(plan *schema.Plan) (out []Asked) {
	eachMarked(plan.Files, []byte(OpenMark), func(p *source.Piece) {
		type memo struct{}
		out = append(out, p.Memo(memo{}, func(p *source.Piece) any { return readQuestions(p) }).([]Asked)...)
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

func readQuestions(p *source.Piece) (out []Asked) {
	src := p.Bytes()
	goesOn := -1     // where a comment of its own line goes on with the last one
	var alone []bool // which stand on lines of their own
	for _, t := range p.Comments() {
		start, end := t.Range.Start.Byte, t.Range.Start.Byte+len(bytes.TrimRight(t.Bytes, "\r\n"))
		line := bytes.LastIndexByte(src[:start], '\n') + 1
		own := len(bytes.TrimSpace(src[line:start])) == 0
		switch {
		case bytes.HasPrefix(t.Bytes, []byte(OpenMark)):
			out, alone = append(out, Asked{At: source.Span{Piece: p, Start: start, End: end}}), append(alone, own)
		case own && line == goesOn:
			out[len(out)-1].At.End = end
		default:
			continue
		}
		if goesOn = -1; own {
			goesOn = t.Range.Start.Byte + len(t.Bytes) // a comment takes the end of its line with it
		}
	}
	for i := range out {
		out[i].Answered = alone[i] && answered(out[i].At)
	}
	return out
}

// answered reports whether an attribute that a question asks to write is written in the block that it stands in or above.
func answered(at source.Span) bool {
	words := strings.Fields(Question(at))
	about := blockBy(schema.NodesIn(at.Piece), at)
	for i := 2; i < len(words) && about != nil; i++ {
		if words[i] == "=" && strings.EqualFold(words[i-2], "write") {
			if _, is := about.Assign(words[i-1]); is {
				return true
			}
		}
	}
	return false
}

// blockBy is the innermost of some blocks that a comment stands in, else the one directly below it; nil for none.
func blockBy(nodes []*schema.Node, at source.Span) *schema.Node {
	for _, n := range nodes {
		switch {
		case n.Whole.Start <= at.Start && at.End <= n.Whole.End:
			if inner := blockBy(n.Blocks, at); inner != nil {
				return inner
			}
			return n
		case n.Whole.Start >= at.End && strings.Count(string(at.Piece.Bytes()[at.End:n.Whole.Start]), "\n") == 1:
			return n
		}
	}
	return nil
}
