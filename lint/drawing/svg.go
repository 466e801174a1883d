package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
)

// SVG is the scene as an SVG 1.1 document in millimetres. Marks carry their
// block in data-of and their ink as a class ("s-line", "f-paper") beside the
// colour itself, so that a page can give them other colours. Equal scenes give
// equal bytes.
func (s *Scene) SVG() []byte {
	w := &svg{}
	w.printf(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="%s, 'Liberation Sans', Arial, sans-serif" stroke-linecap="round" stroke-linejoin="round" fill="none" role="img"`,
		num(s.Width), num(s.Height), num(s.Width), num(s.Height), Family)
	w.attr("data-of", s.Of)
	w.printf(">\n<title>")
	w.text(s.Title)
	w.printf("</title>\n")
	for i, l := range s.Layers {
		if c := l.Clip; c != nil {
			w.printf(`<clipPath id="%s"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`+"\n", s.clip(i), num(c.X), num(c.Y), num(c.W), num(c.H))
		}
		w.printf("<g")
		w.attr("data-layer", l.Name)
		if l.Clip != nil {
			w.printf(` clip-path="url(#%s)"`, s.clip(i))
		}
		w.printf(">\n")
		for _, m := range l.Marks {
			w.mark(m)
		}
		w.printf("</g>\n")
	}
	w.printf("</svg>\n")
	return w.Bytes()
}

type svg struct{ bytes.Buffer }

func (w *svg) printf(format string, args ...any) { fmt.Fprintf(w, format, args...) }

func (w *svg) text(s string) { _ = xml.EscapeText(w, []byte(s)) } // a buffer takes everything

func (w *svg) attr(name, value string) {
	if value != "" {
		w.printf(` %s="`, name)
		w.text(value)
		w.WriteByte('"')
	}
}

func (w *svg) mark(m Mark) {
	name := ""
	switch m := m.(type) {
	case *Path:
		name = "path"
		w.printf(`<path d="M%s %s`, num(m.From.X), num(m.From.Y))
		for _, s := range m.Steps {
			if s.Curved {
				w.printf("C%s %s %s %s ", num(s.C1.X), num(s.C1.Y), num(s.C2.X), num(s.C2.Y))
			} else {
				w.WriteByte('L')
			}
			w.printf("%s %s", num(s.To.X), num(s.To.Y))
		}
		if m.Closed {
			w.WriteByte('Z')
		}
		w.WriteByte('"')
		w.style(m.Style)
	case *Circle:
		name = "circle"
		w.printf(`<circle cx="%s" cy="%s" r="%s"`, num(m.At.X), num(m.At.Y), num(m.R))
		w.style(m.Style)
	case *Rect:
		name = "rect"
		w.printf(`<rect x="%s" y="%s" width="%s" height="%s"`, num(m.X), num(m.Y), num(m.W), num(m.H))
		if m.Round > 0 {
			w.printf(` rx="%s"`, num(m.Round))
		}
		w.style(m.Style)
	case *Text:
		name = "text"
		w.printf(`<text x="%s" y="%s" font-size="%s" textLength="%s" lengthAdjust="spacingAndGlyphs"`, num(m.At.X), num(m.At.Y), num(m.Size), num(TextWidth(m.Face, m.Size, m.S)))
		w.attr("text-anchor", [...]string{"", "middle", "end"}[m.Anchor])
		switch m.Face {
		case Bold:
			w.attr("font-weight", "bold")
		case Mono:
			w.attr("font-family", Family+" Mono, 'Liberation Mono', monospace")
		}
		if m.Turn != 0 {
			w.printf(` transform="rotate(%s %s %s)"`, num(m.Turn), num(m.At.X), num(m.At.Y))
		}
		w.style(Style{Fill: m.Ink})
	case *Group:
		name = "g"
		w.printf("<g")
	}
	a := m.About()
	w.attr("data-of", a.Of)
	w.attr("data-part", a.Part)
	inside := a.Tip != ""
	w.WriteByte('>')
	if inside {
		w.printf("<title>")
		w.text(a.Tip)
		w.printf("</title>")
	}
	switch m := m.(type) {
	case *Text:
		w.text(m.S)
	case *Group:
		for _, x := range m.Marks {
			w.mark(x)
		}
	}
	w.printf("</%s>\n", name)
}

func (w *svg) style(s Style) {
	class := ""
	if s.Stroke != None && s.Width > 0 {
		w.printf(` stroke="%s" stroke-width="%s"`, hex(s.Stroke), num(s.Width))
		class = "s-" + s.Stroke.String()
		if len(s.Dash) > 0 {
			w.printf(` stroke-dasharray="`)
			for i, d := range s.Dash {
				if i > 0 {
					w.WriteByte(' ')
				}
				w.printf("%s", num(d))
			}
			w.WriteByte('"')
		}
	}
	if s.Fill != None {
		w.printf(` fill="%s"`, hex(s.Fill))
		if class != "" {
			class += " "
		}
		class += "f-" + s.Fill.String()
	}
	w.attr("class", class)
}

func hex(i Ink) string {
	r, g, b := i.RGB()
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

// num writes a length to a thousandth of a millimetre.
func num(x float64) string {
	x = math.Round(x*1000) / 1000
	if x == 0 {
		return "0" // and not "-0"
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// clip is the name of a layer's clip, which differs between scenes that stand on one page.
func (s *Scene) clip(layer int) string { return fmt.Sprintf("clip-%s-%d", slug(s.Name), layer) }
