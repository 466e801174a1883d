package path

import (
	"math"
	"sort"
)

// cubic is a part C(t) = from + b t + c t² + d t³, t from 0 to 1.
type cubic struct {
	from    Point
	b, c, d Point
	leaves  []leaf
	len     float64 // m
}

// leaf is a stretch of a cubic on which one Gauss rule is exact enough. It
// reaches to the next leaf.
type leaf struct {
	t float64 // parameter at its start
	s float64 // m from the start of the cubic
}

// newCubic is the cubic between two points with given derivatives at its ends,
// by t.
func newCubic(from, to, start, end Point) *cubic {
	way := to.minus(from)
	q := &cubic{
		from: from,
		b:    start,
		c:    way.times(3).minus(start.times(2)).minus(end),
		d:    start.plus(end).minus(way.times(2)),
	}
	q.measure(0, 1, q.gauss(0, 1), way.norm(), 0)
	return q
}

func (q *cubic) point(t float64) Point {
	return q.from.plus(q.b.plus(q.c.plus(q.d.times(t)).times(t)).times(t))
}

func (q *cubic) velocity(t float64) Point {
	return q.b.plus(q.c.times(2 * t)).plus(q.d.times(3 * t * t))
}

func (q *cubic) acceleration(t float64) Point {
	return q.c.times(2).plus(q.d.times(6 * t))
}

// Nodes and weights of the eight-point Gauss-Legendre rule on -1 to 1, one
// side. Source: Abramowitz and Stegun, Handbook of Mathematical Functions,
// table 25.4 (from memory; a test integrates powers with them).
var (
	gaussNodes   = [...]float64{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	gaussWeights = [...]float64{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
)

// gauss is the length from t0 to t1 by one Gauss rule, m.
func (q *cubic) gauss(t0, t1 float64) float64 {
	mid, half := (t0+t1)/2, (t1-t0)/2
	var sum float64
	for i, x := range gaussNodes {
		sum += gaussWeights[i] * (q.velocity(mid-half*x).norm() + q.velocity(mid+half*x).norm())
	}
	return sum * half
}

// measure appends the leaves from t0 to t1, halving a stretch until one rule on
// the whole agrees with one on each half to 1e-12 of the stretch, or to 1e-14
// of the chord.
func (q *cubic) measure(t0, t1, whole, chord float64, depth int) {
	mid := (t0 + t1) / 2
	left, right := q.gauss(t0, mid), q.gauss(mid, t1)
	halves := left + right
	if math.Abs(whole-halves) <= max(1e-12*halves, 1e-14*chord) || depth == 40 {
		q.leaves = append(q.leaves, leaf{t0, q.len})
		q.len += halves
		return
	}
	q.measure(t0, mid, left, chord, depth+1)
	q.measure(mid, t1, right, chord, depth+1)
}

func (q *cubic) length() float64 { return q.len }

func (q *cubic) at(s float64) (Point, float64) {
	t := q.parameter(s)
	return q.point(t), q.heading(t)
}

// parameter is the t that lies s metres along: Newton's method on the length,
// kept inside a bracket that closes.
func (q *cubic) parameter(s float64) float64 {
	if s <= 0 {
		return 0
	}
	if s >= q.len {
		return 1
	}
	i := sort.Search(len(q.leaves), func(i int) bool { return q.leaves[i].s > s }) - 1
	start, end := q.leaves[i], leaf{1, q.len}
	if i+1 < len(q.leaves) {
		end = q.leaves[i+1]
	}
	lo, hi := start.t, end.t
	t := lo + (hi-lo)*(s-start.s)/(end.s-start.s)
	for range 60 {
		miss := start.s + q.gauss(start.t, t) - s
		if math.Abs(miss) <= 1e-14*q.len {
			break
		}
		if miss > 0 {
			hi = t
		} else {
			lo = t
		}
		next := t - miss/q.velocity(t).norm()
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if next == t {
			break
		}
		t = next
	}
	return t
}

// heading at t, degrees. Where the curve stands still, because its points
// double back, it is that of a place just inside.
func (q *cubic) heading(t float64) float64 {
	v := q.velocity(t)
	if q.still(v) {
		v = q.velocity(t + math.Copysign(1e-4, 0.5-t))
	}
	return v.heading()
}

func (q *cubic) still(velocity Point) bool { return velocity.norm() < 1e-9*q.len }

// leastRadius is the least of the radii of curvature |C'|³ / |C' × C”| at the
// ends and at all places where the curvature's derivative is zero: the roots of
//
//	(C' × C''') |C'|² - 3 (C' × C'') (C' · C'') = 0,
//
// a polynomial of degree five in t. Source: the definition of curvature; any
// textbook of differential geometry.
func (q *cubic) leastRadius() (radius, at float64) {
	bc, bd, cd := q.b.cross(q.c), q.b.cross(q.d), q.c.cross(q.d)
	bend := poly{2 * bc, 6 * bd, 6 * cd}           // C' × C''
	speed2 := poly{q.b.dot(q.b), 4 * q.b.dot(q.c), // |C'|²
		4*q.c.dot(q.c) + 6*q.b.dot(q.d), 12 * q.c.dot(q.d), 9 * q.d.dot(q.d)}
	slope := bend.derivative().times(speed2).minus(bend.times(speed2.derivative()).scale(1.5))
	radius, t := math.Inf(1), 0.0
	for _, u := range append(slope.roots(0, 1), 0, 1) {
		v := q.velocity(u)
		r := 0.0
		if !q.still(v) {
			r = math.Pow(v.norm(), 3) / math.Abs(v.cross(q.acceleration(u)))
		}
		if r < radius || r == radius && u < t {
			radius, t = r, u
		}
	}
	if radius > straightRadius {
		return math.Inf(1), 0
	}
	return radius, q.distance(t)
}

// distance is how far along the parameter t lies, m.
func (q *cubic) distance(t float64) float64 {
	if t >= 1 {
		return q.len
	}
	i := sort.Search(len(q.leaves), func(i int) bool { return q.leaves[i].t > t }) - 1
	return q.leaves[i].s + q.gauss(q.leaves[i].t, t)
}

func (q *cubic) bounds() Rect {
	r := span(q.from, q.point(1))
	for _, v := range []poly{{q.b.X, 2 * q.c.X, 3 * q.d.X}, {q.b.Y, 2 * q.c.Y, 3 * q.d.Y}} {
		for _, t := range v.roots(0, 1) {
			p := q.point(t)
			r = r.union(span(p, p))
		}
	}
	return r
}

func (q *cubic) moved(dx, dy float64) part {
	m := *q
	m.from = m.from.plus(Point{dx, dy})
	return &m
}
