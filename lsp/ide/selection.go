package ide

import (
	"bytes"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Selections lists the stretches around an offset that make sense to select,
// each within the next: word, step, value, attribute, block, file.
func Selections(v *View, offset int) []Range {
	h, ok := v.hit(offset)
	if !ok {
		return nil
	}
	var wide []source.Span // the widest first
	for _, n := range h.nodes {
		wide = append(wide, n.Whole)
		if n.Inside.Start <= h.at && h.at <= n.Inside.End {
			wide = append(wide, n.Inside, trimmed(n.Inside))
		}
		if touches(n.Head, h.at) {
			wide = append(wide, n.Head)
			for _, l := range n.Labels {
				if touches(l.At, h.at) {
					wide = append(wide, l.At, bare(l.At))
				}
			}
			if touches(n.TypeAt, h.at) {
				wide = append(wide, n.TypeAt)
			}
		}
	}
	if h.assign != nil {
		wide = append(wide, h.assign.Whole)
		if h.part == onAttr {
			wide = append(wide, h.assign.NameAt)
		}
	}
	for _, val := range h.vals {
		wide = append(wide, val.At)
		switch val.Kind {
		case schema.TextVal:
			wide = append(wide, bare(val.At))
		case schema.RefVal:
			if h.step >= 0 && h.step < len(val.Steps) {
				for i := len(val.Steps) - 1; i >= h.step; i-- {
					wide = append(wide, h.span(val.At.Start, val.Steps[i].At.End))
				}
				wide = append(wide, val.Steps[h.step].At)
			}
		case schema.CallVal:
			if h.part == onFunc {
				wide = append(wide, val.Func.At)
			}
		case schema.ListVal, schema.MapVal:
			if val.At.End-val.At.Start >= 2 {
				wide = append(wide, h.span(val.At.Start+1, val.At.End-1))
			}
		}
	}
	for _, t := range h.piece.Tokens() {
		at := h.span(t.Range.Start.Byte, t.Range.End.Byte)
		switch t.Type {
		case hclsyntax.TokenComment:
			at.End = at.Start + len(bytes.TrimRight(t.Bytes, "\r\n"))
		case hclsyntax.TokenIdent, hclsyntax.TokenNumberLit, hclsyntax.TokenQuotedLit:
		default:
			continue
		}
		if touches(at, h.at) {
			wide = append(wide, at)
		}
	}
	out := []Range{{v.File.Text.LineStart(0), v.File.Text.Len()}}
	for _, s := range wide {
		r, last := h.file(s), out[len(out)-1]
		if r != last && r.Start >= last.Start && r.End <= last.End && r.Start <= offset && offset <= r.End {
			out = append(out, r)
		}
	}
	// The innermost first.
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// trimmed is a stretch without the blanks at its ends.
func trimmed(at source.Span) source.Span {
	src := at.Piece.Bytes()
	blank := func(b byte) bool { return b == ' ' || b == '\t' || b == '\n' || b == '\r' }
	for at.Start < at.End && blank(src[at.Start]) {
		at.Start++
	}
	for at.End > at.Start && blank(src[at.End-1]) {
		at.End--
	}
	return at
}
