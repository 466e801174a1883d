package drawing

import (
	"math"

	"ohmstead/calc/path"
	"ohmstead/lint/figures"
)

// Compared shows the places at which runs, supplies, controllers or joints hang
// elsewhere after a change: what is new or moved in full, what stays paler, and
// what was there before in broken lines over it. Where nothing moved there is no picture.
func Compared(before, after *figures.Figures, fr Frame) []*Scene {
	was := map[string]Place{}
	for _, p := range Places(before) {
		was[p.key()] = p
	}
	var out []*Scene
	for _, p := range Places(after) {
		c := compared{elevation: newElevationOver(after, p, was[p.key()], fr), old: was[p.key()].layout()}
		if s := c.draw(before); s != nil {
			out = append(out, s)
		}
	}
	return out
}

// newElevationOver is one with room for what was there before.
func newElevationOver(f *figures.Figures, p, was Place, fr Frame) *elevation {
	l := p.layout()
	if old := was.layout(); len(was.Runs) > 0 {
		if len(p.Runs) == 0 && p.Surface == nil {
			l.bounds = old.bounds
		}
		l.bounds = unite(l.bounds, old.bounds)
	}
	return newElevation(f, l, fr)
}

type compared struct {
	*elevation
	old *layout
}

// ghost is how what was there before is drawn.
func (c *compared) ghost() Style {
	return Style{Stroke: Danger, Width: 0.4 * math.Max(c.dense, 0.5), Dash: []float64{1.6, 1}}
}

func (c *compared) draw(before *figures.Figures) *Scene {
	old := map[string]int{} // runs of before that are not found again
	for i, r := range c.old.Runs {
		old[r.ID()] = i
	}
	stays := func(i int) bool { // also under another name
		r := c.l.Runs[i]
		for _, o := range c.old.Runs {
			if j, ok := old[o.ID()]; ok && alike(c.l.paths[i], c.old.paths[j]) && r.DataEnters.V == o.DataEnters.V {
				delete(old, o.ID())
				return true
			}
		}
		return false
	}
	changed := false
	var moved []int // runs of c.l
	for i, r := range c.l.Runs {
		w := c.band()
		whole := trace(Style{Stroke: Line, Width: w + 2*thin*c.dense}, c.m, c.l.paths[i], 0, drawnLength(r))
		light := *whole
		light.Style = Style{Stroke: Glow, Width: w}
		if stays(i) {
			whole.Stroke, light.Stroke = Soft, Shade
		} else {
			moved = append(moved, i)
			changed = true
		}
		g := &Group{Meta: Meta{Of: r.ID(), Part: "run", Tip: c.tip(r)}, Marks: append([]Mark{whole, &light}, c.arrows(r, c.l.paths[i], drawnLength(r))...)}
		c.runs.Marks = append(c.runs.Marks, g)
		c.room.takePath(whole, w/2+thin)
	}
	for i, r := range c.old.Runs {
		if _, ok := old[r.ID()]; !ok {
			continue
		}
		changed = true
		p := trace(c.ghost(), c.m, c.old.paths[i], 0, drawnLength(r))
		p.Meta = Meta{Of: r.ID(), Part: "before", Tip: r.ID() + ", " + say("before")}
		c.marks.Marks = append(c.marks.Marks, p)
		c.room.takePath(p, thin)
	}
	if c.things(before) {
		changed = true
	}
	if !changed {
		return nil
	}
	for _, i := range moved {
		c.alongRun(i, []string{brief(c.l.Runs[i].Name)})
	}
	c.devicesNamed()
	for _, k := range []struct {
		text          string
		outside, band Ink
	}{{say("same"), Soft, Shade}, {say("now"), Line, Glow}} {
		c.lg.add(k.text, func(at Pt) []Mark {
			return []Mark{line(Style{Stroke: k.outside, Width: 1.8}, at.plus(-3, 0), at.plus(3, 0)), line(Style{Stroke: k.band, Width: 1.4}, at.plus(-3, 0), at.plus(3, 0))}
		})
	}
	c.lg.add(say("before"), func(at Pt) []Mark { return []Mark{line(c.ghost(), at.plus(-3, 0), at.plus(3, 0))} })
	return c.scene("changed-", say("changed", "name", c.l.name(c.f)))
}

// things draws supplies, controllers and joints, with a broken line from where one was before; it
// reports whether any came, went or moved.
func (c *compared) things(before *figures.Figures) bool {
	c.devices()
	now := map[string]device{}
	for _, d := range c.placed() {
		now[id(d.block)] = d
	}
	then := (&elevation{f: before, l: c.old}).placed()
	changed := false
	for _, d := range then {
		at := c.m.At(d.x, d.y)
		n, ok := now[id(d.block)]
		delete(now, id(d.block))
		if ok && n.x == d.x && n.y == d.y {
			continue
		}
		changed = true
		ring := &Circle{Meta: Meta{Of: id(d.block), Part: "before", Tip: id(d.block) + ", " + say("before")}, Style: c.ghost(), At: at, R: 2.5}
		c.marks.Marks = append(c.marks.Marks, ring)
		c.room.take(ring.Bounds())
		if ok {
			moved := line(c.ghost(), at, c.m.At(n.x, n.y))
			c.ground.Marks = append(c.ground.Marks, moved)
			c.room.takePath(moved, thin)
		}
	}
	return changed || len(now) > 0
}

// alike reports whether two paths run the same way, to a tenth of a millimetre.
func alike(a, b *path.Path) bool {
	if math.Abs(a.Length()-b.Length()) > 1e-4 {
		return false
	}
	const n = 64
	for i := range n + 1 {
		s := a.Length() * float64(i) / n
		x, y, _ := a.At(s)
		u, v, _ := b.At(s)
		if math.Hypot(x-u, y-v) > 1e-4 {
			return false
		}
	}
	return true
}
