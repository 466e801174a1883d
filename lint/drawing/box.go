package drawing

import (
	"math"
	"slices"
)

// nowhere is the empty box: together with any other it is that other.
var nowhere = Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

// BoxOf is the least box around some places.
func BoxOf(at ...Pt) Box {
	b := nowhere
	for _, p := range at {
		b = b.with(Box{X: p.X, Y: p.Y})
	}
	return b
}

func (b Box) with(o Box) Box {
	switch {
	case b.W < 0:
		return o
	case o.W < 0:
		return b
	}
	x, y := math.Min(b.X, o.X), math.Min(b.Y, o.Y)
	return Box{x, y, math.Max(b.X+b.W, o.X+o.W) - x, math.Max(b.Y+b.H, o.Y+o.H) - y}
}

// Grown is the box with a margin around it, or less where that is negative.
func (b Box) Grown(by float64) Box { return Box{b.X - by, b.Y - by, b.W + 2*by, b.H + 2*by} }

// Meets reports whether two boxes have more than an edge in common.
func (b Box) Meets(o Box) bool {
	return b.X < o.X+o.W && o.X < b.X+b.W && b.Y < o.Y+o.H && o.Y < b.Y+b.H
}

// Holds reports whether the box has all of another in it.
func (b Box) Holds(o Box) bool {
	return b.X <= o.X && b.Y <= o.Y && o.X+o.W <= b.X+b.W && o.Y+o.H <= b.Y+b.H
}

// Bounds is the least box around the scene's marks, clips left aside.
func (s *Scene) Bounds() Box {
	b := nowhere
	for _, l := range s.Layers {
		b = b.with(boundsOf(l.Marks))
	}
	return b
}

func boundsOf(marks []Mark) Box {
	b := nowhere
	for _, m := range marks {
		b = b.with(m.Bounds())
	}
	return b
}

// Bounds of a path is that of its places and control points, between which it lies, and half its stroke.
func (p *Path) Bounds() Box {
	b := BoxOf(p.From)
	for _, s := range p.Steps {
		if s.Curved {
			b = b.with(BoxOf(s.C1, s.C2))
		}
		b = b.with(BoxOf(s.To))
	}
	return b.Grown(p.Width / 2)
}

// Bounds is the least box around the circle and its stroke.
func (c *Circle) Bounds() Box {
	r := c.R + c.Width/2
	return Box{c.At.X - r, c.At.Y - r, 2 * r, 2 * r}
}

// Bounds is the rectangle with its stroke.
func (r *Rect) Bounds() Box { return r.Box.Grown(r.Width / 2) }

// Bounds is the least box around the group's marks.
func (g *Group) Bounds() Box { return boundsOf(g.Marks) }

// Bounds is the least box around the line of text, from the top of its capitals' accents to its descenders.
func (t *Text) Bounds() Box {
	c := t.corners()
	return BoxOf(c[:]...)
}

// corners of the line of text, turned.
func (t *Text) corners() [4]Pt {
	w := TextWidth(t.Face, t.Size, t.S)
	x := -w * float64(t.Anchor) / 2
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	at := func(x, y float64) Pt { return Pt{t.At.X + x*cos - y*sin, t.At.Y + x*sin + y*cos} }
	up, down := -ascent*t.Size, descent*t.Size
	return [4]Pt{at(x, up), at(x+w, up), at(x+w, down), at(x, down)}
}

func (p Pt) plus(dx, dy float64) Pt { return Pt{p.X + dx, p.Y + dy} }

func (p *Path) moved(dx, dy float64) Mark {
	q := *p
	q.From = p.From.plus(dx, dy)
	q.Steps = make([]Step, len(p.Steps))
	for i, s := range p.Steps {
		q.Steps[i] = Step{s.To.plus(dx, dy), s.Curved, s.C1.plus(dx, dy), s.C2.plus(dx, dy)}
	}
	return &q
}

func (c *Circle) moved(dx, dy float64) Mark {
	d := *c
	d.At = c.At.plus(dx, dy)
	return &d
}

func (r *Rect) moved(dx, dy float64) Mark {
	q := *r
	q.X, q.Y = r.X+dx, r.Y+dy
	return &q
}

func (t *Text) moved(dx, dy float64) Mark {
	u := *t
	u.At = t.At.plus(dx, dy)
	return &u
}

func (g *Group) moved(dx, dy float64) Mark {
	h := *g
	h.Marks = make([]Mark, len(g.Marks))
	for i, m := range g.Marks {
		h.Marks[i] = m.moved(dx, dy)
	}
	return &h
}

// Only is a scene with some of the layers of s, cut to what they show.
func (s *Scene) Only(layers ...string) *Scene {
	out := *s
	out.Layers = nil
	for _, l := range s.Layers {
		if slices.Contains(layers, l.Name) {
			out.Layers = append(out.Layers, l)
		}
	}
	b := out.Bounds()
	out.Width, out.Height = math.Max(b.W, 0), math.Max(b.H, 0)
	out.Map.X, out.Map.Y = s.Map.X-b.X, s.Map.Y-b.Y
	for i, l := range out.Layers {
		marks := make([]Mark, len(l.Marks))
		for j, m := range l.Marks {
			marks[j] = m.moved(-b.X, -b.Y)
		}
		out.Layers[i].Marks = marks
		if c := l.Clip; c != nil {
			out.Layers[i].Clip = &Box{c.X - b.X, c.Y - b.Y, c.W, c.H}
		}
	}
	return &out
}

// OnPaper is the scene on a white ground of its own, for viewers whose ground may be dark.
func (s *Scene) OnPaper() *Scene {
	out := *s
	ground := &Rect{Style: solid(Paper), Box: Box{-4, -4, s.Width + 8, s.Height + 8}}
	out.Width, out.Height = s.Width+8, s.Height+8
	out.Map.X, out.Map.Y = s.Map.X+4, s.Map.Y+4
	out.Layers = append([]Layer{{Name: "paper", Marks: []Mark{ground}}}, s.Layers...)
	for i, l := range out.Layers {
		marks := make([]Mark, len(l.Marks))
		for j, m := range l.Marks {
			marks[j] = m.moved(4, 4)
		}
		out.Layers[i].Marks = marks
		if c := l.Clip; c != nil {
			out.Layers[i].Clip = &Box{c.X + 4, c.Y + 4, c.W, c.H}
		}
	}
	return &out
}
