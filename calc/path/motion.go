package path

// Motion carries a drawing elsewhere without changing its size: mirrored or not,
// then turned, then shifted. Lengths and radii stay what they are. The zero
// Motion leaves everything where it is.
type Motion struct {
	mirrored bool    // at the x axis, before it is turned
	turn     float64 // degrees, counter-clockwise about the origin
	shift    Point
}

// Shift moves by dx to the right and dy up, m.
func Shift(dx, dy float64) Motion { return Motion{shift: Point{dx, dy}} }

// TurnAbout turns counter-clockwise about a place, degrees.
func TurnAbout(at Point, degrees float64) Motion {
	m := Motion{turn: normal(degrees)}
	m.shift = at.minus(m.Of(at))
	return m
}

// MirrorAt mirrors at the line through a place with a heading, degrees.
func MirrorAt(at Point, heading float64) Motion {
	m := Motion{mirrored: true, turn: normal(2 * heading)}
	m.shift = at.minus(m.Of(at))
	return m
}

// Then is this motion with another one after it.
func (m Motion) Then(n Motion) Motion {
	return Motion{mirrored: m.mirrored != n.mirrored, turn: normal(n.Heading(m.turn)), shift: n.Of(m.shift)}
}

// Times is this motion so many times.
func (m Motion) Times(n int) (out Motion) {
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			out = out.Then(m)
		}
		m = m.Then(m)
	}
	return out
}

// Of is where a place gets to.
func (m Motion) Of(p Point) Point { return m.vector(p).plus(m.shift) }

// Heading is what a heading becomes, degrees.
func (m Motion) Heading(degrees float64) float64 {
	if m.mirrored {
		degrees = -degrees
	}
	return degrees + m.turn
}

// Mirrored reports whether left becomes right.
func (m Motion) Mirrored() bool { return m.mirrored }

// None reports whether everything stays where it is.
func (m Motion) None() bool { return m == Motion{} }

// vector is what a direction with a length becomes.
func (m Motion) vector(v Point) Point {
	if m.mirrored {
		v.Y = -v.Y
	}
	if m.turn == 0 {
		return v
	}
	u := unit(m.turn)
	return Point{v.X*u.X - v.Y*u.Y, v.X*u.Y + v.Y*u.X}
}

// Moved is the path after a motion.
func (p Path) Moved(m Motion) (Path, error) {
	q := Path{parts: make([]part, len(p.parts)), ends: p.ends}
	for i, part := range p.parts {
		q.parts[i] = part.moved(m)
	}
	b := q.Bounds()
	for _, d := range [...]float64{b.MinX, b.MinY, b.MaxX, b.MaxY} {
		if err := checkSize("shift", d, -MaxSize, "a place that it is moved to by shift,"); err != nil {
			return Path{}, err
		}
	}
	return q, nil
}
