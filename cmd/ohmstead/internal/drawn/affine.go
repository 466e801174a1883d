package drawn

import (
	"math"
	"math/cmplx"
	"strings"
)

// affine is the map z' = p z + q conj(z) + r of the plane, whose points are
// complex numbers x + iy. It keeps circles where p or q is 0.
type affine struct{ p, q, r complex128 }

var identity = affine{p: 1}

// matrix is x' = a x + c y + e, y' = b x + d y + f, as SVG writes it.
func matrix(a, b, c, d, e, f float64) affine {
	return affine{complex(a+d, b-c) / 2, complex(a-d, b+c) / 2, complex(e, f)}
}

func (m affine) of(z complex128) complex128 { return m.vector(z) + m.r }

// vector maps the difference of two points.
func (m affine) vector(z complex128) complex128 { return m.p*z + m.q*cmplx.Conj(z) }

// times is the map that does n first.
func (m affine) times(n affine) affine {
	return affine{
		m.p*n.p + m.q*cmplx.Conj(n.q),
		m.p*n.q + m.q*cmplx.Conj(n.p),
		m.of(n.r),
	}
}

// transform reads a list of transform functions, of SVG's attribute or of CSS.
func transform(text string) (affine, bool) {
	m := identity
	for s := (scanner{text: text}); !s.done(); {
		name := strings.ToLower(s.word())
		if name == "none" && m == identity && s.done() {
			return m, true
		}
		s.gap()
		if !s.one("(") {
			return m, false
		}
		inside, _, ok := strings.Cut(s.text[s.at:], ")")
		if !ok {
			return m, false
		}
		s.at += len(inside) + 1
		next, ok := function(name, inside)
		m = m.times(next)
		if !ok || cmplx.IsNaN(m.p) || cmplx.IsNaN(m.q) || cmplx.IsNaN(m.r) {
			return m, false
		}
	}
	return m, true
}

// function is one transform function with what stands in its brackets.
func function(name, inside string) (affine, bool) {
	var lengths, angles, numbers []float64 // each argument, read in each way
	for s := (scanner{text: inside}); !s.done(); {
		x, ok := s.number()
		if !ok {
			return affine{}, false
		}
		in := func(units map[string]float64, unit string) float64 {
			if k, ok := units[unit]; ok {
				return x * k
			}
			return math.NaN() // which no function takes
		}
		unit := strings.ToLower(s.word())
		lengths = append(lengths, in(pixels, unit))
		angles = append(angles, in(radians, unit))
		numbers = append(numbers, in(map[string]float64{"": 1}, unit))
	}
	n := len(numbers)
	switch {
	case name == "matrix" && n == 6:
		return matrix(numbers[0], numbers[1], numbers[2], numbers[3], numbers[4], numbers[5]), true
	case name == "translate" && n == 2:
		return affine{1, 0, complex(lengths[0], lengths[1])}, true
	case (name == "translate" || name == "translatex") && n == 1:
		return affine{1, 0, complex(lengths[0], 0)}, true
	case name == "translatey" && n == 1:
		return affine{1, 0, complex(0, lengths[0])}, true
	case name == "scale" && n == 2:
		return matrix(numbers[0], 0, 0, numbers[1], 0, 0), true
	case name == "scale" && n == 1:
		return affine{p: complex(numbers[0], 0)}, true
	case name == "scalex" && n == 1:
		return matrix(numbers[0], 0, 0, 1, 0, 0), true
	case name == "scaley" && n == 1:
		return matrix(1, 0, 0, numbers[0], 0, 0), true
	case name == "rotate" && n == 1:
		return affine{p: turn(angles[0])}, true
	case name == "rotate" && n == 3:
		about := complex(lengths[1], lengths[2])
		return affine{turn(angles[0]), 0, about - turn(angles[0])*about}, true
	case name == "skewx" && n == 1:
		return matrix(1, 0, math.Tan(angles[0]), 1, 0, 0), true
	case name == "skewy" && n == 1:
		return matrix(1, math.Tan(angles[0]), 0, 1, 0, 0), true
	}
	return affine{}, false
}

// turn is the factor that turns by an angle, exact for quarters.
func turn(angle float64) complex128 {
	if quarters := angle / (math.Pi / 2); math.Abs(quarters-math.Round(quarters)) < 1e-12 {
		return [...]complex128{1, 1i, -1, -1i}[((int(math.Mod(math.Round(quarters), 4)))+4)%4]
	}
	return cmplx.Rect(1, angle)
}

// box is an upright rectangle.
type box struct{ x, y, w, h float64 }

// viewBox reads a viewBox attribute.
func viewBox(text string) (box, bool) {
	s := scanner{text: text}
	var n [4]float64
	if !s.numbers(n[:]) || !s.done() || !(n[2] > 0 && n[3] > 0) {
		return box{}, false
	}
	return box{n[0], n[1], n[2], n[3]}, true
}

// fit maps a viewBox into a viewport of a size whose corner is the origin, as
// preserveAspectRatio says.
func fit(view box, w, h float64, aspect string) affine {
	words := strings.Fields(aspect)
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	align := "xMidYMid"
	if len(words) > 0 {
		align = words[0]
	}
	kx, ky := w/view.w, h/view.h
	if align == "none" {
		return matrix(kx, 0, 0, ky, -view.x*kx, -view.y*ky)
	}
	k := min(kx, ky)
	if len(words) > 1 && words[1] == "slice" {
		k = max(kx, ky)
	}
	share := func(axis string) float64 {
		switch {
		case strings.Contains(align, axis+"Min"):
			return 0
		case strings.Contains(align, axis+"Max"):
			return 1
		}
		return 0.5
	}
	return affine{complex(k, 0), 0, complex(
		(w-view.w*k)*share("x")-view.x*k,
		(h-view.h*k)*share("Y")-view.y*k)}
}
