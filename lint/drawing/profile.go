package drawing

import (
	"math"
	"slices"
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Small is the room of a profile that stands beside text.
var Small = Frame{Width: 130, Height: 55}

// dashes tell the lines of a diagram apart without colour.
var dashes = [][]float64{nil, {2.5, 1.2}, {0.7, 0.9}, {4, 1, 0.7, 1}, {1.5, 0.7}, {4, 2}}

// Profile shows the voltage at the pixels along a run in each case, with the
// supply's voltage and the least that its colours need as lines.
func Profile(f *figures.Figures, r *figures.Run, fr Frame) *Scene {
	p := profile{f: f, r: r, plot: Box{13, 12, fr.Width - 13 - 50, fr.Height - 12 - 13}}
	p.collect()
	p.scale()
	p.room = newRoom(p.plot)
	p.axes()
	p.lines()
	if len(p.of) == 0 {
		p.room.put(&p.curves, word(Pt{}, Middle, Line, say("no-power")), spot{Pt{p.plot.X + p.plot.W/2, p.plot.Y + p.plot.H/3}, Middle, 0})
	}
	title := say("profile", "name", r.ID())
	head := &Text{Ink: Line, At: Pt{0, 4}, Size: small * 1.2, Face: Bold, S: shortened(Bold, small*1.2, fr.Width, title)}
	return &Scene{Name: "profile-" + slug(r.Name), Title: title, Of: r.ID(), Width: fr.Width, Height: fr.Height,
		Layers: []Layer{p.ground, p.curves, {Name: "legend", Marks: []Mark{head}}}}
}

type profile struct {
	f *figures.Figures
	r *figures.Run

	plot           Box
	lo, hi, step   float64 // V, of the axis
	of             []curve
	supply, need   float64 // V; 0 where not known
	worst          figures.Worst
	ground, curves Layer
	room           *room
	tags           []tag
}

// curve is a case's voltages.
type curve struct {
	c     *figures.Case
	rc    *figures.RunCase
	ink   Ink
	dash  []float64
	volts []float64 // at evenly spread pixels
}

// tag is a label in the column beside the plot, for the line that ends at from.
type tag struct {
	from Pt
	text string
	ink  Ink
	dash []float64
	y    float64
}

// mostCurves keeps the diagram readable: full, held and four more.
const mostCurves = 6

func (p *profile) collect() {
	index := indexOf(p.f)[p.r]
	n := min(p.r.Pixels, int(p.plot.W*2))
	inks := []Ink{Line, Data, Good, Soft, Plus, Line}
	for _, c := range p.f.Cases {
		rc := &c.Runs[index]
		if !rc.OK || n < 1 || len(p.of) == mostCurves {
			continue
		}
		k := len(p.of)
		v := curve{c: c, rc: rc, ink: inks[k], dash: dashes[k]}
		for i := range n {
			v.volts = append(v.volts, rc.PixelVolts(p.pixel(i, n)))
		}
		p.of = append(p.of, v)
	}
	p.supply = p.f.LiveVolts(p.r)
	p.need, _ = needs(p.r)
	if len(p.of) > 0 {
		p.worst = p.f.WorstVolts(p.r, p.need)
	}
}

// pixel is the i-th of n spread over the run, both ends among them.
func (p *profile) pixel(i, n int) int {
	if n < 2 {
		return 0
	}
	return i * (p.r.Pixels - 1) / (n - 1)
}

func (p *profile) scale() {
	p.lo, p.hi = math.Inf(1), math.Inf(-1)
	add := func(v float64) { p.lo, p.hi = math.Min(p.lo, v), math.Max(p.hi, v) }
	for _, c := range p.of {
		add(slices.Min(c.volts))
		add(slices.Max(c.volts))
	}
	for _, v := range []float64{p.supply, p.need} {
		if v > 0 {
			add(v)
		}
	}
	if p.worst.OK {
		add(p.worst.Value)
	}
	if p.hi < p.lo {
		p.lo, p.hi = 0, 1
	}
	for _, s := range []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20} {
		p.step = s
		if (p.hi-p.lo)/s*4 <= p.plot.H {
			break
		}
	}
	p.lo, p.hi = (math.Ceil(p.lo/p.step-1e-6)-1)*p.step, (math.Floor(p.hi/p.step+1e-6)+1)*p.step
}

func (p *profile) y(volts float64) float64 {
	return p.plot.Y + p.plot.H*(p.hi-volts)/(p.hi-p.lo)
}

// x is where a share of the strip's length lies.
func (p *profile) x(share float64) float64 { return p.plot.X + p.plot.W*share }

func (p *profile) pixelX(k int) float64 { return p.x((float64(k) + 0.5) / float64(p.r.Pixels)) }

func (p *profile) axes() {
	g := &p.ground
	g.Name, p.curves.Name = "axes", "voltages"
	b := p.plot
	for i := 0; p.lo+float64(i)*p.step <= p.hi+1e-9; i++ {
		v := p.lo + float64(i)*p.step
		y := p.y(v)
		g.Marks = append(g.Marks, line(hair(Faint), Pt{b.X, y}, Pt{b.X + b.W, y}), word(Pt{b.X - 1.5, y + (ascent-descent)/2*small}, End, Line, quantity.Number(v, 4)))
	}
	g.Marks = append(g.Marks, word(Pt{b.X - 1.5, b.Y - 3}, End, Line, "V"))
	length := drawnLength(p.r)
	unit, shown := 1.0, "m"
	if p.f.Habit == quantity.Imperial {
		unit, shown = 0.3048, "ft"
	}
	step := length
	for _, s := range []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if step = s * unit; length/step*12 <= b.W {
			break
		}
	}
	for i := 0; length > 0 && float64(i)*step <= length+1e-9; i++ {
		x := p.x(float64(i) * step / length)
		g.Marks = append(g.Marks, line(hair(Line), Pt{x, b.Y + b.H}, Pt{x, b.Y + b.H + 1}), word(Pt{x, b.Y + b.H + 4}, Middle, Line, quantity.Number(float64(i)*step/unit, 4)))
	}
	g.Marks = append(g.Marks, line(fat(Line), Pt{b.X, b.Y}, Pt{b.X, b.Y + b.H}, Pt{b.X + b.W, b.Y + b.H}),
		word(Pt{b.X + b.W/2, b.Y + b.H + 8.5}, Middle, Line, say("along")+", "+shown),
		word(Pt{b.X, b.Y + b.H + 8.5}, Start, Soft, say("pixel", "n", strconv.Itoa(0))))
	if p.r.Pixels > 1 {
		g.Marks = append(g.Marks, word(Pt{b.X + b.W, b.Y + b.H + 8.5}, End, Soft, say("pixel", "n", strconv.Itoa(p.r.Pixels-1))))
	}
	if length <= 0 {
		return
	}
	g.Marks = append(g.Marks, triangle(solid(Plus), Pt{b.X + b.W + 7, b.Y + b.H + 8.4}, 2.2, 90), word(Pt{b.X + b.W + 11, b.Y + b.H + 8.5}, Start, Line, say("feed-here")))
	for _, l := range p.f.Ends(p.r.Run) {
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt != nil && pt.Run == p.r.Run {
				m := triangle(solid(Plus), Pt{p.x(along(p.r, pt) / length), b.Y + b.H}, 2.2, 90)
				m.Meta = Meta{Of: l.ID(), Part: "feed", Tip: l.ID()}
				g.Marks = append(g.Marks, m)
			}
		}
	}
}

func (p *profile) lines() {
	b := p.plot
	level := func(volts float64, ink Ink, text string) {
		y := p.y(volts)
		dash := []float64{6, 1.2, 1.2, 1.2}
		m := line(Style{Stroke: ink, Width: thin * 1.6, Dash: dash}, Pt{b.X, y}, Pt{b.X + b.W, y})
		p.curves.Marks = append(p.curves.Marks, m)
		p.room.takePath(m, 0.3)
		p.tags = append(p.tags, tag{Pt{b.X + b.W, y}, text, ink, dash, y})
	}
	if p.supply > 0 {
		level(p.supply, Good, say("supply-at", "volts", showVolts(p.supply)))
	}
	if p.need > 0 {
		level(p.need, Danger, say("allowed", "volts", showVolts(p.need)))
	}
	for _, c := range p.of {
		m := &Path{Meta: Meta{Of: p.r.ID(), Part: "case " + c.c.Name, Tip: say("case", "name", c.c.Name)}, Style: Style{Stroke: c.ink, Width: 0.45, Dash: c.dash}}
		curve := make([]Pt, len(c.volts))
		for i, v := range c.volts {
			curve[i] = Pt{p.pixelX(p.pixel(i, len(c.volts))), p.y(v)}
		}
		curve = thinned(curve)
		m.From = curve[0]
		for _, at := range curve[1:] {
			m.Steps = append(m.Steps, Step{To: at})
		}
		p.curves.Marks = append(p.curves.Marks, m)
		p.room.takePath(m, 0.3)
		last := m.From
		if n := len(m.Steps); n > 0 {
			last = m.Steps[n-1].To
		}
		text := say("case-least", "name", c.c.Name, "volts", showVolts(c.rc.MinVolts))
		p.tags = append(p.tags, tag{last, text, c.ink, c.dash, last.Y})
	}
	if w := p.worst; w.OK && w.Case == schema.Any {
		at := Pt{p.pixelX(w.Pixel), p.y(w.Value)}
		p.curves.Marks = append(p.curves.Marks, area(Style{Stroke: Line, Width: thin, Fill: Paper}, at.plus(0, -1.2), at.plus(1.2, 0), at.plus(0, 1.2), at.plus(-1.2, 0)))
		p.room.take(Box{at.X - 1.2, at.Y - 1.2, 2.4, 2.4})
		text := say("any", "volts", showVolts(w.Value))
		p.room.put(&p.curves, word(Pt{}, Start, Line, text), around(at, 1.2, 1.2)...)
	}
	for _, c := range p.of {
		at := Pt{p.pixelX(c.rc.MinPixel), p.y(c.rc.MinVolts)}
		p.curves.Marks = append(p.curves.Marks, &Circle{Style: Style{Stroke: c.ink, Width: thin * 1.6, Fill: Paper}, At: at, R: 0.7})
	}
	p.column()
}

// thinned leaves out points of a curve that runs to the right where it stays
// within a fiftieth of a millimetre, which nobody sees: a picture in a hover has
// to be short. The method is that of Ramer, Douglas and Peucker.
func thinned(curve []Pt) []Pt {
	if len(curve) < 3 {
		return slices.Clone(curve)
	}
	a, b := curve[0], curve[len(curve)-1]
	at, off := 0, 0.02
	for i, p := range curve {
		if d := math.Abs(p.Y - a.Y - (b.Y-a.Y)*(p.X-a.X)/(b.X-a.X)); d > off {
			at, off = i, d
		}
	}
	if at == 0 {
		return []Pt{a, b}
	}
	return append(thinned(curve[:at+1]), thinned(curve[at:])[1:]...)
}

// column writes the tags beside the plot, moved apart where they would overlap.
func (p *profile) column() {
	slices.SortStableFunc(p.tags, func(a, b tag) int { return int(math.Round((a.y - b.y) * 1000)) })
	const gap = 3.6
	b := p.plot
	for i := range p.tags { // down
		if i > 0 {
			p.tags[i].y = math.Max(p.tags[i].y, p.tags[i-1].y+gap)
		}
	}
	most := b.Y + b.H + 4
	for i := len(p.tags) - 1; i >= 0; i-- { // and up again from the lower edge
		p.tags[i].y = math.Min(p.tags[i].y, most)
		most = p.tags[i].y - gap
	}
	x := b.X + b.W
	for _, t := range p.tags {
		width := 50 - 13.0
		p.curves.Marks = append(p.curves.Marks,
			line(hair(t.ink), Pt{math.Max(t.from.X, x), t.from.Y}, Pt{x + 3.5, t.y}),
			line(Style{Stroke: t.ink, Width: 0.45, Dash: t.dash}, Pt{x + 3.5, t.y}, Pt{x + 10, t.y}),
			&Text{Ink: Line, At: Pt{x + 11, t.y + (ascent-descent)/2*small}, Size: small, S: shortened(Regular, small, width+2, t.text)})
	}
}
