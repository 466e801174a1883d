package drawing

import (
	"math"
	"slices"

	"ohmstead/schema"
)

// columnAt is where a column and the channel to its left lie, mm.
type columnAt struct {
	x, w        float64 // of the column
	tracks      float64 // where the channel's first track lies
	left, right float64 // strips of the channel, for labels
}

// label of a cable, where it ends.
func (d *diagram) label(c *cable) string { return c.says[d.short] }

// narrow leaves lengths, and then sizes, to the lists where labels with them take more than the sheet's width.
func (d *diagram) narrow() {
	for ; d.short < 2; d.short++ {
		if _, w := d.across(); w <= d.fr.Width {
			return
		}
	}
}

// need is the room that what stands at a port takes along its wires, mm.
func (d *diagram) need(p *port) float64 {
	switch {
	case p.end == 1:
		return TextWidth(Regular, small, d.label(p.cable)) + 4
	case p.cable.fuse != "":
		return math.Max(8.4, 3.4+TextWidth(Regular, small, p.cable.fuse))
	}
	return 3
}

// across lays the columns and channels out from left to right; the last entry stands for the
// channel behind the last column.
func (d *diagram) across() (at []columnAt, width float64) {
	x := margin
	for k := 0; k <= len(d.columns); k++ {
		var c columnAt
		if k < len(d.channels) && len(d.channels[k].hops) > 0 {
			if k > 0 {
				c.left = d.strip(k-1, 1)
			}
			if k < len(d.columns) {
				c.right = d.strip(k, 0)
			}
			c.tracks = x + c.left + track/2
			x += c.left + float64(max(d.channels[k].tracks, 1))*track + c.right
		}
		c.x = x
		if k < len(d.columns) {
			for _, e := range d.columns[k] {
				if e.block != nil {
					c.w = math.Max(c.w, d.wide(e))
				}
			}
			x += c.w
		}
		at = append(at, c)
	}
	return at, x + margin
}

// strip is the room for labels at one side of a column.
func (d *diagram) strip(column, side int) float64 {
	w := 3.0
	for _, e := range d.columns[column] {
		for _, p := range e.ports[side] {
			w = math.Max(w, d.need(p))
		}
	}
	return w
}

var signs = map[string]string{"plus": "+", "minus": "−", "data": ""}

// inside is what stands in a symbol beside a pin: its sign, and with the first of a port its place.
func (d *diagram) inside(p *port, i int) string {
	s := signs[p.pins[i].core]
	if i == 0 && p.says != "" {
		if s != "" {
			s += " "
		}
		s += p.says
	}
	if core := p.pins[i].core; core == "clock" || core == "backup" {
		s = say(core)
	}
	if p.pins[i].core == "data" && s == p.says && columnOf(p.e.block) == 2 {
		s = say("data") + " " + s
	}
	return s
}

// texts is the width of what stands in a symbol beside the pins of one side.
func (d *diagram) texts(e *element, side int) float64 {
	w := 0.0
	for _, p := range e.ports[side] {
		for i := range p.pins {
			w = math.Max(w, TextWidth(Regular, small, d.inside(p, i))+2)
		}
	}
	return w
}

// sign is the room that the graphical symbol in an element takes.
func sign(e *element) float64 {
	switch columnOf(e.block) {
	case 0:
		return 10
	case 2:
		return 7.2
	}
	return 0
}

func (d *diagram) wide(e *element) float64 {
	middle := math.Min(math.Max(TextWidth(Bold, small, e.text[0]), TextWidth(Regular, small, e.text[1])), 45)
	return d.texts(e, 0) + d.texts(e, 1) + middle + sign(e) + 3.5
}

// scene draws the sheet.
func (d *diagram) scene(name, title string) *Scene {
	at, width := d.across()
	low, high := math.MaxInt, 0
	for _, col := range d.columns {
		for _, e := range col {
			low, high = min(low, e.y), max(high, e.y+e.h)
		}
	}
	if high < low {
		low, high = 0, 0
	}
	y := func(steps int) float64 { return header + 3 + margin + float64(steps-low)*grid }
	s := schematic{diagram: d, at: at, y: y}
	s.wires.Name, s.symbols.Name, s.labels.Name, s.legend.Name = "wires", "symbols", "labels", "legend"
	for _, w := range d.wires {
		s.wire(w)
	}
	partly := false
	for k, col := range d.columns {
		heads := [4]string{say("supply"), say("joint"), say("light"), say("controller")}
		for _, e := range col {
			if e.block != nil {
				s.symbol(e)
				partly = partly || !d.whole[e.block]
			}
		}
		if i := slicesIndex(col); i >= 0 {
			s.legend.Marks = append(s.legend.Marks, word(Pt{at[k].x + at[k].w/2, header}, Middle, Soft, heads[columnOf(col[i].block)]))
		}
	}
	width = math.Max(width, 120)
	bottom := y(high) + margin + footer
	s.key(Pt{0, bottom - 6}, partly)
	s.legend.Marks = append(s.legend.Marks, word(Pt{0, bottom - 1}, Start, Soft, say("mains")))
	s.legend.Marks = append(s.legend.Marks, &Text{Ink: Line, At: Pt{0, 4.5}, Size: large, Face: Bold, S: shortened(Bold, large, width, title)})
	out := &Scene{Name: name, Title: title, Width: width, Height: bottom, Layers: []Layer{s.wires, s.symbols, s.labels, s.legend}}
	b := out.Bounds()
	out.Width = math.Max(out.Width, b.X+b.W+0.5)
	return out
}

func slicesIndex(col []*element) int {
	for i, e := range col {
		if e.block != nil {
			return i
		}
	}
	return -1
}

type schematic struct {
	*diagram
	at                             []columnAt
	y                              func(steps int) float64
	wires, symbols, labels, legend Layer
}

// edge is where a side of a column lies, mm.
func (s *schematic) edge(column, side int) float64 {
	return s.at[column].x + float64(side)*s.at[column].w
}

// styles of cores: two weights, and strokes for data, so that they differ in grey.
func coreStyle(core string) Style {
	switch core {
	case "plus":
		return Style{Stroke: Plus, Width: 0.5}
	case "minus":
		return Style{Stroke: Minus, Width: 0.25}
	}
	switch core {
	case "clock":
		return Style{Stroke: Data, Width: 0.35, Dash: []float64{1.6, 0.6, 0.3, 0.6}}
	case "backup":
		return Style{Stroke: Data, Width: 0.35, Dash: []float64{0.4, 0.8}}
	}
	return Style{Stroke: Data, Width: 0.35, Dash: []float64{1.6, 0.8}}
}

// wire draws a core from pin to pin.
func (s *schematic) wire(w *wire) {
	var pts []Pt
	add := func(p Pt) {
		n := len(pts)
		if n > 0 && pts[n-1] == p {
			return
		}
		if n > 1 && (pts[n-1].X == p.X && pts[n-2].X == p.X || pts[n-1].Y == p.Y && pts[n-2].Y == p.Y) {
			pts[n-1] = p
			return
		}
		pts = append(pts, p)
	}
	for i := 1; i < len(w.pins); i++ {
		h := s.hopOf(w, i)
		k := s.channelOf(w, i)
		side := func(left bool) int {
			if left {
				return 1
			}
			return 0
		}
		a := Pt{s.edge(h.a.e.column, side(h.left[0])), s.y(h.ya)}
		b := Pt{s.edge(h.b.e.column, side(h.left[1])), s.y(h.yb)}
		x := s.at[k].tracks + float64(h.track)*track
		add(a)
		if !h.straight() {
			add(Pt{x, a.Y})
			add(Pt{x, b.Y})
		}
		add(b)
	}
	p := line(coreStyle(w.core), pts...)
	p.Meta = Meta{Of: w.cable.id, Part: w.core, Tip: w.cable.says[0]}
	s.wires.Marks = append(s.wires.Marks, p)
}

func (d *diagram) hopOf(w *wire, i int) *hop {
	for _, h := range d.channels[d.channelOf(w, i)].hops {
		if h.a == w.pins[i-1] && h.b == w.pins[i] {
			return h
		}
	}
	return nil
}

// symbol draws an element with its terminals and what stands at them.
func (s *schematic) symbol(e *element) {
	x, w := s.at[e.column].x, s.at[e.column].w
	box := Box{x, s.y(e.y) - grid, w, float64(e.h)*grid + 2*grid}
	frame := Style{Stroke: Line, Width: 0.35, Fill: Part}
	if !s.whole[e.block] {
		frame.Dash = []float64{2, 1.2}
	}
	of := schema.HeaderOf(e.block).ID()
	g := &Group{Meta: Meta{Of: of, Part: "symbol", Tip: of}, Marks: []Mark{&Rect{Style: frame, Box: box}}}
	left, right := s.texts(e, 0), s.texts(e, 1)
	mid := Pt{x + left + 1.5, box.Y + box.H/2}
	switch columnOf(e.block) {
	case 0:
		g.Marks = append(g.Marks, supplySign(mid.plus(4, 0))...)
	case 2:
		g.Marks = append(g.Marks, diode(mid.plus(3, 0))...)
	}
	mid.X += sign(e)
	room := x + w - right - 1 - mid.X
	down := (ascent - descent) / 2 * small
	first := &Text{Meta: Meta{Of: of}, Ink: Line, Size: small, Face: Bold, At: mid.plus(0, down), S: shortened(Bold, small, room, e.text[0])}
	s.labels.Marks = append(s.labels.Marks, first)
	if e.text[1] != "" {
		first.At.Y -= leading / 2
		s.labels.Marks = append(s.labels.Marks, word(mid.plus(0, down+leading/2), Start, Line, shortened(Regular, small, room, e.text[1])))
	}
	s.symbols.Marks = append(s.symbols.Marks, g)
	for side, ports := range e.ports {
		in, anchor, out := 1.0, Start, -1.0
		if side == 1 {
			in, anchor, out = -1, End, 1
		}
		edge := s.edge(e.column, side)
		for _, p := range ports {
			for i, pin := range p.pins {
				at := Pt{edge, s.y(pin.y())}
				s.symbols.Marks = append(s.symbols.Marks, &Circle{Meta: Meta{Of: p.cable.ends[p.end].String(), Part: "terminal " + pin.core, Tip: p.cable.ends[p.end].String()}, Style: Style{Stroke: Line, Width: thin, Fill: Paper}, At: at, R: 0.55})
				if t := s.inside(p, i); t != "" {
					s.labels.Marks = append(s.labels.Marks, word(at.plus(in*1.3, down), anchor, Line, t))
				}
			}
			s.beside(p, edge, out)
		}
	}
}

// beside writes what stands at a port along its wires: the cable's label at its
// far end, its fuse with the rating over it at the near one.
func (s *schematic) beside(p *port, edge, out float64) {
	top, low := s.y(p.pins[0].y()), s.y(p.pins[len(p.pins)-1].y())
	base := (top+low)/2 + (ascent-descent)/2*small
	if len(p.pins) == 1 {
		base = top - 0.5 - descent*small
	}
	anchor := Start
	if out < 0 {
		anchor = End
	}
	if p.end == 1 {
		if p.pins[0].core == "data" { // the way that it goes
			arrow := triangle(solid(Data), Pt{edge + out*0.7, top}, 1.4, 90+90*out)
			arrow.Meta = Meta{Of: p.cable.id, Part: "way"}
			s.symbols.Marks = append(s.symbols.Marks, arrow)
		}
		t := word(Pt{edge + out*2.3, base}, anchor, Line, s.label(p.cable))
		t.Meta = Meta{Of: p.cable.id, Part: "label", Tip: p.cable.says[0]}
		s.labels.Marks = append(s.labels.Marks, t)
		return
	}
	if p.cable.fuse == "" {
		return
	}
	plus := p.pin("plus")
	at := Pt{edge + out*4.2, s.y(plus.y())}
	s.symbols.Marks = append(s.symbols.Marks, &Rect{Meta: Meta{Of: p.cable.id, Part: "fuse", Tip: say("fuse") + " " + p.cable.fuse}, Style: hair(Line), Box: Box{at.X - 2.2, at.Y - 0.9, 4.4, 1.8}})
	t := word(Pt{edge + out*2, at.Y - 1.2 - descent*small}, anchor, Line, p.cable.fuse) // over its fuse: below the plus wire it would read as of either
	t.Meta = Meta{Of: p.cable.id, Part: "fuse"}
	s.labels.Marks = append(s.labels.Marks, t)
}

// diode is a light emitting diode (IEC 60617, from memory), 6 mm wide about a place.
func diode(at Pt) []Mark {
	return []Mark{
		line(hair(Line), at.plus(-3, 0.8), at.plus(3, 0.8)),
		area(Style{Stroke: Line, Width: thin, Fill: Glow}, at.plus(-1.2, -0.5), at.plus(-1.2, 2.1), at.plus(1, 0.8)),
		line(hair(Line), at.plus(1, -0.5), at.plus(1, 2.1)),
		line(hair(Line), at.plus(-0.4, -0.9), at.plus(0.6, -2.1)), triangle(solid(Line), at.plus(0.8, -2.4), 0.8, -50),
		line(hair(Line), at.plus(0.9, -0.9), at.plus(1.9, -2.1)), triangle(solid(Line), at.plus(2.1, -2.4), 0.8, -50),
	}
}

// key tells the lines apart, in a row below the diagram.
func (s *schematic) key(at Pt, partly bool) {
	x := at.X
	for _, k := range []struct{ core, text string }{{"plus", say("plus")}, {"minus", say("minus")}, {"data", say("data")}, {"clock", say("clock")}, {"backup", say("backup")}} {
		if !slices.ContainsFunc(s.diagram.wires, func(w *wire) bool { return w.core == k.core }) {
			continue
		}
		s.legend.Marks = append(s.legend.Marks, line(coreStyle(k.core), Pt{x + 0.5, at.Y - 1}, Pt{x + 8, at.Y - 1}), word(Pt{x + 10, at.Y}, Start, Line, k.text))
		x += 14 + TextWidth(Regular, small, k.text)
	}
	s.legend.Marks = append(s.legend.Marks, line(coreStyle("plus"), Pt{x + 0.5, at.Y - 1}, Pt{x + 8, at.Y - 1}), &Rect{Style: hair(Line), Box: Box{x + 2, at.Y - 1.9, 4.4, 1.8}}, word(Pt{x + 10, at.Y}, Start, Line, say("fuse")))
	x += 14 + TextWidth(Regular, small, say("fuse"))
	if partly {
		s.legend.Marks = append(s.legend.Marks, &Rect{Style: Style{Stroke: Line, Width: 0.35, Fill: Part, Dash: []float64{2, 1.2}}, Box: Box{x + 0.5, at.Y - 2.6, 7.5, 3.2}}, word(Pt{x + 10, at.Y}, Start, Line, say("elsewhere")))
	}
}
