package sheets

import (
	"ohmstead/lint/drawing"
	"ohmstead/lint/lists"
)

// Sizes of labels, mm.
const (
	labelEnd  = 90  // least width of both labels of one end
	labelGap  = 3   // between labels
	labelFold = 6   // of a flag, that goes round the conductor
	labelLine = 3.7 // from line to line
	wrapShare = 0.27
)

// labels are the labels of both ends of each conductor at real size, in both
// forms: a flag, folded round the conductor and glued to itself, and a wrap.
func (m *maker) labels() []Block {
	all := lists.LabelsOf(m.Figures)
	if len(all) == 0 {
		return []Block{Text(say("wiring.empty"))}
	}
	table := lists.Labels(m.Figures)
	out := []Block{Text(say("labels.how"))}
	for _, n := range table.Notes {
		if n.Caution {
			out = append(out, Caution(n.Text))
		} else {
			out = append(out, Text(n.Text))
		}
	}
	room := m.page.Width - 2*m.page.margin
	across := max(1, int((room+labelGap)/(labelEnd+labelGap)))
	if across > 1 {
		across -= across % 2 // both ends of a conductor beside each other
	}
	w := min((room-float64(across-1)*labelGap)/float64(across), 120)
	for i := 0; i < len(all); i += across {
		row := all[i:min(i+across, len(all))]
		s := &drawing.Scene{Name: "labels", Title: say("sheet.labels"), Width: room}
		var marks []drawing.Mark
		for _, l := range row {
			s.Height = max(s.Height, newLabel(l, w).height)
		}
		for j, l := range row {
			marks = append(marks, newLabel(l, w).draw(float64(j)*(w+labelGap), s.Height)...)
		}
		s.Layers = []drawing.Layer{{Name: "labels", Marks: marks}}
		out = append(out, Picture{Scene: s, Scale: "1:1"})
	}
	return append(out, Data{Table: table})
}

// label is both labels of one end, laid out.
type label struct {
	panel, wrap   float64 // widths, mm
	flag, wrapped []string
	height        float64
}

func newLabel(l lists.Label, w float64) label {
	out := label{wrap: w * wrapShare}
	out.panel = (w - out.wrap - labelGap - labelFold) / 2
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
	texts := append(l.Flag[:len(l.Flag):len(l.Flag)], l.Mark)
	out.flag, out.wrapped = lines(texts, out.panel), lines(l.Wrap, out.wrap)
	out.height = labelLine*float64(max(len(out.flag), len(out.wrapped), 4)) + 1.6
	return out
}

func (l label) draw(x, h float64) []drawing.Mark {
	cut := drawing.Style{Stroke: drawing.Line, Width: hair, Dash: []float64{1.2, 0.8}}
	fold := drawing.Style{Stroke: drawing.Soft, Width: hair, Dash: []float64{0.3, 0.9}}
	upright := func(x float64) drawing.Mark {
		return &drawing.Path{Style: fold, From: drawing.Pt{X: x}, Steps: []drawing.Step{{To: drawing.Pt{X: x, Y: h}}}}
	}
	flag := 2*l.panel + labelFold
	out := []drawing.Mark{
		&drawing.Rect{Style: cut, Box: drawing.Box{X: x, W: flag, H: h}},
		upright(x + l.panel), upright(x + l.panel + labelFold),
		&drawing.Rect{Style: cut, Box: drawing.Box{X: x + flag + labelGap, W: l.wrap, H: h}},
	}
	put := func(lines []string, x, y float64) {
		for i, s := range lines {
			face := drawing.Regular
			if i == 0 {
				face = drawing.Bold
			}
			out = append(out, text(s, x+1, y+labelLine*float64(i+1)-0.5, small, face, drawing.Line))
		}
	}
	put(l.flag, x, 0)
	put(l.flag, x+l.panel+labelFold, 0)
	for n := 0; ; n++ { // again and again, so that it is read from every side
		y := float64(n) * labelLine * float64(len(l.wrapped))
		if n > 0 && y+labelLine*float64(len(l.wrapped)) > h {
			break
		}
		put(l.wrapped, x+flag+labelGap, y)
	}
	return out
}
