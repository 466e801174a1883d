package lists

import (
	"strconv"
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
	Ringed      bool
	Flag        []string // the lines of a flag folded round the conductor
	Wrap        []string // the lines of a label wrapped round it
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
			out = append(out, labels(Label{Block: p.of, Text: p.label, Mark: say("labels.jacket", "n", strconv.Itoa(len(p.cores)), "of", strconv.Itoa(p.wire.Cores.V))}, c, false)...)
		}
		out = append(out, labels(w.marked(Label{Block: c.of, Text: c.label()}, c), c, true)...)
	}
	return out
}

// labels are those of the two ends.
func labels(of Label, c *conductor, fused bool) []Label {
	var out []Label
	here, there := place(c.from), place(c.to)
	for _, end := range []string{"from", "to"} {
		l := of
		l.End, l.Here, l.There = end, here, there
		l.Flag = []string{l.Text, say("labels.is.here", "place", here), say("labels.is.there", "place", there)}
		l.Wrap = []string{l.Text, say("labels.is.to", "place", there)}
		if fused && c.fuse.Set && end == "from" {
			l.Flag = append(l.Flag, say("labels.fuse", "amps", c.fuse.V.String()))
		}
		out = append(out, l)
		here, there = there, here
	}
	return out
}

// Labels is LabelsOf as a list.
func Labels(f *figures.Figures) *Table {
	t := of(f, "labels",
		textColumn("label"), textColumn("end"), textColumn("here"), textColumn("there"),
		textColumn("mark"), textColumn("flag"), textColumn("wrap"))
	ringed := false
	var marks []string
	for _, l := range LabelsOf(f) {
		marks = append(marks, l.Mark)
		ringed = ringed || l.Ringed
		t.add("", l.Block, words(l.Text), words(say("labels.end."+l.End)), words(l.Here), words(l.There), words(l.Mark),
			words(strings.Join(l.Flag, " / ")), words(strings.Join(l.Wrap, " / ")))
	}
	t.colored(marks)
	if ringed {
		t.note(false, say("labels.note.rings"))
	}
	if len(t.Rows) > 0 {
		t.note(true, say("labels.note.first"))
	}
	return t
}
