package source

import (
	"bytes"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// parse reads the piece. The HCL parser may lose everything behind a mistake, so when it finds one, the statement at
// fault is replaced by blanks and the rest parsed again, until nothing is wrong or nothing more can be set aside. Then
// each statement set aside is parsed alone, and what is found there goes into the tree.
func (r *reading) parse() (body *hclsyntax.Body) {
	data := r.data
	whole := stretch{0, len(data)}
	rounds := MaxProblems
	if len(data) > MaxPiece/8 {
		rounds = 2 // keeps the time for a large block full of mistakes in bounds
	}
	var diags hcl.Diagnostics
	for {
		body, diags = parseHCL(r.text, whole)
		if len(diags) == 0 {
			break
		}
		rounds--
		statement, ok := outlineOf(r.text).fault(diags[0])
		if !ok || rounds == 0 {
			// What follows the first mistake may be a consequence of it.
			r.problems = append(r.problems, problem(data, diags[0]))
			break
		}
		r.problems = append(r.problems, explain(data, statement, diags[0]))
		r.blank(statement)
	}
	if len(r.problems) == 0 {
		return body
	}
	slices.SortFunc(r.broken, func(a, b stretch) int { return a.start - b.start })
	for _, s := range r.broken {
		if column(data, s.start) == 0 {
			alone, _ := parseHCL(data, s)
			merge(body, alone, s.start)
		}
	}
	repair(body, len(data))
	return body
}

// explain says what is wrong with a statement, given what the parser said first about the whole piece.
func explain(data []byte, s stretch, first *hcl.Diagnostic) Problem {
	body, diags := parseHCL(data, s)
	switch {
	case len(diags) > 0 && len(body.Attributes)+len(body.Blocks) > 0:
		return problem(data[:s.end], diags[0])
	case s.overlaps(first.Subject.Start.Byte, first.Subject.Start.Byte):
		return problem(data[:s.end], first)
	}
	text := bytes.TrimSpace(data[s.start:lineEnd(data, s.start)])
	start := s.start + bytes.Index(data[s.start:], text)
	return Problem{start, start + len(text), "Unbalanced brackets or quotes", "One of them has no counterpart. Add it, or delete this one."}
}

// column returns the number of bytes between the start of the line and offset.
func column(data []byte, offset int) int {
	return offset - 1 - bytes.LastIndexByte(data[:offset], '\n')
}

// merge adds what was found alone at offset to the innermost body around it, unless it stands within an expression.
func merge(body, alone *hclsyntax.Body, offset int) {
	for descend := true; descend; {
		descend = false
		for _, b := range body.Blocks {
			if b.OpenBraceRange.End.Byte <= offset && offset < b.CloseBraceRange.End.Byte {
				body, descend = b.Body, true
				break
			}
		}
	}
	for _, a := range body.Attributes {
		if a.SrcRange.Start.Byte <= offset && offset < a.SrcRange.End.Byte {
			return
		}
	}
	for name, a := range alone.Attributes {
		if _, taken := body.Attributes[name]; !taken {
			if body.Attributes == nil {
				body.Attributes = hclsyntax.Attributes{}
			}
			body.Attributes[name] = a
		}
	}
	body.Blocks = append(body.Blocks, alone.Blocks...)
	slices.SortStableFunc(body.Blocks, func(a, b *hclsyntax.Block) int { return a.TypeRange.Start.Byte - b.TypeRange.Start.Byte })
}
