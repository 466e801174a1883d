package remedy

import (
	"bytes"
	"slices"

	"ohmstead/lint"
	"ohmstead/lint/layout"
	"ohmstead/schema/source"
)

// LaidOut gives edits the layout of plan files, where what they change has it:
// then a piece of text gets one edit, of what differs in the end, unless the edits leave it laid out as they are.
func LaidOut(edits []lint.Edit) []lint.Edit {
	var order []*source.Piece
	of := map[*source.Piece][]lint.Edit{}
	for _, e := range edits {
		if of[e.At.Piece] == nil {
			order = append(order, e.At.Piece)
		}
		of[e.At.Piece] = append(of[e.At.Piece], e)
	}
	var out []lint.Edit
	for _, p := range order {
		list := of[p]
		if old, err := layout.Format(p.Bytes()); err == nil && bytes.Equal(old, p.Bytes()) {
			made := edited(p, list)
			if now, err := layout.Format(made); err == nil && !bytes.Equal(now, made) {
				list = []lint.Edit{difference(p, now)}
			}
		}
		out = append(out, list...)
	}
	return out
}

// edited is the text of a piece after some edits that do not overlap.
func edited(p *source.Piece, edits []lint.Edit) []byte {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b lint.Edit) int { return a.At.Start - b.At.Start })
	var out []byte
	at := 0
	windows := bytes.Contains(p.Bytes(), []byte("\r\n"))
	for _, e := range edits {
		if e.At.Start < at {
			return nil // they overlap: no text at all, which no layout mends
		}
		text := []byte(e.New)
		if windows {
			text = bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), []byte("\n"), []byte("\r\n"))
		}
		out = append(append(out, p.Bytes()[at:e.At.Start]...), text...)
		at = e.At.End
	}
	return append(out, p.Bytes()[at:]...)
}

// difference is the one edit that makes another text of a piece.
func difference(p *source.Piece, now []byte) lint.Edit {
	old := p.Bytes()
	start := source.CommonPrefix(old, now)
	rest := source.CommonSuffix(old[start:], now[start:])
	return lint.Edit{At: source.Span{Piece: p, Start: start, End: len(old) - rest}, New: string(now[start : len(now)-rest])}
}
