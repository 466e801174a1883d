package sheets

import (
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint/drawing"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// elevation shows each place twice: what hangs where, and the voltage along the runs.
func (m *maker) elevation() []Block {
	var out []Block
	for _, p := range drawing.Places(m.Figures) {
		out = append(out, m.filling(func(fr drawing.Frame) *drawing.Scene { return drawing.Elevation(m.Figures, p, fr) }))
		if c := m.seen(); c != nil && len(p.Runs) > 0 {
			out = append(out, m.filling(func(fr drawing.Frame) *drawing.Scene { return drawing.Voltage(m.Figures, p, c, fr) }))
		}
	}
	if out == nil {
		return []Block{Text(say("elevation.empty"))}
	}
	return out
}

// wiring shows every conductor, on as many pages as it takes.
func (m *maker) wiring() []Block {
	if len(m.Figures.Leads)+len(m.plan.Signals) == 0 {
		return []Block{Text(say("wiring.empty"))}
	}
	var out []Block
	for _, s := range drawing.Wiring(m.Figures, frame(m.page.turned())) {
		out = append(out, Picture{File: s.Name, Scene: s, Fill: true})
	}
	return out
}

// frame is the room above the title block.
func frame(p page) drawing.Frame {
	return drawing.Frame{Width: p.Width - 2*p.margin, Height: p.Height - 2*p.margin - stampHeight - alarmHeight - gap}
}

// filling draws a picture for a page of its own, standing or on its side:
// whichever makes it larger.
func (m *maker) filling(draw func(drawing.Frame) *drawing.Scene) Picture {
	best := draw(frame(m.page.turned()))
	if upright := draw(frame(m.page)); upright.Map.K > best.Map.K*1.01 {
		best = upright
	}
	return Picture{File: best.Name, Scene: best, Scale: scaleOf(best), Fill: true}
}

// scaleOf is a scene's scale as a title block says it.
func scaleOf(s *drawing.Scene) string {
	if s.Map.K == 0 {
		return ""
	}
	return "1:" + quantity.Number(math.Round(s.Map.Scale()*100)/100, 5)
}

// seen is the worst case that people will see: under the ceilings where there are any.
func (m *maker) seen() *figures.Case {
	var full, held *figures.Case
	for _, c := range m.Figures.Cases {
		switch {
		case c.Own != nil:
		case c.Name == schema.Full:
			full = c
		case c.Name == schema.Held:
			held = c
		}
	}
	for _, c := range m.plan.Controllers {
		if c.Ceiling.Known() && held != nil {
			return held
		}
	}
	return full
}

// glance is a small picture of the place with the most runs, without words.
func (m *maker) glance() *drawing.Scene {
	var most *drawing.Place
	for _, p := range drawing.Places(m.Figures) {
		if most == nil || len(p.Runs) > len(most.Runs) {
			most = &p
		}
	}
	if most == nil {
		return nil
	}
	w := m.page.Width - 2*m.page.margin
	var s *drawing.Scene
	for share := 1.4; share > 0.4; share -= 0.1 { // of the words that a drawing leaves room for nothing is left
		s = drawing.Elevation(m.Figures, *most, drawing.Frame{Width: w * share, Height: w * share}).Only("ground", "runs", "marks")
		if s.Width <= w*0.46 && s.Height <= m.page.Height*0.27 {
			break
		}
	}
	return s
}
