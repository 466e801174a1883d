package sheets

import (
	"fmt"
	"strings"

	"ohmstead/lint/drawing"
)

// stampHeight is the height of the title block, mm.
const stampHeight = 12

// alarmHeight is that of the line above it, mm.
const alarmHeight = 4.4

// stamp draws the title block along the bottom edge: whose sheet it is, which,
// and of which state of the plan (fields after ISO 7200).
func (p *leaf) stamp(doc *Document, number, of int) {
	page := say("stamp.page.of", "page", fmt.Sprint(number), "pages", fmt.Sprint(of))
	if p.bare { // beside the bar of 100 mm, above the tile's own title
		line := []string{say("stamp.page") + " " + page}
		for _, s := range []string{doc.Stamp.Revision, doc.Stamp.Date, doc.Stamp.By} {
			if s != "" {
				line = append(line, short(s, 20))
			}
		}
		x, y := p.margin+drawing.TileLeft+104, p.Height-p.margin-drawing.TileFoot+4.9
		for _, s := range wrap(strings.Join(line, ", "), p.Width-p.margin-18-x, small, drawing.Regular, 1) {
			p.marks = append(p.marks, text(s, x, y, small, drawing.Regular, drawing.Line))
		}
		return
	}
	left, right := p.margin, p.Width-p.margin
	top, bottom := p.Height-p.margin-stampHeight, p.Height-p.margin
	fields := []struct {
		name, value string
		share       float64
		bold        bool
	}{
		{say("stamp.plan"), doc.Title, 0, true},
		{say("stamp.sheet"), p.sheet.Title, 0, true},
		{say("stamp.by"), doc.Stamp.By, 0.13, false},
		{say("stamp.revision"), doc.Stamp.Revision, 0.09, false},
		{say("stamp.date"), doc.Stamp.Date, 0.11, false},
		{say("stamp.scale"), p.scale, 0.08, false},
		{say("stamp.digest"), doc.Digest, 0.13, false},
		{say("stamp.page"), page, 0.09, false},
	}
	rest := 1.0
	for _, f := range fields {
		rest -= f.share
	}
	fields[0].share, fields[1].share = rest*0.54, rest*0.46
	line := func(x1, y1, x2, y2, w float64) { p.marks = append(p.marks, rule(x1, y1, x2, y2, w, drawing.Line)) }
	line(left, top, right, top, strong)
	line(left, bottom, right, bottom, fine)
	x := left
	for i, f := range fields {
		w := f.share * (right - left)
		if i > 0 {
			line(x, top, x, bottom, hair)
		}
		face := drawing.Regular
		if f.bold {
			face = drawing.Bold
		}
		p.marks = append(p.marks, text(f.name, x+1, top+3.4, small, drawing.Regular, drawing.Soft))
		for j, part := range wrap(short(f.value, 400), w-2, small, face, 2) {
			p.marks = append(p.marks, text(part, x+1, top+7.1+float64(j)*3.6, small, face, drawing.Line))
		}
		x += w
	}
	if p.alarm != "" {
		w := drawing.TextWidth(drawing.Bold, small, p.alarm) + 4
		p.marks = append(p.marks,
			&drawing.Rect{Style: drawing.Style{Fill: drawing.Line}, Box: drawing.Box{X: right - w, Y: top - alarmHeight, W: w, H: alarmHeight}},
			textAt(p.alarm, right-2, top-1.3, small, drawing.Bold, drawing.Paper, drawing.End))
	}
}
