package drawn

import "math"

// sizer reads the lengths of elements within a viewport, whose size in px "%"
// refers to.
type sizer struct {
	sheet *sheet
	n     *node
	w, h  float64
	bad   string // the first property that is no length
}

// of is a length of the element, 0 where it says none.
func (z *sizer) of(property string) float64 {
	x, _ := z.given(property)
	return x
}

// given is a length of the element, and whether it says one.
func (z *sizer) given(property string) (float64, bool) {
	text := z.sheet.value(z.n, property)
	if text == "" || text == "auto" {
		return 0, false
	}
	whole := math.Sqrt((z.w*z.w + z.h*z.h) / 2)
	switch property {
	case "x", "cx", "x1", "x2", "width", "rx":
		whole = z.w
	case "y", "cy", "y1", "y2", "height", "ry":
		whole = z.h
	}
	px, _, ok := length(text, whole)
	if !ok && z.bad == "" {
		z.bad = property
	}
	return px, ok
}

// line is the element <line>.
func (z *sizer) line() []contour {
	return []contour{{start: complex(z.of("x1"), z.of("y1")), pieces: []piece{line(complex(z.of("x2"), z.of("y2")))}}}
}

// circle and ellipse start at the right and go round clockwise.
// Source of these and of rect: W3C, SVG 2, chapter 10.
func (z *sizer) circle() []contour {
	r := z.of("r")
	return z.oval(r, r)
}

func (z *sizer) ellipse() []contour { return z.oval(z.radii()) }

func (z *sizer) oval(rx, ry float64) []contour {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	p := round(complex(z.of("cx"), z.of("cy")), rx, ry, 0, 2*math.Pi)
	return []contour{{start: p.at(0), pieces: []piece{p}, closed: true}}
}

// radii are rx and ry; one that is not given is like the other.
func (z *sizer) radii() (rx, ry float64) {
	rx, hasX := z.given("rx")
	ry, hasY := z.given("ry")
	switch {
	case !hasX:
		rx = ry
	case !hasY:
		ry = rx
	}
	return rx, ry
}

func (z *sizer) rect() []contour {
	x, y, w, h := z.of("x"), z.of("y"), z.of("width"), z.of("height")
	if !(w > 0 && h > 0) {
		return nil
	}
	rx, ry := z.radii()
	rx, ry = min(max(rx, 0), w/2), min(max(ry, 0), h/2)
	if rx == 0 || ry == 0 {
		rx, ry = 0, 0
	}
	c := contour{start: complex(x+rx, y), closed: true}
	// Its sides in turn, each to the corner behind it.
	for i, corner := range []complex128{complex(x+w-rx, y+ry), complex(x+w-rx, y+h-ry), complex(x+rx, y+h-ry), complex(x+rx, y+ry)} {
		from := float64(i-1) * math.Pi / 2
		arc := round(corner, rx, ry, from, math.Pi/2)
		c.pieces = append(c.pieces, line(arc.at(0)))
		if rx > 0 {
			c.pieces = append(c.pieces, arc)
		}
	}
	return []contour{c}
}
