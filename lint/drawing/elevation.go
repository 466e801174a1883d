package drawing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/path"
	"ohmstead/calc/pixels"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Elevation shows a place to scale: its runs with the way of their data and
// their first and last pixel numbers, feeds, joints, supplies, controllers,
// fixings, what must stay free, and its dimensions.
func Elevation(f *figures.Figures, p Place, fr Frame) *Scene {
	e := newElevation(f, p.layout(), fr)
	e.jumps()
	e.lights()
	e.fixings()
	e.devices()
	e.feeds()
	e.numbers()
	e.devicesNamed()
	e.runsNamed()
	e.feedsNamed()
	e.keepoutsNamed()
	return e.scene("elevation-", say("elevation", "name", p.name(f)))
}

// elevation is one that is being drawn.
type elevation struct {
	f  *figures.Figures
	fr Frame
	l  *layout
	m  Map
	lg legend

	ground, dims, runs, marks, labels Layer
	room                              *room
	area                              Box     // of the surface and all that may stand around it
	dense                             float64 // what the marks of runs are drawn smaller by
	pad                               float64 // mm around it for labels
	below                             bool    // the legend stands below the drawing
	feedLabels                        []labelled
	named                             []labelled
}

// labelled is a label to be put.
type labelled struct {
	text *Text
	at   []spot
}

// Room around the surface for its dimensions, mm.
const (
	roomLeft, roomBelow = 20.0, 20.0
	roomAbove, roomEnd  = 4.0, 6.0
	beforeLegend        = 5.0
	headline            = 8.0
	legendBelow         = 42.0 // a guess, for the choice of scale
)

func newElevation(f *figures.Figures, l *layout, fr Frame) *elevation {
	e := &elevation{f: f, fr: fr, l: l}
	e.ground.Name, e.dims.Name, e.runs.Name, e.marks.Name, e.labels.Name = "ground", "dimensions", "runs", "marks", "labels"
	b := e.l.bounds
	w, h := math.Max(b.MaxX-b.MinX, 0.05), math.Max(b.MaxY-b.MinY, 0.01)
	if l.Surface == nil {
		e.pad = 7
	}
	wide, high := math.Max(20, fr.Width-roomLeft-roomEnd-2*e.pad), math.Max(10, fr.Height-roomBelow-roomAbove-headline-2*e.pad)
	scale, across := scaleFor(w, h, math.Max(10, wide+roomEnd-beforeLegend-columnWidth-1), high), scaleFor(w, h, wide, math.Max(10, high-legendBelow))
	e.below = across < scale || across == scale && w > 3*h
	if e.below {
		scale = across
	}
	k := 1000 / scale
	left := roomLeft + e.pad
	if e.below { // in the middle
		left += math.Max(0, (wide-w*k)/2-8)
	}
	e.m = Map{X: left - b.MinX*k, Y: headline + roomAbove + e.pad + b.MaxY*k, K: k}
	e.dense = e.l.density(k)
	at := e.m.At(b.MinX, b.MaxY)
	e.area = Box{at.X, at.Y, w * k, h * k}
	e.room = newRoom(e.area.Grown(e.pad))
	e.surface()
	if !l.Straight {
		e.dimensions()
	}
	return e
}

// length writes a length as dimensions of drawings are: whole millimetres
// without a unit (ISO 129-1), or feet and inches.
func (e *elevation) length(m float64) string {
	if e.f.Habit == quantity.Imperial {
		return e.f.Habit.Show(quantity.Length, m)
	}
	return quantity.Number(math.Round(m*1000), 7)
}

// surface draws the ground, its grid and what must stay free.
func (e *elevation) surface() {
	b := e.l.edge
	lower, upper := e.m.At(b.MinX, b.MinY), e.m.At(b.MaxX, b.MaxY)
	if e.l.Surface != nil {
		e.ground.Marks = append(e.ground.Marks, &Rect{Meta: Meta{Of: e.l.of(), Part: "surface"}, Style: Style{Stroke: Line, Width: thick, Fill: Paper}, Box: BoxOf(lower, upper)})
	}
	pitches := []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}
	if e.f.Habit == quantity.Imperial {
		pitches = pitches[:0:0]
		for _, inches := range []float64{0.5, 1, 2, 6, 12, 24, 60, 120, 600, 1200, 6000, 12000} {
			pitches = append(pitches, inches*0.0254)
		}
	}
	pitch := pitches[len(pitches)-1]
	for _, p := range pitches {
		if p*e.m.K >= 8 {
			pitch = p
			break
		}
	}
	for x := math.Floor(b.MinX/pitch+1+1e-9) * pitch; x < b.MaxX-1e-9; x += pitch {
		e.ground.Marks = append(e.ground.Marks, line(hair(Faint), e.m.At(x, b.MinY), e.m.At(x, b.MaxY)))
	}
	if !e.l.Straight {
		for y := math.Floor(b.MinY/pitch+1+1e-9) * pitch; y < b.MaxY-1e-9; y += pitch {
			e.ground.Marks = append(e.ground.Marks, line(hair(Faint), e.m.At(b.MinX, y), e.m.At(b.MaxX, y)))
		}
	}
	e.lg.entries = append(e.lg.entries, e.scaleBar())
	e.lg.add(say("grid", "length", e.f.Habit.Show(quantity.Length, pitch)), func(at Pt) []Mark {
		return []Mark{line(hair(Soft), at.plus(-3, -1), at.plus(3, -1)), line(hair(Soft), at.plus(-3, 1), at.plus(3, 1)), line(hair(Soft), at.plus(-1, -1.8), at.plus(-1, 1.8)), line(hair(Soft), at.plus(1.5, -1.8), at.plus(1.5, 1.8))}
	})
	if !e.l.Straight {
		e.lg.add(say("up"), func(at Pt) []Mark {
			return []Mark{line(fat(Line), at.plus(0, 1.8), at.plus(0, -0.4)), triangle(solid(Line), at.plus(0, -2), 2, -90)}
		})
	}
	if s := e.l.Surface; s != nil {
		for _, k := range s.Keepouts {
			if k.From.Known() && k.To.Known() {
				e.keepout(k)
			}
		}
		if len(s.Keepouts) > 0 {
			e.lg.add(say("keepout"), func(at Pt) []Mark { return hatched(Meta{}, Box{at.X - 3, at.Y - 1.6, 6, 3.2}) })
		}
		e.room.takePath(area(Style{}, lower, Pt{upper.X, lower.Y}, upper, Pt{lower.X, upper.Y}), thick)
	}
}

func (e *elevation) keepoutBox(k *schema.Keepout) Box {
	return BoxOf(e.m.At(k.From.V.X, k.From.V.Y), e.m.At(k.To.V.X, k.To.V.Y))
}

func (e *elevation) keepout(k *schema.Keepout) {
	b := e.keepoutBox(k)
	tip := say("keepout")
	if k.Why.Known() {
		tip = k.Why.V
	}
	e.ground.Marks = append(e.ground.Marks, &Group{Meta: Meta{Of: e.l.of(), Part: "keepout " + k.Name, Tip: tip}, Marks: hatched(Meta{}, b)})
	e.room.takePath(area(Style{}, Pt{b.X, b.Y}, Pt{b.X + b.W, b.Y}, Pt{b.X + b.W, b.Y + b.H}, Pt{b.X, b.Y + b.H}), thin)
}

func (e *elevation) keepoutsNamed() {
	if e.l.Surface == nil {
		return
	}
	for _, k := range e.l.Surface.Keepouts {
		if !k.From.Known() || !k.To.Known() {
			continue
		}
		name := k.Name
		if k.Why.Known() {
			name = k.Why.V
		}
		b := e.keepoutBox(k)
		mid := Pt{b.X + b.W/2, b.Y + b.H/2}
		at := append([]spot{{mid.plus(0, 0.8), Middle, 0}}, around(mid, b.W/2, b.H/2)...)
		at = append(at, spot{mid.plus(0.8, 0), Middle, -90})
		e.put(word(Pt{}, Start, Line, shortened(Regular, small, math.Max(b.W-2, 40), name)), at...)
	}
}

// hatched is an area with lines at 45 degrees (ISO 128-50).
func hatched(meta Meta, b Box) []Mark {
	out := []Mark{&Rect{Meta: meta, Style: Style{Stroke: Line, Width: thin, Fill: Shade}, Box: b}}
	step := 2.5
	for d := step; d < b.W+b.H; d += step { // x + y = d
		x0, x1 := math.Max(0, d-b.H), math.Min(d, b.W)
		out = append(out, line(hair(Soft), Pt{b.X + x0, b.Y + d - x0}, Pt{b.X + x1, b.Y + d - x1}))
		if len(out) > 400 {
			break
		}
	}
	return out
}

// scaleBar is the scale as a number and as a bar of round lengths.
func (e *elevation) scaleBar() entry {
	unit := 1.0
	if e.f.Habit == quantity.Imperial {
		unit = 0.3048
	}
	step := unit
	for k := 1000.0; k > 0.0005; k /= 10 {
		for _, n := range []float64{5, 2, 1} {
			if step = n * k * unit; step*e.m.K*3 <= columnWidth-14 {
				k = 0
				break
			}
		}
	}
	text := say("scale", "scale", quantity.Number(e.m.Scale(), 4))
	return entry{text: text + ", " + say("not-to-scale"), height: 8, sample: func(at Pt) []Mark {
		var out []Mark
		w := step * e.m.K
		for i := range 3 {
			ink := Line
			if i == 1 {
				ink = Paper
			}
			out = append(out, &Rect{Style: Style{Stroke: Line, Width: thin, Fill: ink}, Box: Box{at.X + 0.2 + float64(i)*w, at.Y + 4, w, 1.4}})
		}
		out = append(out, word(at.plus(0, 3), Start, Line, "0"), word(at.plus(0.2+3*w, 3), Middle, Line, e.f.Habit.Show(quantity.Length, 3*step)))
		if w > 12 {
			out = append(out, word(at.plus(0.2+w, 3), Middle, Line, e.f.Habit.Show(quantity.Length, step)))
		}
		return out
	}}
}

// band is how wide a run is drawn, mm.
func (e *elevation) band() float64 { return math.Min(math.Max(0.010*e.m.K, 1.4), 3) * e.dense }

// density is 1 where runs lie so far apart that marks on them have room, and less where they lie closer.
func (l *layout) density(k float64) float64 {
	if len(l.paths) > 2000 {
		return leastDensity
	}
	least := math.Inf(1)
	mid := make([]Pt, len(l.paths))
	for i, p := range l.paths {
		x, y, _ := p.At(l.Runs[i].Length / 2)
		mid[i] = Pt{x, y}
		for _, q := range mid[:i] {
			if d := math.Hypot(x-q.X, y-q.Y); d > 1e-6 {
				least = math.Min(least, d)
			}
		}
	}
	return math.Max(leastDensity, math.Min(1, least*k/2.6))
}

// leastDensity keeps a run visible.
const leastDensity = 0.25

// length of a run's strip that is drawn, m.
func drawnLength(r *figures.Run) float64 {
	if r.OK && r.StripLength() > 0 {
		return math.Min(r.StripLength(), r.Length)
	}
	return r.Length
}

func (e *elevation) tip(r *figures.Run) string {
	s := r.ID() + ": " + say("pixels", "n", strconv.Itoa(r.Pixels), "length", e.f.Habit.Show(quantity.Length, r.Length))
	if r.Port != nil {
		s += ", " + r.Port.ID()
	}
	return s
}

// lights draws the runs as bands.
func (e *elevation) lights() {
	w := e.band()
	for i, r := range e.l.Runs {
		p, to := e.l.paths[i], drawnLength(r)
		g := &Group{Meta: Meta{Of: r.ID(), Part: "run", Tip: e.tip(r)}}
		if r.Length > to+1e-6 { // diffuser without strip
			rest := trace(Style{Stroke: Soft, Width: thin, Dash: []float64{1, 0.8}}, e.m, p, to, r.Length)
			g.Marks = append(g.Marks, rest)
			e.room.takePath(rest, thin)
		}
		whole := trace(Style{Stroke: Line, Width: w + 2*thin*e.dense}, e.m, p, 0, to)
		light := *whole
		light.Style = Style{Stroke: Glow, Width: w}
		g.Marks = append(g.Marks, whole, &light)
		g.Marks = append(g.Marks, e.arrows(r, p, to)...)
		e.runs.Marks = append(e.runs.Marks, g)
		e.room.takePath(whole, w/2+thin*e.dense)
	}
	if len(e.l.Runs) > 0 {
		e.lg.add(say("run"), func(at Pt) []Mark {
			return []Mark{line(Style{Stroke: Line, Width: 1.8}, at.plus(-3, 0), at.plus(3, 0)), line(Style{Stroke: Glow, Width: 1.4}, at.plus(-3, 0), at.plus(3, 0)), triangle(solid(Line), at.plus(1, 0), 2, 0)}
		})
	}
}

// arrows show the way of the data: from the end at which it enters, one for
// about each 40 mm.
func (e *elevation) arrows(r *figures.Run, p *path.Path, length float64) []Mark {
	var out []Mark
	mm := length * e.m.K
	n := int(math.Max(1, math.Floor(mm/40)))
	if mm < 4 {
		return nil
	}
	fixings := r.Fixings()
	for k := range n {
		s := 0.0
		for _, share := range []float64{0.42, 0.36, 0.5, 0.58, 0.3} { // not on a fixing
			s = length * (float64(k) + share) / float64(n)
			if !slices.ContainsFunc(fixings, func(x pixels.Fixing) bool { return math.Abs(x.At-s)*e.m.K < 2 }) {
				break
			}
		}
		x, y, heading := p.At(s)
		heading = -heading // paper's y runs down
		if r.DataEnters.V == "end" {
			heading += 180
		}
		tip := polar(e.m.At(x, y), 1.1*e.dense, heading)
		out = append(out, triangle(solid(Line), tip, 2.2*e.dense, heading))
	}
	return out
}

// ends of a run on paper: where data enters and leaves, and the headings outwards.
func (e *elevation) ends(i int) (in, out Pt, inward, outward float64) {
	r, p := e.l.Runs[i], e.l.paths[i]
	x, y, h := p.At(0)
	in, inward = e.m.At(x, y), -h+180
	x, y, h = p.At(drawnLength(r))
	out, outward = e.m.At(x, y), -h
	if r.DataEnters.V == "end" {
		in, out, inward, outward = out, in, outward, inward
	}
	return
}

// numbers writes the first and last pixel of each run, counted on its port.
func (e *elevation) numbers() {
	any, entry := false, false
	for i, r := range e.l.Runs {
		if !r.OK || r.Pixels == 0 {
			continue
		}
		any = true
		first := 0
		if r.Port != nil {
			first = r.First
		}
		in, out, inward, outward := e.ends(i)
		w := e.band()
		begin := &Text{Meta: Meta{Of: r.ID()}, Ink: Line, Size: small, S: strconv.Itoa(first)}
		if r.Port != nil && first == 0 {
			begin.Face, begin.S = Bold, say("entry")
			e.marks.Marks = append(e.marks.Marks, &Circle{Meta: Meta{Of: r.ID(), Part: "entry"}, Style: solid(Line), At: in, R: 0.9})
			entry = true
		}
		e.put(begin, beyond(in, inward, w)...)
		e.put(&Text{Meta: Meta{Of: r.ID()}, Ink: Line, Size: small, S: fmt.Sprint(first + r.Pixels - 1)}, beyond(out, outward, w)...)
	}
	if any {
		e.lg.add(say("numbers"), func(at Pt) []Mark { return []Mark{word(at.plus(0, 0.8), Middle, Line, "0…n")} })
	}
	if entry {
		e.lg.add(say("entry.is"), func(at Pt) []Mark { return []Mark{&Circle{Style: solid(Line), At: at, R: 0.9}} })
	}
}

// beyond lists places for a label behind the end of a line that runs out at a
// heading, then beside it.
func beyond(p Pt, heading, w float64) []spot {
	sin, cos := math.Sincos(heading * math.Pi / 180)
	mid := (ascent - descent) / 2 * small
	d := w/2 + 1
	var out []spot
	switch {
	case math.Abs(cos) > 0.5 && cos > 0:
		out = append(out, spot{p.plus(d, mid), Start, 0})
	case math.Abs(cos) > 0.5:
		out = append(out, spot{p.plus(-d, mid), End, 0})
	case sin > 0:
		out = append(out, spot{p.plus(0, d+ascent*small), Middle, 0})
	default:
		out = append(out, spot{p.plus(0, -d-descent*small), Middle, 0})
	}
	for _, d := range []float64{2, 4, 6} { // back along the line
		q := p.plus(-d*cos, -d*sin)
		a := Start
		if cos > 0 {
			a = End
		}
		if math.Abs(cos) > 0.5 {
			out = append(out, spot{q.plus(0, -w/2-0.45-descent*small), a, 0}, spot{q.plus(0, w/2+0.45+ascent*small), a, 0})
		} else {
			out = append(out, spot{q.plus(w/2+0.6, mid), Start, 0}, spot{q.plus(-w/2-0.6, mid), End, 0})
		}
	}
	return append(out, around(p, w/2, w/2)...)
}

func (e *elevation) put(t *Text, at ...spot) { e.room.put(&e.labels, t, at...) }

// jumps are the signals from one run of this place to another, drawn straight.
func (e *elevation) jumps() {
	at := map[*schema.Run]int{}
	for i, r := range e.l.Runs {
		at[r.Run] = i
	}
	any := false
	for _, s := range e.f.Plan.Signals {
		if !s.From.Known() || !s.To.Known() || s.From.V.Run == nil || s.To.V.Run == nil {
			continue
		}
		i, ok1 := at[s.From.V.Run]
		j, ok2 := at[s.To.V.Run]
		if !ok1 || !ok2 {
			continue
		}
		any = true
		from, to := e.point(i, s.From.V), e.point(j, s.To.V)
		p := line(Style{Stroke: Data, Width: thin * 1.5 * e.dense, Dash: []float64{1.2, 0.8}}, from, to)
		p.Meta = Meta{Of: s.ID(), Part: "data"}
		e.marks.Marks = append(e.marks.Marks, p)
		e.room.takePath(p, thin)
		if d := math.Hypot(to.X-from.X, to.Y-from.Y); d > 4 { // the way that it goes
			arrow := triangle(solid(Data), Pt{from.X + (to.X-from.X)*(0.5+0.8/d), from.Y + (to.Y-from.Y)*(0.5+0.8/d)}, 1.6*e.dense, math.Atan2(to.Y-from.Y, to.X-from.X)*180/math.Pi)
			arrow.Meta = Meta{Of: s.ID(), Part: "way"}
			e.marks.Marks = append(e.marks.Marks, arrow)
			e.room.take(arrow.Bounds())
		}
	}
	if any {
		e.lg.add(say("jump"), func(at Pt) []Mark {
			return []Mark{line(Style{Stroke: Data, Width: thin * 1.5, Dash: []float64{1.2, 0.8}}, at.plus(-3, 0), at.plus(3, 0)), triangle(solid(Data), at.plus(0.8, 0), 1.6, 0)}
		})
	}
}

// along is how far from the start of its run a place lies, m.
func along(r *figures.Run, pt *schema.Point) float64 {
	if !r.OK {
		if pt.Where == schema.AtEnd {
			return r.Length
		}
		return 0
	}
	return math.Min(r.Snap(pt).At, r.Length)
}

func (e *elevation) point(i int, pt *schema.Point) Pt {
	x, y, _ := e.l.paths[i].At(along(e.l.Runs[i], pt))
	return e.m.At(x, y)
}

func (e *elevation) fixings() {
	any := false
	for i, r := range e.l.Runs {
		for _, f := range r.Fixings() {
			any = true
			x, y, _ := e.l.paths[i].At(f.At)
			at := e.m.At(x, y)
			e.marks.Marks = append(e.marks.Marks, fixing(Meta{Of: r.ID(), Part: "fixing"}, at, e.dense))
		}
	}
	if any {
		e.lg.add(say("fixing"), func(at Pt) []Mark { return []Mark{fixing(Meta{}, at, 1)} })
	}
}

func fixing(m Meta, at Pt, dense float64) Mark {
	return &Circle{Meta: m, Style: Style{Stroke: Line, Width: thin, Fill: Paper}, At: at, R: 0.5 * dense}
}

// feeds are where leads bring power to runs.
func (e *elevation) feeds() {
	any := false
	for i, r := range e.l.Runs {
		for _, l := range e.f.Ends(r.Run) {
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				if pt == nil || pt.Run != r.Run {
					continue
				}
				any = true
				s := along(r, pt)
				_, _, h := e.l.paths[i].At(s)
				tip := e.point(i, pt)
				var g *Path
				for _, side := range []float64{90, -90} {
					g = triangle(solid(Plus), polar(tip, e.band()/2+thin*e.dense, -h-side), 2.4*e.dense, -h-side+180)
					if e.room.free(g.Bounds()) {
						break
					}
				}
				g.Meta = Meta{Of: l.ID(), Part: "feed", Tip: l.ID()}
				e.marks.Marks = append(e.marks.Marks, g)
				b := g.Bounds()
				e.room.take(b)
				if l.Name == r.Name {
					continue
				}
				e.feedLabels = append(e.feedLabels, labelled{&Text{Meta: Meta{Of: l.ID()}, Ink: Line, Size: small, S: brief(l.Name)}, around(Pt{b.X + b.W/2, b.Y + b.H/2}, b.W/2, b.H/2)})
			}
		}
	}
	if any {
		e.lg.add(say("feed"), func(at Pt) []Mark { return []Mark{triangle(solid(Plus), at.plus(0, 1.2), 2.4, 90)} })
	}
}

func (e *elevation) feedsNamed() {
	for _, l := range e.feedLabels {
		e.put(l.text, l.at...)
	}
}

// device is a supply, controller or joint with its place.
type device struct {
	block  schema.Block
	name   string
	x, y   float64
	symbol func(at Pt) []Mark
	w, h   float64 // mm, half of the symbol's size
}

// placed lists what sits on the surface.
func (e *elevation) placed() []device {
	var out []device
	kinds := map[string]int{} // of devices of one name
	for _, s := range e.f.Plan.Supplies {
		kinds[s.Name]++
	}
	for _, c := range e.f.Plan.Controllers {
		kinds[c.Name]++
	}
	for _, j := range e.f.Plan.Joints {
		kinds[j.Name]++
	}
	add := func(b schema.Block, on schema.Value[*schema.Surface], at schema.Value[schema.XY], d device) {
		if e.l.Surface != nil && on.Known() && on.V == e.l.Surface && at.Known() {
			d.block, d.x, d.y = b, at.V.X, at.V.Y
			if h := schema.HeaderOf(b); kinds[h.Name] > 1 {
				d.name = say(h.Type.Name) + " " + d.name
			}
			out = append(out, d)
		}
	}
	for _, s := range e.f.Plan.Supplies {
		name := brief(s.Name)
		if s.Output.Known() {
			name += ", " + e.f.Habit.Show(quantity.Voltage, s.Volts())
		}
		add(s, s.On, s.Place, device{name: name, symbol: supplySign, w: 4, h: 2.75})
	}
	for _, c := range e.f.Plan.Controllers {
		add(c, c.On, c.Place, device{name: brief(c.Name), symbol: controllerSign, w: 3.5, h: 2.75})
	}
	for _, j := range e.f.Plan.Joints {
		add(j, j.On, j.Place, device{name: brief(j.Name), symbol: jointSign, w: 1.6, h: 1.6})
	}
	return out
}

func (e *elevation) devices() {
	has := map[string]bool{}
	for _, d := range e.placed() {
		at := e.m.At(d.x, d.y)
		h := schema.HeaderOf(d.block)
		e.marks.Marks = append(e.marks.Marks, &Group{Meta: Meta{Of: h.ID(), Part: "symbol", Tip: h.ID()}, Marks: d.symbol(at)})
		e.room.take(Box{at.X - d.w, at.Y - d.h, 2 * d.w, 2 * d.h})
		e.named = append(e.named, labelled{&Text{Meta: Meta{Of: h.ID()}, Ink: Line, Size: small, Face: Bold, S: d.name}, around(at, d.w, d.h)})
		has[h.Type.Name] = true
	}
	for _, k := range []struct {
		name, text string
		sign       func(at Pt) []Mark
	}{{"supply", say("supply"), supplySign}, {"controller", say("controller"), controllerSign}, {"joint", say("joint"), jointSign}} {
		if has[k.name] {
			e.lg.add(k.text, k.sign)
			e.lg.entries[len(e.lg.entries)-1].tall = 5.4
		}
	}
}

// devicesNamed names joints before what is larger: they stand nearest to other things.
func (e *elevation) devicesNamed() {
	for _, l := range slices.Backward(e.named) {
		e.put(l.text, l.at...)
	}
}

// supplySign is a converter from alternating to direct current (IEC 60617, from memory).
func supplySign(at Pt) []Mark {
	b := Box{at.X - 4, at.Y - 2.5, 8, 5}
	return []Mark{
		&Rect{Style: Style{Stroke: Line, Width: thick / 1.5, Fill: Part}, Box: b},
		line(hair(Line), Pt{b.X, b.Y + b.H}, Pt{b.X + b.W, b.Y}),
		wave(Pt{b.X + 2, b.Y + 1.4}, 1.8), line(hair(Line), at.plus(1.2, 1), at.plus(3, 1)), line(Style{Stroke: Line, Width: thin, Dash: []float64{0.35, 0.35}}, at.plus(1.2, 1.7), at.plus(3, 1.7)),
	}
}

// wave is the sign of alternating current, w wide about a place.
func wave(at Pt, w float64) Mark {
	return &Path{Style: hair(Line), From: at.plus(-w/2, 0), Steps: []Step{
		{at, true, at.plus(-w/3, -w/2), at.plus(-w/6, -w/2)}, {at.plus(w/2, 0), true, at.plus(w/6, w/2), at.plus(w/3, w/2)},
	}}
}

// controllerSign is a chip with its pins.
func controllerSign(at Pt) []Mark {
	out := []Mark{&Rect{Style: Style{Stroke: Line, Width: thick / 1.5, Fill: Part}, Box: Box{at.X - 3, at.Y - 1.8, 6, 3.6}}}
	for i := range 4 {
		x := at.X - 2.1 + 1.4*float64(i)
		out = append(out, line(hair(Line), Pt{x, at.Y - 1.8}, Pt{x, at.Y - 2.6}), line(hair(Line), Pt{x, at.Y + 1.8}, Pt{x, at.Y + 2.6}))
	}
	return append(out, &Circle{Style: hair(Line), At: at.plus(-2.1, 0.9), R: 0.35})
}

// jointSign is a terminal (IEC 60617, from memory).
func jointSign(at Pt) []Mark {
	return []Mark{&Circle{Style: Style{Stroke: Line, Width: thick / 1.5, Fill: Part}, At: at, R: 1.4}}
}

// runsNamed writes each run's name, pixels, length and port along it, or as much of that as fits.
func (e *elevation) runsNamed() {
	for i, r := range e.l.Runs {
		says := []string{brief(r.Name)}
		if r.OK {
			says = append(says, says[0]+": "+say("pixels", "n", strconv.Itoa(r.Pixels), "length", e.f.Habit.Show(quantity.Length, r.Length)))
		}
		if r.Port != nil {
			says = append(says, says[len(says)-1]+", "+say("port")+" "+r.Port.Name)
		}
		e.alongRun(i, says)
	}
}

// alongRun puts the last of some labels that fits along a run, in its middle if that is free.
func (e *elevation) alongRun(i int, says []string) {
	r, p := e.l.Runs[i], e.l.paths[i]
	var at []spot
	to := drawnLength(r)
	for step := range 3 {
		for _, k := range []float64{0.5, 0.25, 0.75, 0.4, 0.6, 0.15, 0.85} {
			x, y, h := p.At(to * k)
			at = append(at, beside(e.m.At(x, y), -h, e.band()/2+thin, step)...)
		}
	}
	left := e.room.left
	for k := len(says) - 1; k >= 0; k-- {
		if e.room.put(&e.labels, &Text{Meta: Meta{Of: r.ID()}, Ink: Line, Size: small, S: says[k]}, at...) {
			e.room.left = left
			return
		}
	}
	e.room.left = left + 1
}

// scene puts the layers and the legend together.
func (e *elevation) scene(name, title string) *Scene {
	var missing []string
	if e.l.Surface == nil || e.lastPlace() {
		for _, s := range e.f.Plan.Supplies {
			if !s.On.Known() || !s.Place.Known() || s.On.V == nil {
				missing = append(missing, s.ID())
			}
		}
		for _, c := range e.f.Plan.Controllers {
			if !c.On.Known() || !c.Place.Known() || c.On.V == nil {
				missing = append(missing, c.ID())
			}
		}
		for _, j := range e.f.Plan.Joints {
			if !j.On.Known() || !j.Place.Known() || j.On.V == nil {
				missing = append(missing, j.ID())
			}
		}
	}
	if n := len(missing); n > 0 {
		if n > 6 {
			missing = append(missing[:5:5], say("more", "n", strconv.Itoa(n-5)))
		}
		e.lg.add(say("missing", "names", strings.Join(missing, ", ")), nil)
	}
	if e.room.left > 0 {
		e.lg.add(say("left-out", "n", strconv.Itoa(e.room.left)), nil)
	}
	lg := Layer{Name: "legend"}
	lg.Marks = append(lg.Marks, &Text{Ink: Line, At: Pt{0, 4.5}, Size: large, Face: Bold, S: shortened(Bold, large, e.fr.Width, title)})
	bottom := e.m.At(0, e.l.bounds.MinY).Y + roomBelow + e.pad
	if e.l.Straight {
		bottom -= roomBelow - 8
	}
	height := bottom
	width := e.fr.Width
	if e.below {
		n := int(math.Max(1, math.Floor((e.fr.Width+6)/(columnWidth+6))))
		h := e.lg.heightFor(n)
		lg.Marks = append(lg.Marks, e.lg.draw(Pt{0, bottom + 2}, h)...)
		height = bottom + 2 + h
	} else {
		x := e.area.X + e.area.W + e.pad + beforeLegend
		lg.Marks = append(lg.Marks, e.lg.draw(Pt{x, headline + roomAbove}, math.Inf(1))...)
		width = x + columnWidth + 1
	}
	s := &Scene{Name: name + slug(e.l.key()), Title: title, Of: e.l.of(), Width: width, Height: height, Map: e.m,
		Layers: []Layer{e.ground, e.dims, e.runs, e.marks, e.labels, lg}}
	b := s.Bounds()
	s.Height = math.Max(s.Height, b.Y+b.H+0.5)
	return s
}

// lastPlace reports whether this is where what has no place is told.
func (e *elevation) lastPlace() bool {
	all := Places(e.f)
	for _, p := range all {
		if p.Surface == nil {
			return false
		}
	}
	return len(all) > 0 && all[len(all)-1].Surface == e.l.Surface
}

// slug makes a name fit for a file.
func slug(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, s)
}
