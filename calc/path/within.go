package path

import "math"

// Within finds the first stretch of the path that lies within a rectangle, m
// from the start; the rectangle's edge does not belong to it. It looks at steps
// of a centimetre, or of 1/10000 of a very long path.
func (p Path) Within(r Rect) (from, to float64, ok bool) {
	if b := p.Bounds(); b.MaxX <= r.MinX || b.MinX >= r.MaxX || b.MaxY <= r.MinY || b.MinY >= r.MaxY {
		return 0, 0, false
	}
	length := p.Length()
	steps := int(math.Min(math.Ceil(length/0.01), 10000))
	x0, y0, _ := p.At(0)
	for i := range steps {
		s0, s1 := length*float64(i)/float64(steps), length*float64(i+1)/float64(steps)
		x1, y1, _ := p.At(s1)
		a, b, in := r.clip(x0, y0, x1, y1)
		switch {
		case in && !ok:
			from, to, ok = s0+a*(s1-s0), s0+b*(s1-s0), true
		case in && a == 0:
			to = s0 + b*(s1-s0)
		case ok:
			return from, to, true
		}
		x0, y0 = x1, y1
	}
	return from, to, ok
}

// clip gives the part of a straight line, as shares of it, that lies within the
// rectangle (Liang and Barsky's clipping).
func (r Rect) clip(x0, y0, x1, y1 float64) (a, b float64, in bool) {
	a, b = 0, 1
	for _, side := range [][2]float64{{x0 - x1, x0 - r.MinX}, {x1 - x0, r.MaxX - x0}, {y0 - y1, y0 - r.MinY}, {y1 - y0, r.MaxY - y0}} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q <= 1e-9:
			return 0, 0, false
		case p < 0:
			a = math.Max(a, q/p)
		case p > 0:
			b = math.Min(b, q/p)
		}
	}
	return a, b, b-a > 1e-9
}
