package ide

import (
	"bytes"

	"ohmstead/lint"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

// OpenQuestions lists the comments of a plan that ask for what is still to be decided or measured.
func OpenQuestions(v *View) (out []Diagnostic) {
	for _, at := range lint.Open(v.Plan) {
		if l, ok := v.Locate(at); ok {
			out = append(out, Diagnostic{Location: l, Code: "open", Message: terminal.Printable(lint.Question(at))})
		}
	}
	return out
}

// answered takes a comment out that asks for what is still to be decided or measured.
func (v *View) answered(offset int) []Action {
	for _, q := range lint.Questions(v.Plan) {
		at := q.At
		start, end, ok := v.File.Range(at)
		if !ok || offset < start || offset > end {
			continue
		}
		gone := schema.WholeLines(at)
		if src := at.Piece.Bytes(); gone == at { // behind code, and the blanks between go too
			gone.Start = len(bytes.TrimRight(src[:at.Start], " \t"))
		}
		return v.offer(Action{Title: "Remove this question, once it is answered", Kind: QuickFix}, []schema.Edit{{At: gone}})
	}
	return nil
}
