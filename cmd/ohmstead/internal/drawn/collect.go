package drawn

import (
	"math"
	"math/cmplx"
	"slices"

	"ohmstead/calc/path"
)

// Keepout is an upright rectangle of the surface that must stay free.
type Keepout struct {
	Name     string
	From, To complex128 // lower left and upper right corner, m
}

// shape collects the contours of an element that draws.
func (w *walker) shape(n *node, s state) *Error {
	if s.fill == "none" && (s.stroke == "none" || s.stroke == "") {
		w.note(n.line, "hidden", "%s has neither stroke nor fill: nobody sees it, and it is left out", w.describe(n))
		return nil
	}
	z := &sizer{sheet: &w.sheet, n: n, w: s.w, h: s.h}
	var all []contour
	var broken error
	switch n.name {
	case "path":
		all, broken = pathData(w.sheet.value(n, "d"))
	case "polyline", "polygon":
		all, broken = points(n.attrs["points"], n.name == "polygon")
	case "line":
		all = z.line()
	case "circle":
		all = z.circle()
	case "ellipse":
		all = z.ellipse()
	case "rect":
		all = z.rect()
	}
	if z.bad != "" {
		w.bad(n, z.bad)
		return nil
	}
	if broken != nil {
		w.note(n.line, "broken", "%s %v; what stands before that is taken", w.describe(n), broken)
	}
	all = slices.DeleteFunc(all, func(c contour) bool { return len(c.pieces) == 0 })
	outline := (n.name == "path" || n.name == "polygon") && s.fill != "none" && (s.stroke == "" || s.stroke == "none")
	for _, c := range all {
		outline = outline && c.closed
	}
	var shapes []found
	for _, c := range all {
		if w.pieces += len(c.pieces); w.pieces > maxDrawn {
			return refuse(n.line, "by here it draws more than %d lines and curves; simplify the drawing", maxDrawn)
		}
		shape, err := flatten(c, s.to, w.unit)
		if err != nil {
			w.note(n.line, err.Error(), "%s %v", w.describe(n), err)
			continue
		}
		shape.Line = n.line
		shapes = append(shapes, found{Shape: shape, of: n, group: s.group, own: s.name, again: s.name != ""})
	}
	if len(shapes) == 0 {
		if len(all) == 0 {
			w.note(n.line, "empty", "%s draws nothing", w.describe(n))
		}
		return nil
	}
	for i := range shapes {
		shapes[i].parts = len(shapes)
		if shapes[i].own == "" {
			shapes[i].own = ownName(n)
		}
	}
	switch {
	case w.mine:
		w.takeBack(n, shapes)
	case s.keepout:
		w.keep = append(w.keep, shapes...)
	case outline && len(shapes) == 1 && w.fills(&shapes[0].Shape), n.name == "rect" && (s.stroke == "" || s.stroke == "none") && w.fills(&shapes[0].Shape):
		w.note(n.line, "background", "%s fills the whole page: it is taken for the background, and left out", w.describe(n))
	default:
		if outline {
			w.note(n.line, "outline", "%s is filled and has no stroke: the runs follow its outline, once around each letter or line; draw the line along its middle instead if that is where the strip goes", w.describe(n))
		}
		w.found = append(w.found, shapes...)
	}
	return nil
}

// fills reports whether a shape covers the page: a rectangle about as large.
func (w *walker) fills(s *Shape) bool {
	if w.paper.empty() || !s.upright() {
		return false
	}
	e := s.extent()
	slack := 0.01 * cmplx.Abs(w.paper.hi)
	return real(e.lo) < slack && imag(e.lo) < slack && real(e.hi) > real(w.paper.hi)-slack && imag(e.hi) > imag(w.paper.hi)-slack
}

// extent is the least rectangle around the shape.
func (s *Shape) extent() extent {
	p, err := s.Path()
	if err != nil {
		return extent{s.Start, s.Start}
	}
	b := p.Bounds()
	return extent{complex(b.MinX, b.MinY), complex(b.MaxX, b.MaxY)}
}

// upright reports whether the shape is a rectangle along the axes.
func (s *Shape) upright() bool {
	if len(s.Steps) != 4 || !s.lines() || s.Steps[3].To != s.Start {
		return false
	}
	now, level := s.Start, real(s.Steps[0].To) != real(s.Start)
	for _, t := range s.Steps {
		delta := t.To - now
		if level && imag(delta) != 0 || !level && real(delta) != 0 {
			return false
		}
		now, level = t.To, !level
	}
	return true
}

// drawing puts together what was found: on the page, or on all that is drawn
// where that reaches further.
func (w *walker) drawing() (*Drawing, *Error) {
	all := w.paper
	for _, list := range [][]found{w.found, w.keep} {
		for i := range list {
			e := list[i].extent()
			if all.empty() {
				all = e
			}
			all.lo = complex(min(real(all.lo), real(e.lo)), min(imag(all.lo), imag(e.lo)))
			all.hi = complex(max(real(all.hi), real(e.hi)), max(imag(all.hi), imag(e.hi)))
		}
	}
	// By whole units, so that no place gets more digits, and up by what is written.
	down := func(x float64) float64 { return w.unit.round(math.Floor(x/w.unit.size+1e-6) * w.unit.size) }
	up := func(x float64) float64 { return w.unit.round(math.Ceil(x/w.unit.step()-1e-6) * w.unit.step()) }
	lo := all.lo
	if all != w.paper {
		lo = complex(down(real(lo)), down(imag(lo)))
	}
	d := &Drawing{unit: w.unit, Width: up(real(all.hi - lo)), Height: up(imag(all.hi - lo))}
	if d.Width > path.MaxSize || d.Height > path.MaxSize {
		return nil, refuse(0, "it is %.4g m by %.4g m large; at most %g m are built. Look whether the scale is right", d.Width, d.Height, path.MaxSize)
	}
	switch {
	case w.paper.empty() || all == w.paper:
	case lo == w.paper.lo:
		w.note(0, "page", "what is drawn reaches beyond the page, so the surface is larger than that")
	default:
		w.note(0, "page", "what is drawn reaches beyond the page, so the surface is larger than that: its lower left corner lies %s %s left of the page's and %s %s below it",
			w.unit.number(-real(lo)), w.unit.symbol, w.unit.number(-imag(lo)), w.unit.symbol)
	}
	names := namer{taken: map[string]bool{}, w: w}
	for i, name := range names.names(w.found, "run") {
		s := w.found[i].Shape
		s.Name = name
		s.moved(-lo)
		d.Shapes = append(d.Shapes, s)
	}
	names.taken = map[string]bool{}
	for i, name := range names.names(w.keep, "keepout") {
		k := w.keep[i]
		if !k.upright() {
			w.note(k.Line, "keepout", "%s is no upright rectangle: the keepout is the rectangle around it", w.describe(k.of))
		}
		e := k.extent()
		d.Keepouts = append(d.Keepouts, Keepout{name, w.unit.snap(e.lo - lo), w.unit.snap(e.hi - lo)})
	}
	d.Notes = w.sorted()
	return d, nil
}
