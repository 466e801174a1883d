package sheets

import (
	"fmt"
	"math"
	"slices"

	"ohmstead/lint/drawing"
)

// tileOverlap is what neighbouring tiles have in common, mm; mostTiles how many of them stand in a set
// in which nobody asked for the template alone.
const (
	tileOverlap = 10
	mostTiles   = 30
)

// template is the wall at real size on paper: the page to measure the printer
// by, then of each place a map and its tiles.
func (m *maker) template() []Block {
	alone := len(m.Only) > 0
	var out, files []Block
	for _, p := range drawing.Places(m.Figures) {
		if p.Straight || len(p.Runs) == 0 {
			continue
		}
		s := drawing.Template(m.Figures, p)
		files = append(files,
			Attached{Name: plain(s.Name) + ".svg", Data: s.SVG()},
			Attached{Name: plain(s.Name) + ".dxf", Data: drawing.DXF(m.Figures, p)})
		name := s.Title
		s.Title = say("template.title", "template", name, "plan", short(m.plan.Title(), 60), "digest", Digest(m.plan))
		overview, tiles, err := m.tiles(s)
		switch {
		case err != nil:
			out = append(out, Text(say("template.refused", "template", name, "why", err.Error())))
			continue
		case len(tiles) > mostTiles && !alone:
			out = append(out, Text(say("template.large", "template", name, "pages", fmt.Sprint(len(tiles)))))
			continue
		}
		out = append(out, Tile{Scene: overview, Map: true})
		for _, t := range tiles {
			out = append(out, Tile{Scene: t.Scene})
		}
	}
	if files == nil {
		return []Block{Text(say("template.none"))}
	}
	return slices.Concat(m.testPage(), out, files)
}

// tiles cuts a template for the paper as it stands or on its side, whichever takes fewer pages.
func (m *maker) tiles(s *drawing.Scene) (overview *drawing.Scene, tiles []drawing.Tile, err error) {
	overview, tiles, err = drawing.Tiles(s, drawing.Frame{Width: m.page.Width, Height: m.page.Height}, m.page.margin, tileOverlap)
	o, t, e := drawing.Tiles(s, drawing.Frame{Width: m.page.Height, Height: m.page.Width}, m.page.margin, tileOverlap)
	if e == nil && (err != nil || len(t) < len(tiles)) {
		return o, t, nil
	}
	return overview, tiles, err
}

// testPage is the one that is printed and measured before the others: two bars
// of 100 mm and the frame that the printer has to reach.
func (m *maker) testPage() []Block {
	out := []Block{Caution(say("template.caution")), Heading(say("template.test"))}
	for i, s := range [][2]string{
		{say("template.test.1"), say("template.test.1.how", "paper", m.Paper.Name)},
		{say("template.test.2"), say("template.test.2.how")},
		{say("template.test.3"), say("template.test.3.how", "margin", fmt.Sprintf("%g mm", m.Margin), "wider", fmt.Sprintf("%g mm", m.Margin+5))},
		{say("template.test.4"), say("template.test.4.how")},
	} {
		out = append(out, Step{Number: i + 1, Head: s[0], Text: s[1]})
	}
	return append(out, Picture{Scene: bars(), Scale: "1:1"})
}

// barLength is what the bars measure, mm.
const barLength = 100

// bars are a bar across and one upright, each from the outer edge of one end line to that of the other.
func bars() *drawing.Scene {
	const pad = 12
	s := &drawing.Scene{Name: "test-bars", Title: say("template.test.bars"), Width: barLength + 2*pad, Height: barLength + 2*pad}
	corner := drawing.Pt{X: pad, Y: pad + barLength}
	var marks []drawing.Mark
	for i := 0.0; i <= barLength; i++ {
		tick := 2.5
		switch {
		case math.Mod(i, 10) == 0:
			tick = 6
		case math.Mod(i, 5) == 0:
			tick = 4
		}
		marks = append(marks,
			rule(corner.X+i, corner.Y, corner.X+i, corner.Y+tick, hair, drawing.Line),
			rule(corner.X, corner.Y-i, corner.X-tick, corner.Y-i, hair, drawing.Line))
	}
	label := say("template.test.bar")
	marks = append(marks,
		rule(corner.X, corner.Y, corner.X+barLength, corner.Y, fine, drawing.Line),
		rule(corner.X, corner.Y, corner.X, corner.Y-barLength, fine, drawing.Line),
		textAt(label, corner.X+barLength/2, corner.Y-2, medium, drawing.Bold, drawing.Line, drawing.Middle),
		&drawing.Text{Ink: drawing.Line, At: drawing.Pt{X: corner.X + medium, Y: corner.Y - barLength/2}, Anchor: drawing.Middle, Size: medium, Turn: -90, Face: drawing.Bold, S: label})
	s.Layers = []drawing.Layer{{Name: "bars", Marks: marks}}
	return s
}
