package lists

import (
	"strings"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Label is what is written on one end of a conductor.
type Label struct {
	Block       schema.Block // the lead or signal
	Text        string       // the same at both ends: "left +"
	End         string       // "from" or "to"
	Here, There string       // this end and the other one
	Mark        string       // what tells plus, minus and data apart: a colour, or rings
	Flag        []string     // the lines of a flag folded round the conductor
	Wrap        []string     // the lines of a label wrapped round it
}

// LabelsOf lists the labels of both ends of each conductor, those of one block together.
func LabelsOf(f *figures.Figures) []Label {
	w := wired(f)
	var out []Label
	for _, c := range w.all {
		at, to := place(c.from), place(c.to)
		for k, end := range []string{"from", "to"} {
			l := Label{Block: c.of, Text: c.label(), End: end, Here: at, There: to, Mark: w.mark(c)}
			if k == 1 {
				l.Here, l.There = to, at
			}
			l.Flag = []string{l.Text, "here: " + l.Here, "to: " + l.There}
			l.Wrap = []string{l.Text, "> " + l.There}
			if c.fuse.Set && k == 0 {
				l.Flag = append(l.Flag, "fuse "+c.fuse.V.String())
			}
			out = append(out, l)
		}
	}
	return out
}

// Labels is LabelsOf as a list.
func Labels(f *figures.Figures) *Table {
	t := of(f, "labels", "Labels",
		textColumn("label", "label"), textColumn("end", "end"), textColumn("here", "here"), textColumn("there", "other end"),
		textColumn("mark", "mark"), textColumn("flag", "flag"), textColumn("wrap", "wrap"))
	ringed := false
	for _, l := range LabelsOf(f) {
		ringed = ringed || strings.Contains(l.Mark, "ring")
		t.add("", l.Block, words(l.Text), words(l.End), words(l.Here), words(l.There), words(l.Mark),
			words(strings.Join(l.Flag, " / ")), words(strings.Join(l.Wrap, " / ")))
	}
	if ringed {
		t.note(false, rings)
	}
	if len(t.Rows) > 0 {
		t.note(true, "Make and label every conductor before anything is connected: plus and minus swapped destroys strips and boards.")
	}
	return t
}
