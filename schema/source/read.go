package source

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// reading is what a piece turns out to hold.
type reading struct {
	data     []byte    // the piece with everything that is not text replaced
	text     []byte    // the same with everything that is broken replaced by blanks
	broken   []stretch // what was replaced, by offset
	problems []Problem
	refused  bool
}

// stretch is a range of bytes.
type stretch struct{ start, end int }

func (s stretch) overlaps(start, end int) bool {
	return s.start < max(end, start+1) && start < max(s.end, s.start+1)
}

func (s stretch) contains(o stretch) bool { return s.start <= o.start && o.end <= s.end }

// read checks, lexes and parses a piece.
func read(data []byte) (reading, *hclsyntax.Body) {
	refuse := func(p *Problem) (reading, *hclsyntax.Body) {
		return reading{problems: []Problem{*p}, refused: true}, &hclsyntax.Body{}
	}
	if p := refusePiece(data); p != nil {
		return refuse(p)
	}
	data, problems, bad := withoutBadBytes(data)
	if bad > MaxBadBytes {
		p := problems[0]
		return refuse(&Problem{p.Start, p.End, "Block is not text", fmt.Sprintf(
			"%d bytes of it are not UTF-8 text; at most %d are read. Save the file as UTF-8.", bad, MaxBadBytes)})
	}
	r := reading{data: data, text: data, problems: problems}
	r.blankOpenComments()
	if !harmless(r.text) {
		tokens, _ := hclsyntax.LexConfig(r.text, "", hcl.InitialPos)
		if p := refuseTokens(tokens); p != nil {
			return refuse(p)
		}
	}
	body := r.parse()
	r.problems = fewest(data, r.problems)
	return r, body
}

// blankOpenComments replaces each comment without an end by blanks, up to the end of its line. The lexer would search
// the rest of the piece for each.
func (r *reading) blankOpenComments() {
	data := r.text
	s := scanner{data: data}
	s.broken = func(offset int, c byte) {
		if c == '*' {
			r.blank(stretch{offset, lineEnd(data, offset)})
			r.problems = append(r.problems, Problem{offset, offset + 2, "Unclosed comment", "No */ follows. Add it, or use # instead."})
		}
	}
	for s.pos < len(data) {
		s.line()
	}
}

// blank replaces a stretch by spaces, so that all other offsets stay.
func (r *reading) blank(s stretch) {
	if len(r.broken) == 0 {
		r.text = slices.Clone(r.text)
	}
	r.broken = slices.DeleteFunc(r.broken, s.contains)
	r.broken = append(r.broken, s)
	for i, c := range r.text[s.start:s.end] {
		if c != '\n' && c != '\r' {
			r.text[s.start+i] = ' '
		}
	}
}

// fewest returns the problems by offset, the first of each line, and no more of them than anybody reads.
func fewest(data []byte, problems []Problem) []Problem {
	slices.SortStableFunc(problems, func(a, b Problem) int { return a.Start - b.Start })
	end := -1
	problems = slices.DeleteFunc(problems, func(p Problem) bool {
		if p.Start <= end {
			return true
		}
		end = lineEnd(data, p.Start)
		return false
	})
	return slices.Clip(problems[:min(len(problems), MaxProblems)])
}

// parseHCL runs the HCL parser over a stretch of data, which starts at the start of a line, and sorts what it says.
func parseHCL(data []byte, s stretch) (body *hclsyntax.Body, diags hcl.Diagnostics) {
	start := startOf(data, s)
	defer func() {
		if caught := recover(); caught != nil { // a defect of the parser must not end the process
			body = &hclsyntax.Body{}
			diags = hcl.Diagnostics{{Summary: "Block cannot be read", Detail: fmt.Sprint(caught), Subject: &hcl.Range{Start: start, End: start}}}
		}
	}()
	file, diags := hclsyntax.ParseConfig(data[s.start:s.end], "", start)
	slices.SortStableFunc(diags, func(a, b *hcl.Diagnostic) int { return a.Subject.Start.Byte - b.Subject.Start.Byte })
	return file.Body.(*hclsyntax.Body), diags
}

// startOf returns the start of a stretch of data, which is that of a line except for comments.
func startOf(data []byte, s stretch) hcl.Pos {
	return hcl.Pos{Line: 1 + bytes.Count(data[:s.start], newline), Column: 1, Byte: s.start}
}

// tokens lexes the piece, and each broken statement by itself.
func (r reading) tokens() hclsyntax.Tokens {
	if r.refused {
		return hclsyntax.Tokens{}
	}
	tokens, _ := hclsyntax.LexConfig(r.text, "", hcl.InitialPos)
	for _, s := range r.broken {
		alone, _ := hclsyntax.LexConfig(r.data[s.start:s.end], "", startOf(r.data, s))
		alone = slices.DeleteFunc(alone, func(t hclsyntax.Token) bool { return t.Type == hclsyntax.TokenEOF })
		tokens = slices.DeleteFunc(tokens, func(t hclsyntax.Token) bool {
			return t.Type != hclsyntax.TokenEOF && s.start <= t.Range.Start.Byte && t.Range.Start.Byte < s.end
		})
		tokens = append(tokens, alone...)
	}
	slices.SortStableFunc(tokens, func(a, b hclsyntax.Token) int { return a.Range.Start.Byte - b.Range.Start.Byte })
	return tokens
}
