package ide

import (
	"bytes"

	"ohmstead/lint"
	"ohmstead/schema"
)

// answered takes a comment out that asks for what is still to be decided or measured.
func (v *View) answered(offset int) []Action {
	for _, at := range lint.Open(v.Plan) {
		start, end, ok := v.File.Range(at)
		if !ok || offset < start || offset > end {
			continue
		}
		gone := schema.WholeLines(at)
		if src := at.Piece.Bytes(); gone == at { // behind code, and the blanks between go too
			gone.Start = len(bytes.TrimRight(src[:at.Start], " \t"))
		}
		return v.offer(Action{Title: "Remove the question, which is answered", Kind: QuickFix}, []schema.Edit{{At: gone}})
	}
	return nil
}
