package path

import (
	"math"

	"ohmstead/calc/quantity"
)

// OffsetError is how far in m a curve that stands for the offset of a Bezier
// curve may lie off it.
const OffsetError = 1e-5

// Offset is the path beside this one, everywhere at a distance in m: positive to
// the left of its direction, negative to the right. Lines and arcs are exact; a
// Bezier curve becomes as many as keep within OffsetError; its
// least radius is right to some thousandths. Outside of a corner it goes round it in an arc, inside of one both sides end where they meet.
//
// Where the path bends to that side with a smaller radius than the distance, or a
// side is too short for its corners, the offset would loop back: that is an
// *Error with the place in Reason and in Limit the greatest distance that there is
// room for.
//
// Beside a smooth path that turns by θ altogether it is longer by -d θ. Source: T.
// Maekawa, An overview of offset curves and surfaces, Computer-Aided Design 31, 1999 (from memory):
// O = C + d N, O' = C' (1 - d κ).
func (p Path) Offset(d float64) (Path, error) {
	if err := checkSize("distance", math.Abs(d), MinLength, "distance"); err != nil {
		return Path{}, err
	}
	sides := make([]Path, len(p.parts))
	for i, q := range p.parts {
		from := p.ends[i] - q.length()
		if r, at := insideRadius(q, math.Copysign(1, d)); r < math.Abs(d)*(1+1e-9) {
			return Path{}, &Error{Field: "distance", Got: d, Limit: r,
				Reason: quantity.Say("%s beside it there is no room where it bends to a radius of %s, %s from its start; lay it at less than %s, or on the other side", metresAgainst(math.Abs(d), r), metres(r), metres(from+at), metres(roundDown(r)))}
		}
		sides[i].append(q.offset(d))
	}
	n := len(p.parts)
	closed := n > 1 && p.closed()
	var ends []part // behind each side: the arc round a corner, or nil
	var trims [][2]float64
	for range n {
		ends, trims = append(ends, nil), append(trims, [2]float64{})
	}
	for i := range n {
		j := i + 1
		if j == n {
			if !closed {
				break
			}
			j = 0
		}
		_, in := p.parts[i].at(p.parts[i].length())
		corner, out := p.parts[j].at(0)
		turn := normal(out - in)
		switch {
		case math.Abs(turn) < noise:
		case turn*d < 0:
			ends[i] = arc{corner, math.Abs(d), in, turn}
		default:
			a, b, ok := meet(sides[i], sides[j], math.Abs(d)*math.Tan(math.Abs(turn)/2/degree))
			if !ok {
				return Path{}, noRoom(d, p.ends[i])
			}
			trims[i][1], trims[j][0] = a, b
		}
	}
	var out Path
	for i, side := range sides {
		l := side.Length()
		if trims[i][0]+trims[i][1] > l-MinLength {
			return Path{}, noRoom(d, p.ends[i]-p.parts[i].length()/2)
		}
		out.append(side.stretch(trims[i][0], l-trims[i][1]))
		if ends[i] != nil {
			out.append([]part{ends[i]})
		}
	}
	if out.Length() > MaxSize {
		return Path{}, &Error{Field: "distance", Got: out.Length(), Limit: MaxSize,
			Reason: quantity.Say("the path beside it is %s long; at most %s is allowed", metresAgainst(out.Length(), MaxSize), metres(MaxSize))}
	}
	return out, nil
}

func noRoom(d, at float64) *Error {
	return &Error{Field: "distance", Got: d,
		Reason: quantity.Say("%s beside it there is no room between its corners %s from its start, where it would loop back; lay it nearer, or on the other side", metres(math.Abs(d)), metres(at))}
}

// closed reports whether the path ends where it starts.
func (p Path) closed() bool {
	a, _ := p.parts[0].at(0)
	q := p.parts[len(p.parts)-1]
	b, _ := q.at(q.length())
	return a.minus(b).norm() < MinLength
}

// meet finds where one path, near its end, crosses the beginning of another: how
// much of each lies behind that, m. guess is that for two lines. Newton's method.
func meet(p, q Path, guess float64) (a, b float64, ok bool) {
	a, b = p.Length()-guess, guess
	for range 50 {
		x0, y0, h0 := p.at(a)
		x1, y1, h1 := q.at(b)
		gap, u, v := Point{x1 - x0, y1 - y0}, unit(h0), unit(h1)
		if gap.norm() < 1e-12 {
			break
		}
		c := u.cross(v)
		if math.Abs(c) < 1e-9 {
			return 0, 0, false
		}
		a, b = a+gap.cross(v)/c, b+gap.cross(u)/c
	}
	x0, y0, _ := p.at(a)
	x1, y1, _ := q.at(b)
	return p.Length() - a, b, math.Hypot(x1-x0, y1-y0) < 1e-9 && a > 0 && b < q.Length()
}

// at is as At, and goes straight on before the start and behind the end.
func (p Path) at(s float64) (x, y, heading float64) {
	x, y, heading = p.At(s)
	on := unit(heading).times(s - min(max(s, 0), p.Length()))
	return x + on.X, y + on.Y, heading
}

// stretch are the parts between two places.
func (p Path) stretch(from, to float64) (out []part) {
	for i, k := range p.Strokes(from, to) {
		switch {
		case k.Curve:
			out = append(out, newCubic(k.From, k.To, k.C1.minus(k.From).times(3), k.To.minus(k.C2).times(3)))
		case k.Sweep != 0:
			r := k.From.minus(k.Centre)
			out = append(out, arc{k.Centre, r.norm(), r.heading() + math.Copysign(90, k.Sweep), k.Sweep})
		default:
			delta := k.To.minus(k.From)
			if delta.norm() < MinLength && i > 0 {
				continue
			}
			out = append(out, line{k.From, delta.heading(), delta.norm()})
		}
	}
	return out
}

// insideRadius is the least radius of a part's bends to one side, 1 for the left
// and -1 for the right, and where it is, m along.
func insideRadius(q part, side float64) (radius, at float64) {
	switch q := q.(type) {
	case arc:
		if q.sweep*side > 0 {
			return q.leastRadius()
		}
	case *cubic:
		radius = math.Inf(1)
		for _, t := range q.tightest() {
			if r := q.radius(t); r < radius && (r == 0 || q.velocity(t).cross(q.acceleration(t))*side > 0) {
				radius, at = r, q.distance(t)
			}
		}
		return radius, at
	}
	return math.Inf(1), 0
}

func (l line) offset(d float64) []part {
	l.from = l.from.plus(unit(l.heading + 90).times(d))
	return []part{l}
}

func (a arc) offset(d float64) []part {
	a.radius -= math.Copysign(d, d*a.sweep)
	return []part{a}
}

// mostTurned is how far one cubic of an offset turns, degrees: a bend that is narrow beside its curve lies between the
// places at which the two are compared, but not between their headings.
const mostTurned = 45

// offset halves the curve until the cubics with the offset's own ends and
// derivatives keep within OffsetError.
func (q *cubic) offset(d float64) (out []part) {
	at := func(t float64) Point { return q.point(t).plus(unit(q.heading(t) + 90).times(d)) }
	slope := func(t float64) Point {
		v := q.velocity(t)
		if q.still(v) { // 0 times an endless curvature
			const h = 1e-6
			u := t + math.Copysign(h, 0.5-t)
			return at(u).minus(at(t)).times(1 / (u - t))
		}
		return v.times(1 - d*v.cross(q.acceleration(t))/math.Pow(v.norm(), 3))
	}
	var fit func(t, u float64, depth int)
	fit = func(t, u float64, depth int) {
		k := u - t
		c := newCubic(at(t), at(u), slope(t).times(k), slope(u).times(k))
		worst, turned, before := 0.0, 0.0, q.heading(t)
		for i := 1.0; i <= 8; i++ {
			worst = max(worst, c.point(i/8).minus(at(t+k*i/8)).norm())
			h := q.heading(t + k*i/8)
			turned, before = turned+math.Abs(normal(h-before)), h
		}
		if (worst > OffsetError/4 || turned > mostTurned) && depth < 24 {
			fit(t, (t+u)/2, depth+1)
			fit((t+u)/2, u, depth+1)
			return
		}
		out = append(out, c)
	}
	fit(0, 1, 0)
	return out
}
