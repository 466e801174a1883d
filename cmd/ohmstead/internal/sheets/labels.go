package sheets

import (
	"cmp"

	"ohmstead/lint/drawing"
	"ohmstead/lint/lists"
)

// Sizes of labels, mm.
const (
	labelGap  = 3   // between labels
	labelFold = 6   // of a flag, that goes round the conductor
	labelLine = 3.7 // from line to line
	wrapShare = 0.27
)

// LabelForms are the forms of labels that one may ask for, the usual one first,
// and the least width that what is printed for one end takes, mm.
var LabelForms = []string{"both", "flag", "wrap"}

var labelWidths = map[string]float64{"both": 90, "flag": 60, "wrap": 28}

// labels are the labels of both ends of each conductor at real size, in both
// forms: a flag, folded round the conductor and glued to itself, and a wrap.
func (m *maker) labels() []Block {
	all := lists.LabelsOf(m.Figures)
	if len(all) == 0 {
		return []Block{Text(say("wiring.empty"))}
	}
	table := lists.Labels(m.Figures)
	form := cmp.Or(m.Labels, LabelForms[0])
	out := []Block{Text(say("labels.how." + form))}
	for _, n := range table.Notes {
		if n.Caution {
			out = append(out, Caution(n.Text))
		} else {
			out = append(out, Text(n.Text))
		}
	}
	room := m.page.Width - 2*m.page.margin
	across := max(1, int((room+labelGap)/(labelWidths[form]+labelGap)))
	if across > 3 {
		across -= across % 2 // both ends of a conductor beside each other
	}
	w := min((room-float64(across-1)*labelGap)/float64(across), labelWidths[form]*1.3)
	for i := 0; i < len(all); i += across {
		row := all[i:min(i+across, len(all))]
		s := &drawing.Scene{Name: "labels", Title: say("sheet.labels"), Width: room}
		var marks []drawing.Mark
		for _, l := range row {
			s.Height = max(s.Height, newLabel(l, form, w).height)
		}
		for j, l := range row {
			marks = append(marks, newLabel(l, form, w).draw(float64(j)*(w+labelGap), s.Height)...)
		}
		s.Layers = []drawing.Layer{{Name: "labels", Marks: marks}}
		out = append(out, Picture{Scene: s, Scale: "1:1"})
	}
	return append(out, Data{Table: table})
}

// label is what is printed for one end, laid out. What is not asked for has no width.
type label struct {
	panel, wrap   float64 // mm
	flag, wrapped []string
	height        float64
}

func newLabel(l lists.Label, form string, w float64) label {
	var out label
	switch form {
	case "both":
		out.wrap = w * wrapShare
		out.panel = (w - out.wrap - labelGap - labelFold) / 2
	case "flag":
		out.panel = (w - labelFold) / 2
	case "wrap":
		out.wrap = w
	}
	lines := func(texts []string, w float64) (out []string) {
		for i, s := range texts {
			face := drawing.Regular
			if i == 0 {
				face = drawing.Bold
			}
			out = append(out, wrap(s, w-2, small, face, 3)...)
		}
		return out
	}
	if out.panel > 0 {
		out.flag = lines(append(l.Flag[:len(l.Flag):len(l.Flag)], l.Mark), out.panel)
	}
	if out.wrap > 0 {
		out.wrapped = lines(l.Wrap, out.wrap)
	}
	out.height = labelLine*float64(max(len(out.flag), len(out.wrapped), 4)) + 1.6
	return out
}

func (l label) draw(x, h float64) []drawing.Mark {
	cut := drawing.Style{Stroke: drawing.Line, Width: hair, Dash: []float64{1.2, 0.8}}
	fold := drawing.Style{Stroke: drawing.Soft, Width: hair, Dash: []float64{0.3, 0.9}}
	upright := func(x float64) drawing.Mark {
		return &drawing.Path{Style: fold, From: drawing.Pt{X: x}, Steps: []drawing.Step{{To: drawing.Pt{X: x, Y: h}}}}
	}
	var out []drawing.Mark
	put := func(lines []string, x, y float64) {
		for i, s := range lines {
			face := drawing.Regular
			if i == 0 {
				face = drawing.Bold
			}
			out = append(out, text(s, x+1, y+labelLine*float64(i+1)-0.5, small, face, drawing.Line))
		}
	}
	if l.panel > 0 {
		second := x + l.panel + labelFold
		out = append(out, &drawing.Rect{Style: cut, Box: drawing.Box{X: x, W: 2*l.panel + labelFold, H: h}}, upright(x+l.panel), upright(second))
		put(l.flag, x, 0)
		put(l.flag, second, 0)
		x = second + l.panel + labelGap
	}
	if l.wrap > 0 {
		out = append(out, &drawing.Rect{Style: cut, Box: drawing.Box{X: x, W: l.wrap, H: h}})
		step := labelLine * float64(len(l.wrapped))
		for y := 0.0; y == 0 || y+step <= h; y += step { // again and again, so that it is read from every side
			put(l.wrapped, x, y)
		}
	}
	return out
}
