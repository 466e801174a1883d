package path

import (
	"math"
	"slices"
)

// drawn is the spacing in m of the points that bends are taken at here.
const drawn = 0.01

// alongAngle is the sine of the angle up to which two paths run along each
// other and do not cross: 10 degrees. Common practice, no source.
const alongAngle = 0.17

// Meets finds where two paths lie in each other's way: the first stretch, m from
// the start of this one, of at least twice near, over which the other runs along
// it nearer than near; else the first place where they cross, with from and to
// the same. An end within near of the other path touches it and does not cross.
func (p Path) Meets(q Path, near float64) (from, to float64, ok bool) {
	if p.Bounds().apart(q.Bounds(), near) {
		return 0, 0, false
	}
	ps, err1 := p.Points(max(drawn, p.Length()/1000))
	qs, err2 := q.Points(max(drawn, q.Length()/1000))
	if err1 != nil || err2 != nil {
		return 0, 0, false
	}
	lengthP, lengthQ := lengthOf(ps), lengthOf(qs)
	var along [][2]float64
	cross := math.Inf(1)
	sp := 0.0
	for i := 1; i < len(ps); i++ {
		u := ps[i].minus(ps[i-1])
		l := u.norm()
		box := span(ps[i-1], ps[i])
		sq := 0.0
		for j := 1; j < len(qs); j++ {
			v := qs[j].minus(qs[j-1])
			m := v.norm()
			if l > 0 && m > 0 && !box.apart(span(qs[j-1], qs[j]), near) {
				d, c := qs[j-1].minus(ps[i-1]), u.cross(v)/(l*m)
				if math.Abs(c) <= alongAngle {
					if a, b, in := beside(d, u, v, l, near); in {
						along = append(along, [2]float64{sp + a, sp + b})
					}
				} else {
					a, b := sp+d.cross(v)/(c*m), sq+d.cross(u)/(c*l) // m along each
					if a >= sp && a <= sp+l && b >= sq && b <= sq+m && math.Min(a, lengthP-a) > near && math.Min(b, lengthQ-b) > near {
						cross = math.Min(cross, a)
					}
				}
			}
			sq += m
		}
		sp += l
	}
	slices.SortFunc(along, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	for i := 0; i < len(along); {
		from, to = along[i][0], along[i][1]
		for i++; i < len(along) && along[i][0] <= to+1e-9; i++ {
			to = max(to, along[i][1])
		}
		if to-from >= 2*near-1e-9 && from < cross {
			return from, to, true
		}
	}
	return cross, cross, !math.IsInf(cross, 1)
}

// MeetsItself finds where the path comes back to itself, nearer than near: the first
// place, m from the start, and the later one that lies there again. A stretch of
// four times near is left out between them, in which it may turn back on itself, and so
// are ends that meet.
func (p Path) MeetsItself(near float64) (at, again float64, ok bool) {
	step := max(drawn, p.Length()/1000)
	points, err := p.Points(step)
	if err != nil {
		return 0, 0, false
	}
	ps, s := points[:1:1], []float64{0}
	for _, to := range points[1:] {
		from, before := ps[len(ps)-1], s[len(s)-1]
		way := to.minus(from)
		for n, i := math.Ceil(way.norm()/step), 1.0; i <= n; i++ {
			ps, s = append(ps, from.plus(way.times(i/n))), append(s, before+way.norm()*i/n)
		}
	}
	apart := 4 * near
	length := s[len(s)-1]
	round := ps[0].minus(ps[len(ps)-1]).norm() < apart // its ends meet, or leave a gap
	const together = 32                                // pieces with a box around them all, so that most pairs are never looked at
	var around []Rect
	for i := 1; i < len(ps); i++ {
		if box := span(ps[i-1], ps[i]); (i-1)%together == 0 {
			around = append(around, box)
		} else {
			around[len(around)-1] = around[len(around)-1].union(box)
		}
	}
	for i := 1; i < len(ps); i++ {
		box := span(ps[i-1], ps[i])
		for j := i + 1; j < len(ps); j++ {
			if (j-1)%together == 0 && box.apart(around[(j-1)/together], near) {
				j += together - 1
				continue
			}
			if s[j-1]-s[i] < apart || round && s[i-1]+length-s[j] < apart {
				continue
			}
			if !box.apart(span(ps[j-1], ps[j]), near) && gap(ps[i-1], ps[i], ps[j-1], ps[j]) < near*(1-1e-9) {
				return s[i-1], s[j-1], true
			}
		}
	}
	return 0, 0, false
}

// gap is the least distance between two straight lines.
func gap(a, b, c, d Point) float64 {
	if opposite(a, b, c, d) && opposite(c, d, a, b) {
		return 0
	}
	return min(off(a, c, d), off(b, c, d), off(c, a, b), off(d, a, b))
}

// opposite reports whether c and d lie on either side of the line through a and b.
func opposite(a, b, c, d Point) bool {
	u := b.minus(a)
	return u.cross(c.minus(a))*u.cross(d.minus(a)) < 0
}

// off is how far a place is from the line between two others.
func off(at, a, b Point) float64 {
	u := b.minus(a)
	t := 0.0
	if l := u.dot(u); l > 0 {
		t = min(max(at.minus(a).dot(u)/l, 0), 1)
	}
	return at.minus(a.plus(u.times(t))).norm()
}

// beside is the stretch of a line of length l along u beside which a second one
// lies nearer than near; d leads from the first's start to the second's, v along
// the second.
func beside(d, u, v Point, l, near float64) (from, to float64, ok bool) {
	s0, h0 := d.dot(u)/l, u.cross(d)/l
	s1, h1 := s0+v.dot(u)/l, h0+u.cross(v)/l
	near -= 1e-9
	a, b := 0.0, 1.0 // of the second
	if h1 == h0 {
		if math.Abs(h0) >= near {
			return 0, 0, false
		}
	} else {
		x, y := (-near-h0)/(h1-h0), (near-h0)/(h1-h0)
		a, b = max(a, min(x, y)), min(b, max(x, y))
	}
	if a >= b {
		return 0, 0, false
	}
	x, y := s0+a*(s1-s0), s0+b*(s1-s0)
	from, to = max(0, min(x, y)), min(l, max(x, y))
	return from, to, to > from
}

// Nearest is how far a place is from the path, m, and where along it that is.
func (p Path) Nearest(at Point) (distance, along float64) {
	distance = math.Inf(1)
	ps, err := p.Points(max(drawn, p.Length()/1000))
	if err != nil {
		return distance, 0
	}
	s := 0.0
	for i := 1; i < len(ps); i++ {
		u := ps[i].minus(ps[i-1])
		l := u.norm()
		if l == 0 {
			continue
		}
		t := min(max(at.minus(ps[i-1]).dot(u)/(l*l), 0), 1)
		if d := at.minus(ps[i-1].plus(u.times(t))).norm(); d < distance {
			distance, along = d, s+t*l
		}
		s += l
	}
	return distance, along
}

// lengthOf is the length of straight lines from point to point.
func lengthOf(ps []Point) float64 {
	s := 0.0
	for i := 1; i < len(ps); i++ {
		s += ps[i].minus(ps[i-1]).norm()
	}
	return s
}
