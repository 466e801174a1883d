package lists

import (
	"fmt"
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

// LabelsOf lists the labels of both ends of each conductor, those of one block together. Of a cable its jacket has
// labels too.
func LabelsOf(f *figures.Figures) []Label {
	w := wired(f)
	jackets := map[*conductor]*piece{} // by the first of its cores
	for _, p := range w.pieces() {
		if p.cores[0].core != nil {
			jackets[p.cores[0]] = p
		}
	}
	var out []Label
	for _, c := range w.all {
		if p := jackets[c]; p != nil {
			out = append(out, labels(p.of, p.label, fmt.Sprintf("jacket, %d of %d cores", len(p.cores), p.wire.Cores.V), c, false)...)
		}
		out = append(out, labels(c.of, c.label(), w.mark(c), c, true)...)
	}
	return out
}

// labels are those of the two ends.
func labels(of schema.Block, text, mark string, c *conductor, fused bool) []Label {
	var out []Label
	here, there := place(c.from), place(c.to)
	for _, end := range []string{"from", "to"} {
		l := Label{Block: of, Text: text, End: end, Here: here, There: there, Mark: mark,
			Flag: []string{text, "here: " + here, "to: " + there}, Wrap: []string{text, "> " + there}}
		if fused && c.fuse.Set && end == "from" {
			l.Flag = append(l.Flag, "fuse "+c.fuse.V.String())
		}
		out = append(out, l)
		here, there = there, here
	}
	return out
}

// Labels is LabelsOf as a list.
func Labels(f *figures.Figures) *Table {
	t := of(f, "labels", "Labels",
		textColumn("label", "label"), textColumn("end", "end"), textColumn("here", "here"), textColumn("there", "other end"),
		textColumn("mark", "mark"), textColumn("flag", "flag"), textColumn("wrap", "wrap"))
	ringed := false
	var marks []string
	for _, l := range LabelsOf(f) {
		marks = append(marks, l.Mark)
		ringed = ringed || strings.Contains(l.Mark, "ring")
		t.add("", l.Block, words(l.Text), words(l.End), words(l.Here), words(l.There), words(l.Mark),
			words(strings.Join(l.Flag, " / ")), words(strings.Join(l.Wrap, " / ")))
	}
	t.colored(marks)
	if ringed {
		t.note(false, rings)
	}
	if len(t.Rows) > 0 {
		t.note(true, "Make and label every conductor before anything is connected: plus and minus swapped destroys strips and boards.")
	}
	return t
}
