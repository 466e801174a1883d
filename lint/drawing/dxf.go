package drawing

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/path"
	"ohmstead/lint/figures"
)

// DXF is a place for programs that cut and mill, as DXF of release 12: the centre
// lines of its runs (polylines, arcs as bulges; other curves become arcs that stay
// within arcError), the holes of its fixings, and a square of 100 mm, as
// the format has no units. Coordinates are millimetres from the
// surface's lower left corner, y up.
//
// Source: Autodesk, AutoCAD Release 12 Customization Manual, chapter 11 (group
// codes; from memory).
func DXF(f *figures.Figures, p Place) []byte {
	l := p.layout()
	d := &dxf{}
	d.put(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009", 9, "$INSBASE", 10, 0.0, 20, 0.0, 30, 0.0, 0, "ENDSEC")
	d.put(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LAYER", 70, 4)
	for i, name := range []string{"RUNS", "HOLES", "SURFACE", "NOTE"} {
		d.put(0, "LAYER", 2, name, 70, 0, 62, []int{7, 1, 8, 5}[i], 6, "CONTINUOUS")
	}
	d.put(0, "ENDTAB", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	if s := p.Surface; s != nil {
		d.rect("SURFACE", 0, 0, s.Width.V.SI*1000, s.Height.V.SI*1000)
		for _, k := range s.Keepouts {
			if k.From.Known() && k.To.Known() {
				d.rect("SURFACE", k.From.V.X*1000, k.From.V.Y*1000, k.To.V.X*1000, k.To.V.Y*1000)
			}
		}
	}
	for i, r := range l.Runs {
		d.polyline("RUNS", bows(l.paths[i].Strokes(0, r.Length)))
		x, y, _ := l.paths[i].At(0)
		d.text("NOTE", x*1000, y*1000+5, 5, r.Name)
		for _, f := range r.Fixings() {
			x, y, _ := l.paths[i].At(f.At)
			d.put(0, "CIRCLE", 8, "HOLES", 10, x*1000, 20, y*1000, 30, 0.0, 40, 1.5)
		}
	}
	x, y := l.bounds.MinX*1000, l.bounds.MinY*1000-150
	d.rect("NOTE", x, y, x+100, y+100)
	d.text("NOTE", x, y-10, 5, say("square"))
	d.put(0, "ENDSEC", 0, "EOF")
	return d.Bytes()
}

type dxf struct{ bytes.Buffer }

// put writes groups: a code and its value in turn.
func (d *dxf) put(groups ...any) {
	for i := 0; i < len(groups); i += 2 {
		fmt.Fprintf(d, "%3d\n", groups[i])
		if v, ok := groups[i+1].(float64); ok {
			fmt.Fprintf(d, "%.6f\n", v+0) // no -0
		} else {
			fmt.Fprintf(d, "%v\n", groups[i+1])
		}
	}
}

// text writes a line of text; the format has one byte a character.
func (d *dxf) text(layer string, x, y, height float64, s string) {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '?'
		}
		return r
	}, s)
	if len(s) > 250 {
		s = s[:250]
	}
	d.put(0, "TEXT", 8, layer, 10, x, 20, y, 30, 0.0, 40, height, 1, s)
}

func (d *dxf) rect(layer string, x0, y0, x1, y1 float64) {
	d.put(0, "POLYLINE", 8, layer, 66, 1, 10, 0.0, 20, 0.0, 30, 0.0, 70, 1)
	for _, p := range [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} {
		d.put(0, "VERTEX", 8, layer, 10, p[0], 20, p[1], 30, 0.0)
	}
	d.put(0, "SEQEND", 8, layer)
}

// bow is a straight piece or an arc: bulge is the tangent of a quarter of the angle
// that it goes through, positive counter-clockwise.
type bow struct {
	from, to path.Point
	bulge    float64
}

func (d *dxf) polyline(layer string, b []bow) {
	if len(b) == 0 {
		return
	}
	d.put(0, "POLYLINE", 8, layer, 66, 1, 10, 0.0, 20, 0.0, 30, 0.0, 70, 0)
	for i, k := range b {
		d.put(0, "VERTEX", 8, layer, 10, k.from.X*1000, 20, k.from.Y*1000, 30, 0.0, 42, k.bulge)
		if i == len(b)-1 {
			d.put(0, "VERTEX", 8, layer, 10, k.to.X*1000, 20, k.to.Y*1000, 30, 0.0)
		}
	}
	d.put(0, "SEQEND", 8, layer)
}

// arcError is how far an arc may leave the curve that it stands for, m.
const arcError = 0.02e-3

func bows(strokes []path.Stroke) []bow {
	var out []bow
	for _, k := range strokes {
		switch {
		case k.Curve:
			out = append(out, arcs(k, 0)...)
		case k.Sweep == 0:
			out = append(out, bow{k.From, k.To, 0})
		default:
			n := math.Ceil(math.Abs(k.Sweep) / 90)
			from := k.From
			for i := 1.0; i <= n; i++ {
				to := k.To
				if i < n {
					sin, cos := math.Sincos(k.Sweep * i / n * math.Pi / 180)
					x, y := k.From.X-k.Centre.X, k.From.Y-k.Centre.Y
					to = path.Point{X: k.Centre.X + x*cos - y*sin, Y: k.Centre.Y + x*sin + y*cos}
				}
				out = append(out, bow{from, to, math.Tan(k.Sweep / n / 4 * math.Pi / 180)})
				from = to
			}
		}
	}
	return out
}

// arcs cuts a cubic in halves until the arc through the ends and the middle of
// each is near enough to it everywhere.
func arcs(k path.Stroke, depth int) []bow {
	at := func(t float64) path.Point {
		u := 1 - t
		a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		return path.Point{X: a*k.From.X + b*k.C1.X + c*k.C2.X + d*k.To.X, Y: a*k.From.Y + b*k.C1.Y + c*k.C2.Y + d*k.To.Y}
	}
	b := through(k.From, at(0.5), k.To)
	near := true
	for i := 1; i < 16 && near; i++ {
		near = b.off(at(float64(i)/16)) <= arcError
	}
	if near && math.Abs(b.bulge) < 0.4 || depth == 14 {
		return []bow{b}
	}
	half := func(a, b path.Point) path.Point { return path.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2} }
	p, q, r := half(k.From, k.C1), half(k.C1, k.C2), half(k.C2, k.To)
	pq, qr := half(p, q), half(q, r)
	m := half(pq, qr)
	return append(arcs(path.Stroke{From: k.From, To: m, Curve: true, C1: p, C2: pq}, depth+1), arcs(path.Stroke{From: m, To: k.To, Curve: true, C1: qr, C2: r}, depth+1)...)
}

// through is the arc from a to c by way of b. The angle at b in the triangle is
// half of what is left of the circle, so that the bulge is tan((pi - angle)/2).
func through(a, b, c path.Point) bow {
	ux, uy, vx, vy := a.X-b.X, a.Y-b.Y, c.X-b.X, c.Y-b.Y
	cross, dot := ux*vy-uy*vx, ux*vx+uy*vy
	if cross == 0 {
		return bow{a, c, 0}
	}
	angle := math.Atan2(math.Abs(cross), dot)
	return bow{a, c, math.Copysign(math.Tan((math.Pi-angle)/2), -cross)}
}

// off is how far a place lies from the circle or line of a bow, m.
func (b bow) off(p path.Point) float64 {
	x, y := b.to.X-b.from.X, b.to.Y-b.from.Y
	chord := math.Hypot(x, y)
	if chord == 0 {
		return math.Hypot(p.X-b.from.X, p.Y-b.from.Y)
	}
	if math.Abs(b.bulge) < 1e-9 {
		return math.Abs((p.X-b.from.X)*y-(p.Y-b.from.Y)*x) / chord
	}
	// radius = chord (1 + b²) / (4 b); the centre lies (1 - b²)/(4 b) chords to the left of the chord's middle.
	h := (1 - b.bulge*b.bulge) / (4 * b.bulge)
	cx, cy := (b.from.X+b.to.X)/2-y*h, (b.from.Y+b.to.Y)/2+x*h
	return math.Abs(math.Hypot(p.X-cx, p.Y-cy) - chord*(1+b.bulge*b.bulge)/(4*math.Abs(b.bulge)))
}
