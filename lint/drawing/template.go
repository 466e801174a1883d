package drawing

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
)

// templateMargin is the ground around what a template shows, mm.
const templateMargin = 15.0

// Template shows a place at real size, to be laid on the wall: the centre lines
// of its runs, the holes for their fixings, where the strip is cut, what must
// stay free and where things sit.
func Template(f *figures.Figures, p Place) *Scene {
	l := p.layout()
	m := Map{X: templateMargin - l.bounds.MinX*1000, Y: templateMargin + l.bounds.MaxY*1000, K: 1000}
	e := &elevation{f: f, l: l, m: m}
	title := say("template", "name", p.name(f))
	s := &Scene{Name: "template-" + slug(p.key()), Title: title, Of: p.of(), Map: m,
		Width: (l.bounds.MaxX-l.bounds.MinX)*1000 + 2*templateMargin, Height: (l.bounds.MaxY-l.bounds.MinY)*1000 + 2*templateMargin}
	ground, runs, holes := Layer{Name: "ground"}, Layer{Name: "runs"}, Layer{Name: "holes"}
	if p.Surface != nil {
		ground.Marks = append(ground.Marks, &Rect{Meta: Meta{Of: p.of(), Part: "surface"}, Style: edge, Box: BoxOf(m.At(0, 0), m.At(l.edge.MaxX, l.edge.MaxY))})
		ground.Marks = append(ground.Marks, edgesNamed(BoxOf(m.At(0, 0), m.At(l.edge.MaxX, l.edge.MaxY)), say("edge-of", "name", brief(p.Surface.Name)))...)
		for _, k := range p.Surface.Keepouts {
			if k.From.Known() && k.To.Known() {
				b := e.keepoutBox(k)
				name := say("keepout")
				if k.Why.Known() {
					name = k.Why.V
				}
				runs.Marks = append(runs.Marks, &Rect{Meta: Meta{Of: p.of(), Part: "keepout " + k.Name}, Style: Style{Stroke: Line, Width: thick, Dash: []float64{4, 2}}, Box: b},
					&Text{Ink: Line, At: Pt{b.X + b.W/2, b.Y + b.H/2}, Anchor: Middle, Size: large, S: name})
			}
		}
	}
	for i, r := range l.Runs {
		line := trace(fat(Line), m, l.paths[i], 0, r.Length)
		line.Meta = Meta{Of: r.ID(), Part: "run", Tip: r.ID()}
		runs.Marks = append(runs.Marks, line)
		for _, s := range []float64{0, drawnLength(r)} {
			x, y, h := l.paths[i].At(s)
			runs.Marks = append(runs.Marks, cutMark(r.ID(), m.At(x, y), -h))
		}
		x, y, h := l.paths[i].At(math.Min(r.Length/2, 0.06))
		t := &Text{Meta: Meta{Of: r.ID()}, Ink: Line, At: polar(m.At(x, y), 2.5, -h-90), Size: large, Turn: upright(-h), S: brief(r.Name)}
		if upright(-h) != math.Remainder(-h, 360) { // turned round to read: it runs the other way and lies on the other side
			t.At, t.Anchor = polar(m.At(x, y), 2.5+capital*large, -h-90), End
		}
		runs.Marks = append(runs.Marks, t)
		for _, f := range r.Fixings() {
			x, y, _ := l.paths[i].At(f.At)
			holes.Marks = append(holes.Marks, hole(Meta{Of: r.ID(), Part: "hole"}, m.At(x, y)))
		}
	}
	for _, d := range e.placed() {
		at := m.At(d.x, d.y)
		holes.Marks = append(holes.Marks, &Group{Meta: Meta{Of: id(d.block), Part: "place"}, Marks: []Mark{
			line(hair(Line), at.plus(-6, 0), at.plus(6, 0)), line(hair(Line), at.plus(0, -6), at.plus(0, 6)),
			&Text{Ink: Line, At: at.plus(1.5, -1.5), Size: large, S: d.name}}})
	}
	s.Layers = []Layer{ground, runs, holes}
	return s
}

// edge is the line of a surface's edge: a chain of dashes and dots, that nobody takes for a line of light.
var edge = Style{Stroke: Soft, Width: 0.35, Dash: []float64{8, 1.5, 0.8, 1.5}}

// edgesNamed says outside of a box's edges what they are, so often that it stands whole on each tile.
func edgesNamed(b Box, name string) []Mark {
	step := math.Max(80, (b.W+b.H)/500)
	var out []Mark
	add := func(at Pt, turn float64) {
		out = append(out, &Text{Meta: Meta{Part: "edge"}, Ink: Soft, At: at, Size: small, Turn: turn, S: name})
	}
	for x := 5.0; x < b.W; x += step {
		add(Pt{b.X + x, b.Y - 1.2}, 0)
		add(Pt{b.X + x, b.Y + b.H + 1.2 + capital*small}, 0)
	}
	for y := 5.0; y < b.H; y += step {
		add(Pt{b.X - 1.2, b.Y + b.H - y}, -90)
		add(Pt{b.X + b.W + 1.2 + capital*small, b.Y + b.H - y}, -90)
	}
	return out
}

// upright turns an angle so that a text along it is not read upside down.
func upright(degrees float64) float64 {
	d := math.Remainder(degrees, 360)
	if d > 90.001 || d <= -90.001 {
		d = math.Remainder(d+180, 360)
	}
	return d
}

// cutMark is a stroke across the end of a strip.
func cutMark(of string, at Pt, heading float64) Mark {
	return &Group{Meta: Meta{Of: of, Part: "cut"}, Marks: []Mark{
		line(hair(Line), polar(at, 8, heading+90), polar(at, -8, heading+90)),
	}}
}

// hole is a place to drill: a cross in a circle.
func hole(meta Meta, at Pt) Mark {
	return &Group{Meta: meta, Marks: []Mark{
		&Circle{Style: hair(Line), At: at, R: 1.5},
		line(hair(Line), at.plus(-4, 0), at.plus(4, 0)), line(hair(Line), at.plus(0, -4), at.plus(0, 4)),
	}}
}

// Strips of a tile to the left and below that its bars and its place stand in, mm.
const (
	TileLeft = 11.0
	TileFoot = 14.5
)

// Tile is one sheet of a template.
type Tile struct {
	*Scene
	Column, Row int // from 0, of the upper left one
}

// name is a letter for the column and a number for the row: "B3".
func tileName(column, row int) string {
	s := ""
	for c := column; c >= 0; c = c/26 - 1 {
		s = string(rune('A'+c%26)) + s
	}
	return fmt.Sprint(s, row+1)
}

// Tiles cuts a scene at real size into sheets of a paper, with a margin that
// printers cannot reach and an overlap of neighbours, both mm. Tiles on which
// nothing but ground lies are left out. The first scene is a map of all tiles.
// It is an error if the paper leaves less than the bars of 100 mm take.
func Tiles(s *Scene, paper Frame, margin, overlap float64) (overview *Scene, tiles []Tile, err error) {
	inner := Box{margin + TileLeft, margin, paper.Width - 2*margin - TileLeft, paper.Height - 2*margin - TileFoot}
	stepX, stepY := inner.W-overlap, inner.H-overlap
	if !(inner.W >= 105 && inner.H >= 105 && overlap >= 0 && stepX >= 20 && stepY >= 20) {
		return nil, nil, errors.New(say("no-tile", "width", millimetres(paper.Width), "height", millimetres(paper.Height), "margin", millimetres(margin), "overlap", millimetres(overlap)))
	}
	across, down := pieces(s.Width, stepX, overlap), pieces(s.Height, stepY, overlap)
	if across*down > MostTiles {
		return nil, nil, errors.New(say("too-many-tiles", "across", strconv.Itoa(across), "down", strconv.Itoa(down), "most", strconv.Itoa(MostTiles)))
	}
	t := tiling{s, paper, inner, stepX, stepY, overlap, across, down}
	used := map[[2]int]bool{}
	for _, l := range s.Layers {
		if l.Name == "ground" {
			continue
		}
		for _, m := range l.Marks {
			t.touch(m, used)
		}
	}
	for row := range down {
		for column := range across {
			if used[[2]int{column, row}] {
				tiles = append(tiles, Tile{t.tile(column, row), column, row})
			}
		}
	}
	return t.overview(used, len(tiles)), tiles, nil
}

// MostTiles of one template; it is some square metres of hall.
const MostTiles = 4000

// pieces is how many steps cover a length.
func pieces(length, step, overlap float64) int {
	return int(math.Max(1, math.Ceil((length-overlap)/step-1e-9)))
}

type tiling struct {
	s            *Scene
	paper        Frame
	inner        Box
	stepX, stepY float64
	overlap      float64
	across, down int
}

// touch notes the tiles that a mark lies on: of a path, those that short pieces of it lie on.
func (t *tiling) touch(m Mark, used map[[2]int]bool) {
	boxes := []Box{m.Bounds()}
	switch m := m.(type) {
	case *Group:
		for _, k := range m.Marks {
			t.touch(k, used)
		}
		return
	case *Path:
		boxes = boxes[:0]
		for _, s := range flat(m) {
			n := 1.0
			if s[0].X != s[1].X && s[0].Y != s[1].Y {
				n = math.Ceil(math.Hypot(s[1].X-s[0].X, s[1].Y-s[0].Y) / 5)
			}
			on := func(i float64) Pt { return Pt{s[0].X + (s[1].X-s[0].X)*i/n, s[0].Y + (s[1].Y-s[0].Y)*i/n} }
			for i := range int(n) {
				boxes = append(boxes, BoxOf(on(float64(i)), on(float64(i+1))).Grown(m.Width/2))
			}
		}
	}
	for _, b := range boxes {
		for c := max(0, int((b.X-t.inner.W)/t.stepX)); c < t.across && float64(c)*t.stepX <= b.X+b.W; c++ {
			for r := max(0, int((b.Y-t.inner.H)/t.stepY)); r < t.down && float64(r)*t.stepY <= b.Y+b.H; r++ {
				if (Box{float64(c) * t.stepX, float64(r) * t.stepY, t.inner.W, t.inner.H}).Meets(b.Grown(1e-6)) {
					used[[2]int{c, r}] = true
				}
			}
		}
	}
}

func (t *tiling) tile(column, row int) *Scene {
	name := tileName(column, row)
	dx, dy := t.inner.X-float64(column)*t.stepX, t.inner.Y-float64(row)*t.stepY
	out := &Scene{Name: t.s.Name + "-" + strings.ToLower(name), Title: t.s.Title + ", " + say("tile", "name", name), Of: t.s.Of,
		Width: t.paper.Width, Height: t.paper.Height, Map: Map{t.s.Map.X + dx, t.s.Map.Y + dy, t.s.Map.K}}
	for _, l := range t.s.Layers {
		clip := t.inner
		part := Layer{Name: l.Name, Clip: &clip}
		for _, m := range l.Marks {
			b := m.Bounds()
			if (Box{b.X + dx, b.Y + dy, b.W, b.H}).Meets(t.inner) {
				part.Marks = append(part.Marks, m.moved(dx, dy))
			}
		}
		out.Layers = append(out.Layers, part)
	}
	frame := Layer{Name: "frame"}
	b := t.inner
	frame.Marks = append(frame.Marks, &Rect{Style: hair(Soft), Box: b})
	dash := Style{Stroke: Soft, Width: thin, Dash: []float64{2, 2}}
	lines := func(x, y float64) { // where neighbours begin
		if x > 0 {
			frame.Marks = append(frame.Marks, line(dash, Pt{x, b.Y}, Pt{x, b.Y + b.H}))
		}
		if y > 0 {
			frame.Marks = append(frame.Marks, line(dash, Pt{b.X, y}, Pt{b.X + b.W, y}))
		}
	}
	if t.overlap > 0 {
		if column > 0 {
			lines(b.X+t.overlap, 0)
		}
		if column < t.across-1 {
			lines(b.X+t.stepX, 0)
		}
		if row > 0 {
			lines(0, b.Y+t.overlap)
		}
		if row < t.down-1 {
			lines(0, b.Y+t.stepY)
		}
	}
	frame.Marks = append(frame.Marks, t.crosses(column, row)...)
	frame.Marks = append(frame.Marks, t.bars(name)...)
	frame.Marks = append(frame.Marks, t.where(out.Map)...)
	out.Layers = append(out.Layers, frame)
	return out
}

// crosses are registration marks where the overlaps of four tiles meet; each has the name of
// the tile below it to the right, on all of them.
func (t *tiling) crosses(column, row int) []Mark {
	var out []Mark
	for c := column; c <= column+1; c++ {
		for r := row; r <= row+1; r++ {
			if c == 0 && r == 0 || c > t.across || r > t.down || t.across == 1 && t.down == 1 {
				continue
			}
			x := t.inner.X + float64(c-column)*t.stepX + t.overlap/2
			y := t.inner.Y + float64(r-row)*t.stepY + t.overlap/2
			at := Pt{x, y}
			out = append(out, &Group{Meta: Meta{Part: "cross " + tileName(c, r)}, Marks: []Mark{
				line(hair(Line), at.plus(-4, 0), at.plus(4, 0)), line(hair(Line), at.plus(0, -4), at.plus(0, 4)), &Circle{Style: hair(Line), At: at, R: 2},
			}})
		}
	}
	return out
}

// bars are those of 100 mm, below and to the left of the tile, and what it is.
func (t *tiling) bars(name string) []Mark {
	b := t.inner
	x, y := b.X, b.Y+b.H+4
	return append([]Mark{
		bar(Pt{x, y}, 0), word(Pt{x + 50, y + 4.6}, Middle, Line, say("bar")),
		bar(Pt{b.X - 4, b.Y + b.H}, -90), &Text{Ink: Line, At: Pt{b.X - 6.9, b.Y + b.H - 50}, Anchor: Middle, Size: small, Turn: -90, S: say("bar")},
		&Text{Ink: Line, At: Pt{b.X + b.W, y + 2.5}, Anchor: End, Size: 6, Face: Bold, S: name},
	}, &Text{Ink: Line, At: Pt{x + 104, y + 4.6}, Size: small, S: shortened(Regular, small, b.W-104-18, t.s.Title)})
}

// where says how far the tile's corner lies from that of the surface, so that a tile which no other
// touches finds its place too, and which way is up.
func (t *tiling) where(m Map) []Mark {
	b := t.inner
	corner := Pt{b.X, b.Y + b.H}
	off := func(mm float64, ahead, behind string) string {
		if mm < 0 {
			mm, ahead = -mm, behind
		}
		return quantity.Number(math.Round(mm*10)/10, 9) + " mm " + ahead
	}
	from := say("origin")
	if t.s.Of != "" {
		from = say("corner", "name", brief(strings.TrimPrefix(t.s.Of, "surface.")))
	}
	says := say("where", "across", off(corner.X-m.X, say("right-of"), say("left-of")), "up", off(m.Y-corner.Y, say("above"), say("below")), "from", from)
	up := Pt{b.X - 8.6, b.Y + 1}
	return []Mark{
		&Circle{Meta: Meta{Part: "corner"}, Style: solid(Line), At: corner, R: 1},
		&Circle{Style: solid(Line), At: Pt{b.X + 1, b.Y + b.H + TileFoot - 3.4}, R: 1},
		&Text{Meta: Meta{Part: "where"}, Ink: Line, At: Pt{b.X + 3.5, b.Y + b.H + TileFoot - 2.5}, Size: small, S: shortened(Regular, small, b.W-3.5, says)},
		line(fat(Line), up.plus(0, 2), up.plus(0, 7)), triangle(solid(Line), up, 3, -90), word(up.plus(0, 10), Middle, Line, say("up")),
	}
}

// bar is a line of 100 mm from a place on, with strokes at its ends and middle.
func bar(at Pt, degrees float64) Mark {
	g := &Group{Meta: Meta{Part: "bar"}, Marks: []Mark{line(fat(Line), at, polar(at, 100, degrees))}}
	for i := range 11 {
		p, h := polar(at, float64(i)*10, degrees), 1.0
		if i%5 == 0 {
			h = 2
		}
		g.Marks = append(g.Marks, line(hair(Line), p, polar(p, h, degrees-90)))
	}
	return g
}

// overview is a map of the tiles over a small picture of the whole.
func (t *tiling) overview(used map[[2]int]bool, n int) *Scene {
	whole := Pt{float64(t.across-1)*t.stepX + t.inner.W, float64(t.down-1)*t.stepY + t.inner.H}
	room := Box{t.inner.X, t.inner.Y + 28, t.inner.W, t.inner.H - 28}
	k := math.Min(room.W/whole.X, room.H/whole.Y)
	out := &Scene{Name: t.s.Name + "-tiles", Title: t.s.Title, Of: t.s.Of, Width: t.paper.Width, Height: t.paper.Height}
	grid, pic, names := Layer{Name: "tiles"}, Layer{Name: "picture"}, Layer{Name: "names"}
	size := math.Min(math.Min(8, t.stepY*k*0.5), t.stepX*k*0.35)
	for c := range t.across {
		for r := range t.down {
			b := Box{room.X + float64(c)*t.stepX*k, room.Y + float64(r)*t.stepY*k, t.inner.W * k, t.inner.H * k}
			if !used[[2]int{c, r}] {
				grid.Marks = append(grid.Marks, &Rect{Style: Style{Stroke: Faint, Width: thin, Fill: Shade}, Box: b})
				continue
			}
			grid.Marks = append(grid.Marks, &Rect{Style: hair(Soft), Box: b})
			if size >= small {
				name := &Text{Ink: Line, At: Pt{b.X + t.stepX*k/2, b.Y + t.stepY*k/2 + capital*size/2}, Anchor: Middle, Size: size, Face: Bold, S: tileName(c, r)}
				names.Marks = append(names.Marks, &Rect{Style: solid(Paper), Box: name.Bounds().Grown(0.3)}, name)
			}
		}
	}
	if size < small { // too many: rows and columns alone are named
		for c := range t.across {
			if c%5 == 0 {
				s := tileName(c, 0)
				names.Marks = append(names.Marks, word(Pt{room.X + float64(c)*t.stepX*k, room.Y - 1}, Start, Line, s[:len(s)-1]))
			}
		}
		for r := range t.down {
			if r%5 == 0 {
				names.Marks = append(names.Marks, word(Pt{room.X - 1, room.Y + float64(r)*t.stepY*k + 2}, End, Line, fmt.Sprint(r+1)))
			}
		}
	}
	for _, l := range t.s.Layers {
		for _, m := range l.Marks {
			switch m := m.(type) {
			case *Rect:
				if m.Part == "surface" {
					pic.Marks = append(pic.Marks, &Rect{Style: edge, Box: Box{room.X + m.X*k, room.Y + m.Y*k, m.W * k, m.H * k}})
				}
			case *Path:
				q := &Path{Style: Style{Stroke: Plus, Width: thick}, From: Pt{room.X + m.From.X*k, room.Y + m.From.Y*k}}
				to := func(p Pt) Pt { return Pt{room.X + p.X*k, room.Y + p.Y*k} }
				for _, s := range m.Steps {
					q.Steps = append(q.Steps, Step{to(s.To), s.Curved, to(s.C1), to(s.C2)})
				}
				pic.Marks = append(pic.Marks, q)
			}
		}
	}
	head := Layer{Name: "legend", Marks: []Mark{&Text{Ink: Line, At: Pt{t.inner.X, t.inner.Y + 4}, Size: large, Face: Bold, S: shortened(Bold, large, t.inner.W, t.s.Title+": "+say("tiles", "n", strconv.Itoa(n)))}}}
	for i, s := range append(wrapped(Regular, small, t.inner.W, say("print")), wrapped(Regular, small, t.inner.W, say("register"))...) {
		head.Marks = append(head.Marks, word(Pt{t.inner.X, t.inner.Y + 9 + leading*float64(i)}, Start, Line, s))
	}
	at := Pt{t.inner.X + 5, t.inner.Y + 21}
	for _, k := range []struct {
		marks func(at Pt) []Mark
		text  string
	}{
		{func(at Pt) []Mark { return []Mark{hole(Meta{}, at)} }, say("hole")},
		{func(at Pt) []Mark {
			return []Mark{line(hair(Line), at, at.plus(0, -2.5), at.plus(0, 2.5)), line(fat(Line), at, at.plus(4, 0))}
		}, say("cut")},
		{func(at Pt) []Mark { return []Mark{line(fat(Line), at.plus(-4, 0), at.plus(4, 0))} }, say("centre")},
		{func(at Pt) []Mark { return []Mark{line(edge, at.plus(-4, 0), at.plus(8, 0))} }, say("edge")},
	} {
		if k.text == say("edge") && t.s.Of == "" {
			continue
		}
		marks := k.marks(at)
		text := boundsOf(marks)
		head.Marks = append(append(head.Marks, marks...), word(Pt{text.X + text.W + 2, at.Y + 0.8}, Start, Line, k.text))
		at.X = text.X + text.W + 2 + TextWidth(Regular, small, k.text) + 9
	}
	out.Layers = []Layer{grid, pic, names, head}
	return out
}

func millimetres(mm float64) string { return quantity.Number(mm, 6) + " mm" }
