package sheets

import (
	"fmt"
	"math"

	"ohmstead/lint/drawing"
)

// testPage is the one that is printed and measured before the others: two bars
// of 100 mm and the frame that the printer has to reach.
func (m *maker) testPage() []Block {
	out := []Block{Heading(say("template.test"))}
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
