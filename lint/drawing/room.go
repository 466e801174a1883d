package drawing

import "math"

// room keeps what is taken on a drawing, so that labels find free places. It is
// a grid of cells, each with the boxes that reach into it.
type room struct {
	area  Box
	cells map[[2]int][]Box
	left  int // labels that found no place
}

const cell = 8.0 // mm

func newRoom(area Box) *room { return &room{area: area, cells: map[[2]int][]Box{}} }

func (r *room) each(b Box, visit func(key [2]int) bool) {
	for x := int(math.Floor(b.X / cell)); x <= int(math.Floor((b.X+b.W)/cell)); x++ {
		for y := int(math.Floor(b.Y / cell)); y <= int(math.Floor((b.Y+b.H)/cell)); y++ {
			if !visit([2]int{x, y}) {
				return
			}
		}
	}
}

func (r *room) take(b Box) {
	r.each(b, func(key [2]int) bool {
		r.cells[key] = append(r.cells[key], b)
		return true
	})
}

// free reports whether nothing is taken in a box.
func (r *room) free(b Box) bool {
	free := r.area.Holds(b)
	if !free {
		return false
	}
	r.each(b, func(key [2]int) bool {
		for _, o := range r.cells[key] {
			if o.Meets(b) {
				free = false
			}
		}
		return free
	})
	return free
}

// takePath takes a line with half its width on either side, in short boxes.
func (r *room) takePath(p *Path, half float64) {
	for _, s := range flat(p) {
		a, b := s[0], s[1]
		n := 1.0
		if a.X != b.X && a.Y != b.Y {
			n = math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y) / 1)
		}
		for i := range int(n) {
			t, u := float64(i)/n, float64(i+1)/n
			r.take(BoxOf(Pt{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)}, Pt{a.X + u*(b.X-a.X), a.Y + u*(b.Y-a.Y)}).Grown(half))
		}
	}
}

// flat gives a path's straight pieces, its curves in eight each.
func flat(p *Path) [][2]Pt {
	var out [][2]Pt
	at := p.From
	to := func(q Pt) {
		out = append(out, [2]Pt{at, q})
		at = q
	}
	for _, s := range p.Steps {
		if s.Curved {
			from := at
			for i := 1; i < 8; i++ {
				to(bezier(from, s, float64(i)/8))
			}
		}
		to(s.To)
	}
	if p.Closed {
		to(p.From)
	}
	return out
}

func bezier(from Pt, s Step, t float64) Pt {
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Pt{a*from.X + b*s.C1.X + c*s.C2.X + d*s.To.X, a*from.Y + b*s.C1.Y + c*s.C2.Y + d*s.To.Y}
}

// spot is a place for a label: an anchor and its place, and how it is turned.
type spot struct {
	at     Pt
	anchor Anchor
	turn   float64
}

// put writes a label at the first of some places that is free, on a ground of
// its own, and takes it. Without one it is counted as left out.
func (r *room) put(l *Layer, t *Text, at ...spot) bool {
	for _, s := range at {
		t.At, t.Anchor, t.Turn = s.at, s.anchor, s.turn
		b := t.Bounds().Grown(0.15)
		if r.free(b) {
			r.take(b)
			l.Marks = append(l.Marks, &Rect{Style: solid(Paper), Box: b}, t)
			return true
		}
	}
	r.left++
	return false
}

// around lists places for a label beside something of a half width and height,
// the nearest first.
func around(p Pt, w, h float64) []spot {
	var out []spot
	for k := range 6 {
		d := 0.6 + float64(k)*1.6
		up, down := -h-d-descent*small, h+d+ascent*small
		mid := (ascent - descent) / 2 * small
		out = append(out,
			spot{p.plus(w+d, mid), Start, 0}, spot{p.plus(-w-d, mid), End, 0},
			spot{p.plus(0, up), Middle, 0}, spot{p.plus(0, down), Middle, 0},
			spot{p.plus(w, up), Start, 0}, spot{p.plus(w, down), Start, 0},
			spot{p.plus(-w, up), End, 0}, spot{p.plus(-w, down), End, 0})
	}
	return out
}

// beside lists places for a label along a line through p with a heading
// (degrees clockwise on paper), on either side of it at a distance; step counts up
// from nearest to farther.
func beside(p Pt, heading, off float64, step int) []spot {
	d := off + 0.25 + float64(step)*1.5
	if s := math.Abs(math.Sin(heading * math.Pi / 180)); s > 0.9 { // reads upwards
		return []spot{{p.plus(-d-descent*small, 0), Middle, -90}, {p.plus(d+ascent*small, 0), Middle, -90}}
	}
	return []spot{{p.plus(0, -d-descent*small), Middle, 0}, {p.plus(0, d+ascent*small), Middle, 0}}
}
