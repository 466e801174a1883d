package compare

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Placing is a thing that hangs elsewhere now, or a run that is drawn the other way.
type Placing struct {
	ID      string  `json:"id"`
	Family  string  `json:"family"`
	Surface string  `json:"surface"`
	By      float64 `json:"by"` // m, the farthest that any point of it moved
	Right   float64 `json:"right"`
	Up      float64 `json:"up"`     // m, where all of it moved alike
	Turned  bool    `json:"turned"` // its first pixel is where its last one was
	// The line of a run before and after, or one point of another thing, m.
	Was [][2]float64 `json:"was"`
	Is  [][2]float64 `json:"is"`
}

// leastPlacing is the least way that is told, m: nobody marks a wall finer than that.
const leastPlacing = 0.0005

// places lists what moved on the wall, in the order of the text.
func (m *matching) places() []Placing {
	out := []Placing{}
	before := map[string]*figures.Run{}
	for _, r := range m.base.Figures.Runs {
		before[m.rename(r.ID())] = r
	}
	for _, r := range m.head.Figures.Runs {
		b := before[r.ID()]
		if b == nil || b.Path == nil || r.Path == nil {
			continue
		}
		p := Placing{ID: r.ID(), Surface: surfaceOf(r.On), Was: along24(b), Is: along24(r), Turned: m.turned(b, r)}
		x, y := p.Was, p.Is
		if p.Turned {
			x = reversed(x)
		}
		if math.Abs(b.Length-r.Length) > r.Pitch/2 {
			x, y = x[:1], y[:1] // longer or shorter, which is told: where it begins
		}
		p.measure(x, y)
		if surfaceOf(b.On) != p.Surface {
			continue // told as a changed attribute: two walls have no distance
		}
		if p.By > leastPlacing || p.Turned {
			out = append(out, p)
		}
	}
	put := func(b, h schema.Block) {
		was, on, ok := placeOf(b)
		is, now, ok2 := placeOf(h)
		if !ok || !ok2 || on != now {
			return
		}
		p := Placing{ID: schema.HeaderOf(h).ID(), Surface: now, Was: [][2]float64{was}, Is: [][2]float64{is}}
		if p.measure(p.Was, p.Is); p.By > leastPlacing {
			out = append(out, p)
		}
	}
	for _, p := range m.pairs {
		for i := range min(len(p.base.blocks), len(p.head.blocks)) {
			put(p.base.blocks[i], p.head.blocks[i])
		}
	}
	for i := range out {
		out[i].Family, _ = m.head.group(out[i].ID)
	}
	return out
}

func placeOf(b schema.Block) (at [2]float64, on string, ok bool) {
	var xy schema.Value[schema.XY]
	var s schema.Value[*schema.Surface]
	switch b := b.(type) {
	case *schema.Supply:
		xy, s = b.Place, b.On
	case *schema.Controller:
		xy, s = b.Place, b.On
	case *schema.Joint:
		xy, s = b.Place, b.On
	default:
		return at, "", false
	}
	return [2]float64{xy.V.X, xy.V.Y}, surfaceOf(s), xy.Known()
}

func surfaceOf(v schema.Value[*schema.Surface]) string {
	if v.V == nil {
		return ""
	}
	return v.V.ID()
}

// measure works out how far points moved.
func (p *Placing) measure(was, is [][2]float64) {
	alike := true
	dx, dy := is[0][0]-was[0][0], is[0][1]-was[0][1]
	for i := range min(len(was), len(is)) {
		x, y := is[i][0]-was[i][0], is[i][1]-was[i][1]
		p.By = math.Max(p.By, math.Hypot(x, y))
		alike = alike && math.Hypot(x-dx, y-dy) < leastPlacing
	}
	if alike && p.By > leastPlacing {
		p.Right, p.Up = dx, dy
	}
}

// turned reports whether a run is drawn from its other end: turned round, it
// lies where it lay far better than as it is.
func (m *matching) turned(b, h *figures.Run) bool {
	if b.Path == nil || h.Path == nil || surfaceOf(b.On) != surfaceOf(h.On) || math.Abs(b.Length-h.Length) > h.Pitch {
		return false
	}
	was, is := along24(b), along24(h)
	straight, round := 0.0, 0.0
	for i := range was {
		straight = math.Max(straight, apart(was[i], is[i]))
		round = math.Max(round, apart(was[len(was)-1-i], is[i]))
	}
	return straight > 2*h.Pitch && round < straight/3
}

func apart(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// along24 is a run's line as 24 points, evenly along it.
func along24(r *figures.Run) [][2]float64 {
	const n = 24
	out := make([][2]float64, n)
	for i := range out {
		x, y, _ := r.Path.At(r.Length * float64(i) / (n - 1))
		out[i] = [2]float64{x, y}
	}
	return out
}

func reversed(in [][2]float64) [][2]float64 {
	out := make([][2]float64, len(in))
	for i, x := range in {
		out[len(in)-1-i] = x
	}
	return out
}

// moved tells what hangs elsewhere and which way the light runs, copies together.
func (p *Plan) moved() []string { return p.movedOf("") }

// movedOf does so for one block as written, "" for all of them.
func (p *Plan) movedOf(id string) []string {
	type family struct {
		ids          []string
		least, most  float64
		right, up    float64
		alike, round bool
	}
	at := map[string]*family{}
	var order []string
	for _, x := range p.Places {
		if id != "" && x.Family != id {
			continue
		}
		key := fmt.Sprint(x.Family, x.Turned)
		f := at[key]
		if f == nil {
			f = &family{least: x.By, most: x.By, right: x.Right, up: x.Up, alike: true, round: x.Turned}
			at[key] = f
			order = append(order, key)
		}
		f.ids = append(f.ids, x.ID)
		f.least, f.most = math.Min(f.least, x.By), math.Max(f.most, x.By)
		f.alike = f.alike && math.Hypot(x.Right-f.right, x.Up-f.up) < leastPlacing
		if (x.Right > leastPlacing) != (f.right > leastPlacing) || (x.Right < -leastPlacing) != (f.right < -leastPlacing) {
			f.right = 0
		}
		if (x.Up > leastPlacing) != (f.up > leastPlacing) || (x.Up < -leastPlacing) != (f.up < -leastPlacing) {
			f.up = 0
		}
	}
	var out []string
	for _, key := range order {
		f := at[key]
		who := fromTo(f.ids)
		if f.round {
			verb := "is drawn from its other end"
			if len(f.ids) > 1 {
				verb = "are drawn from their other ends"
			}
			out = append(out, fmt.Sprintf("%s %s: pixel 0 is where the last one was, and the light runs the other way", who, verb))
			if f.most <= leastPlacing {
				continue
			}
		}
		verb := "moves"
		if len(f.ids) > 1 {
			verb = "move"
		}
		out = append(out, fmt.Sprintf("%s %s by %s%s", who, verb, distances(f.least, f.most), direction(f.right, f.up)))
	}
	return out
}

func distances(least, most float64) string {
	a, b := quantity.Show(quantity.Length, least), quantity.Show(quantity.Length, most)
	if a == b {
		return b
	}
	return a + " to " + b
}

func direction(right, up float64) string {
	var parts []string
	switch {
	case right > leastPlacing:
		parts = append(parts, "to the right")
	case right < -leastPlacing:
		parts = append(parts, "to the left")
	}
	switch {
	case up > leastPlacing:
		parts = append(parts, "up")
	case up < -leastPlacing:
		parts = append(parts, "down")
	}
	if len(parts) == 0 {
		return ""
	}
	return ", " + strings.Join(parts, " and ")
}

// fromTo names blocks in short: copies by the first and the last.
func fromTo(ids []string) string {
	if len(ids) < 3 {
		return strings.Join(ids, " and ")
	}
	first, last := ids[0], ids[len(ids)-1]
	if i, k := strings.LastIndexByte(first, '-'), strings.LastIndexByte(last, '-'); i > 0 && k > 0 && first[:i] == last[:k] {
		return fmt.Sprintf("%s to %s", first, last)
	}
	return fmt.Sprintf("%s, %s and %d more", ids[0], ids[1], len(ids)-2)
}

func (p *Plan) placeTable() table {
	t := table{title: "Places, from the lower left corner", head: []string{"what", "before", "after", "moved by"}, right: []bool{false, false, false, true}}
	show := func(pts [][2]float64) string {
		at := func(p [2]float64) string {
			return "[" + quantity.Show(quantity.Length, p[0]) + ", " + quantity.Show(quantity.Length, p[1]) + "]"
		}
		if len(pts) == 1 {
			return at(pts[0])
		}
		return at(pts[0]) + " … " + at(pts[len(pts)-1])
	}
	for _, x := range p.Places {
		by := quantity.Show(quantity.Length, x.By)
		if x.Turned {
			by = "turned round"
		}
		t.add(x.ID, show(x.Was), show(x.Is), by)
	}
	return t
}
