package drawing

import (
	"math"
	"strings"

	"ohmstead/calc/path"
)

// The two weights of lines, and the size of text: its capitals are 2 mm high.
const (
	thin  = 0.18
	thick = 0.5
	small = 2.8
	large = 4.2
)

func line(s Style, at ...Pt) *Path {
	p := &Path{Style: s, From: at[0]}
	for _, q := range at[1:] {
		p.Steps = append(p.Steps, Step{To: q})
	}
	return p
}

func area(s Style, at ...Pt) *Path {
	p := line(s, at...)
	p.Closed = true
	return p
}

func hair(i Ink) Style  { return Style{Stroke: i, Width: thin} }
func fat(i Ink) Style   { return Style{Stroke: i, Width: thick} }
func solid(i Ink) Style { return Style{Fill: i} }

func word(at Pt, a Anchor, ink Ink, s string) *Text {
	return &Text{Ink: ink, At: at, Anchor: a, Size: small, S: s}
}

// polar is a place at a distance from another, degrees clockwise on paper from
// the right.
func polar(p Pt, r, degrees float64) Pt {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return p.plus(r*cos, r*sin)
}

// triangle has its tip at a place and points the way of an angle.
func triangle(s Style, tip Pt, length, degrees float64) *Path {
	back := polar(tip, -length, degrees)
	return area(s, tip, polar(back, length*0.42, degrees+90), polar(back, length*0.42, degrees-90))
}

// trace draws a stretch of a path, m, on paper.
func trace(s Style, m Map, p *path.Path, from, to float64) *Path {
	out := &Path{Style: s}
	for i, k := range p.Strokes(from, to) {
		if i == 0 {
			out.From = m.At(k.From.X, k.From.Y)
		}
		out.Steps = append(out.Steps, steps(m, k)...)
	}
	if len(out.Steps) == 0 {
		x, y, _ := p.At(from)
		out.From = m.At(x, y)
		out.Steps = []Step{{To: out.From}}
	}
	return out
}

// steps draws a stroke. An arc becomes cubics of 30 degrees at the most: with control points at
// 4/3 tan(a/4) of the radius they leave its circle by less than a millionth of the radius.
func steps(m Map, k path.Stroke) []Step {
	at := func(p path.Point) Pt { return m.At(p.X, p.Y) }
	switch {
	case k.Curve:
		return []Step{{at(k.To), true, at(k.C1), at(k.C2)}}
	case k.Sweep == 0:
		return []Step{{To: at(k.To)}}
	}
	n := math.Ceil(math.Abs(k.Sweep) / 30)
	a := k.Sweep / n * math.Pi / 180
	cx, cy := k.Centre.X, k.Centre.Y
	x, y := k.From.X-cx, k.From.Y-cy
	h := 4.0 / 3 * math.Tan(a/4)
	sin, cos := math.Sincos(a)
	var out []Step
	for range int(n) {
		u, v := x*cos-y*sin, x*sin+y*cos
		out = append(out, Step{m.At(cx+u, cy+v), true, m.At(cx+x-h*y, cy+y+h*x), m.At(cx+u+h*v, cy+v-h*u)})
		x, y = u, v
	}
	out[len(out)-1].To = at(k.To)
	return out
}

// wrapped breaks a text into lines of a width.
func wrapped(face Face, size, width float64, s string) []string {
	var lines []string
	now := ""
	for _, w := range strings.Fields(s) {
		switch {
		case now == "":
			now = w
		case TextWidth(face, size, now+" "+w) <= width:
			now += " " + w
		default:
			lines = append(lines, now)
			now = w
		}
	}
	if now != "" {
		lines = append(lines, now)
	}
	for i := range lines {
		lines[i] = shortened(face, size, width, lines[i])
	}
	return lines
}

// shortened cuts a line that is too wide and ends it in "…".
func shortened(face Face, size, width float64, s string) string {
	if TextWidth(face, size, s) <= width {
		return s
	}
	r := []rune(s)
	lo, hi := 0, len(r)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if TextWidth(face, size, string(r[:mid])+"…") <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return string(r[:lo]) + "…"
}

// brief is a name as it stands on a drawing: no longer than a line is.
func brief(name string) string { return shortened(Regular, small, 45, name) }
