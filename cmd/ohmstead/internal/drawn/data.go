package drawn

import (
	"fmt"
	"math"
	"math/cmplx"
)

// contour is one sub-path: it goes from start through its pieces.
type contour struct {
	start  complex128
	pieces []piece
	closed bool
}

// piece is a straight line, a cubic curve or part of an ellipse.
type piece struct {
	kind   kind
	to     complex128
	c1, c2 complex128 // control points of a curve
	// Of an ellipse: its point at an angle t is centre + u cos t + v sin t; it
	// goes from the angle from, through sweep.
	centre, u, v complex128
	from, sweep  float64 // rad
}

type kind int

const (
	straight kind = iota
	curve
	ellipse
)

func line(to complex128) piece { return piece{kind: straight, to: to} }

// mapped is the piece under a map.
func (p piece) mapped(m affine) piece {
	p.to, p.c1, p.c2, p.centre = m.of(p.to), m.of(p.c1), m.of(p.c2), m.of(p.centre)
	p.u, p.v = m.vector(p.u), m.vector(p.v)
	return p
}

// quadratic is a curve with one control point, as a cubic: the same curve.
func quadratic(from, c, to complex128) piece {
	return piece{kind: curve, c1: from + (c-from)*2/3, c2: to + (c-to)*2/3, to: to}
}

// round is part of an ellipse around a centre with upright half axes.
func round(centre complex128, rx, ry, from, sweep float64) piece {
	p := piece{kind: ellipse, centre: centre, u: complex(rx, 0), v: complex(0, ry), from: from, sweep: sweep}
	p.to = p.at(1)
	return p
}

// at is the point of an ellipse a share of its sweep along.
func (p piece) at(share float64) complex128 {
	sin, cos := math.Sincos(p.from + share*p.sweep)
	return p.centre + p.u*complex(cos, 0) + p.v*complex(sin, 0)
}

// elliptical is an arc as path data says it: the ends, the half axes, how they
// are turned, and which of the four arcs it is. Where the axes are too short
// they are made longer; where one is 0 it is a line.
// Source: W3C, SVG 2, appendix B.2 (conversion from endpoint to center
// parameterization; correction of out-of-range radii).
func elliptical(from, to complex128, rx, ry, angle float64, large, sweep bool) piece {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 {
		return line(to)
	}
	axis := turn(angle)
	// On a unit circle: both ends, in axes of the ellipse.
	unit := func(z complex128) complex128 {
		z *= cmplx.Conj(axis)
		return complex(real(z)/rx, imag(z)/ry)
	}
	half := unit(to-from) / 2
	k := cmplx.Abs(half)
	apart := 0.0
	if k < 1 {
		apart = math.Sqrt(1 - k*k)
	} else {
		rx, ry = rx*k, ry*k
		half, k = half/complex(k, 0), 1
	}
	// From the centre to the middle of the chord.
	side := half / complex(k, 0) * complex(0, apart)
	if large != sweep {
		side = -side
	}
	first, last := cmplx.Phase(side-half), cmplx.Phase(side+half)
	p := piece{kind: ellipse, to: to, u: axis * complex(rx, 0), v: axis * complex(0, ry), from: first, sweep: last - first}
	switch {
	case sweep && p.sweep < 0:
		p.sweep += 2 * math.Pi
	case !sweep && p.sweep > 0:
		p.sweep -= 2 * math.Pi
	}
	p.centre = (from+to)/2 - (p.u*complex(real(side), 0) + p.v*complex(imag(side), 0))
	return p
}

// counts are how many numbers a command takes; of an arc, those before its flags.
var counts = [256]int{'m': 2, 'l': 2, 'h': 1, 'v': 1, 'c': 6, 's': 4, 'q': 4, 't': 2, 'a': 3}

// pathData reads path data. Where it is wrong it says so and gives what stands
// before, as SVG asks for. It stops behind more pieces than are drawn.
// Source: W3C, SVG 2, 9.3.
func pathData(text string) (all []contour, err error) {
	s := scanner{text: text}
	var c *contour             // that is being drawn
	var now, mirror complex128 // where the pen is; the last control point
	var command, before byte
	var n [6]float64
	drawn := 0
	draw := func(p piece) {
		if c == nil { // behind a Z without an M
			all = append(all, contour{start: now})
			c = &all[len(all)-1]
		}
		c.pieces = append(c.pieces, p)
		now = p.to
		drawn++
	}
	for drawn <= maxDrawn && !s.done() {
		fail := func() ([]contour, error) {
			return all, fmt.Errorf("breaks off at character %d, %q", s.at+1, s.text[s.at:min(s.at+10, len(s.text))])
		}
		switch {
		case s.one("MmLlHhVvCcSsQqTtAaZz"):
			command = s.text[s.at-1]
		case command == 0 || command|0x20 == 'z':
			return fail()
		}
		if len(all) == 0 && command|0x20 != 'm' {
			s.at = 0
			return fail()
		}
		relative := complex128(0)
		if command >= 'a' {
			relative = now
		}
		if !s.numbers(n[:counts[command|0x20]]) {
			return fail()
		}
		at := func(i int) complex128 { return relative + complex(n[i], n[i+1]) }
		control := func(of string) complex128 { // that of a smooth curve
			if before != 0 && (before|0x20 == of[0] || before|0x20 == of[1]) {
				return 2*now - mirror
			}
			return now
		}
		switch command | 0x20 {
		case 'm':
			now = at(0)
			if last := len(all) - 1; last >= 0 && len(all[last].pieces) == 0 {
				all = all[:last] // nothing was drawn from there
			}
			all = append(all, contour{start: now})
			c = &all[len(all)-1]
			before = command
			command-- // further points are lines: L behind M, l behind m
			continue
		case 'l':
			draw(line(at(0)))
		case 'h':
			draw(line(complex(real(relative)+n[0], imag(now))))
		case 'v':
			draw(line(complex(real(now), imag(relative)+n[0])))
		case 'c':
			mirror = at(2)
			draw(piece{kind: curve, c1: at(0), c2: mirror, to: at(4)})
		case 's':
			c1 := control("cs")
			mirror = at(0)
			draw(piece{kind: curve, c1: c1, c2: mirror, to: at(2)})
		case 'q':
			mirror = at(0)
			draw(quadratic(now, mirror, at(2)))
		case 't':
			mirror = control("qt")
			draw(quadratic(now, mirror, at(0)))
		case 'a':
			large, ok := s.flag()
			if !ok {
				return fail()
			}
			sweep, ok := s.flag()
			if !ok {
				return fail()
			}
			if !s.numbers(n[3:5]) {
				return fail()
			}
			if end := at(3); end != now {
				draw(elliptical(now, end, n[0], n[1], n[2]*math.Pi/180, large, sweep))
			}
		case 'z':
			if c != nil {
				c.closed = true
				now = c.start
				c = nil
			}
		}
		before = command
	}
	return all, nil
}

// points reads the points of a polyline or polygon.
func points(text string, closed bool) ([]contour, error) {
	s := scanner{text: text}
	c := contour{closed: closed}
	var n [2]float64
	for i := 0; i <= maxDrawn+1 && !s.done(); i++ {
		if !s.numbers(n[:]) {
			return []contour{c}, fmt.Errorf("breaks off at character %d, %q", s.at+1, s.text[s.at:min(s.at+10, len(s.text))])
		}
		if p := complex(n[0], n[1]); i == 0 {
			c.start = p
		} else {
			c.pieces = append(c.pieces, line(p))
		}
	}
	return []contour{c}, nil
}
