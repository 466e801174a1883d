package path

import (
	"math"
	"slices"
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
	delta := to.minus(from)
	q := &cubic{
		from: from,
		b:    start,
		c:    delta.times(3).minus(start.times(2)).minus(end),
		d:    start.plus(end).minus(delta.times(2)),
	}
	size := max(delta.norm(), start.norm()/3, end.norm()/3) // the curve may end where it starts
	t := 0.0
	for _, u := range append(q.slowest(size), 1) {
		q.measure(t, u, q.gauss(t, u), size, 0)
		t = u
	}
	return q
}

// slowest are the parameters inside at which the curve nearly stands still, in
// order. Its length by the parameter has an edge there, which no rule across it
// needs to see.
func (q *cubic) slowest(size float64) (at []float64) {
	for _, t := range q.speed2().derivative().roots(0, 1) {
		if t > 0 && t < 1 && q.velocity(t).norm() < 0.1*size {
			at = append(at, t)
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
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
// of the curve's size.
func (q *cubic) measure(t0, t1, whole, size float64, depth int) {
	mid := (t0 + t1) / 2
	left, right := q.gauss(t0, mid), q.gauss(mid, t1)
	halves := left + right
	if math.Abs(whole-halves) <= max(1e-12*halves, 1e-14*size) || depth == 40 {
		q.leaves = append(q.leaves, leaf{t0, q.len})
		q.len += halves
		return
	}
	q.measure(t0, mid, left, size, depth+1)
	q.measure(mid, t1, right, size, depth+1)
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

// heading at t, degrees. Where the curve stands still it is that with which it
// goes on, at its end that with which it comes in.
func (q *cubic) heading(t float64) float64 {
	v, side := q.velocity(t), 1.0
	if t == 1 {
		side = -1
	}
	if q.still(v) {
		v = q.acceleration(t).times(side)
	}
	if q.still(v) {
		v = q.d
	}
	return v.heading()
}

// cusps are the parameters inside at which the curve stands still and turns
// back: its speed has a least value there, which is none.
func (q *cubic) cusps() (at []float64) {
	for _, t := range q.speed2().derivative().roots(0, 1) {
		if t > 1e-9 && t < 1-1e-9 && q.still(q.velocity(t)) && !slices.ContainsFunc(at, func(u float64) bool { return math.Abs(t-u) < 1e-6 }) {
			at = append(at, t)
		}
	}
	slices.Sort(at)
	return at
}

// speed2 is |C'|² by t.
func (q *cubic) speed2() poly {
	return poly{q.b.dot(q.b), 4 * q.b.dot(q.c), 4*q.c.dot(q.c) + 6*q.b.dot(q.d), 12 * q.c.dot(q.d), 9 * q.d.dot(q.d)}
}

func (q *cubic) still(velocity Point) bool { return velocity.norm() < 1e-9*q.len }

// leastRadius is the least of the radii of curvature |C'|³ / |C' × C”| at the
// ends and at all places where the curvature's derivative is zero: the roots of
//
//	(C' × C''') |C'|² - 3 (C' × C'') (C' · C'') = 0,
//
// a polynomial of degree five in t. Source: the definition of curvature; any
// textbook of differential geometry.
//
// Where a control point lies on its end the radius there is 0, although the
// curve leaves evenly: it counts from where it has turned by CornerAngle, as a
// smaller jump of heading does not count.
func (q *cubic) leastRadius() (radius, at float64) {
	radius, t := math.Inf(1), 0.0
	for _, u := range q.tightest() {
		if r := q.radius(u); r < radius || r == radius && u < t {
			radius, t = r, u
		}
	}
	if radius > straightRadius {
		return math.Inf(1), 0
	}
	return radius, q.distance(t)
}

// tightest are the parameters at one of which the radius is least.
func (q *cubic) tightest() (at []float64) {
	bc, bd, cd := q.b.cross(q.c), q.b.cross(q.d), q.c.cross(q.d)
	bend := poly{2 * bc, 6 * bd, 6 * cd} // C' × C''
	speed2 := q.speed2()
	slope := bend.derivative().times(speed2).minus(bend.times(speed2.derivative()).scale(1.5))
	lo, hi := q.ease(0), q.ease(1)
	for _, u := range append(slope.roots(0, 1), q.cusps()...) {
		if u > lo && u < hi {
			at = append(at, u)
		}
	}
	return append(at, lo, hi)
}

// radius of curvature at t, m; 0 where the curve stands still.
func (q *cubic) radius(t float64) float64 {
	v := q.velocity(t)
	if q.still(v) {
		return 0
	}
	return math.Pow(v.norm(), 3) / math.Abs(v.cross(q.acceleration(t)))
}

// ease is the parameter at which the curve has turned by CornerAngle from an end
// at which it stands still; the end itself where it does not.
func (q *cubic) ease(end float64) float64 {
	if !q.still(q.velocity(end)) {
		return end
	}
	turned := func(by float64) float64 { return math.Abs(normal(q.heading(math.Abs(end-by)) - q.heading(end))) }
	by := 1e-6
	for by < 0.5 && turned(by) < CornerAngle {
		by *= 2
	}
	lo, hi := 0.0, by
	for range 50 {
		if mid := (lo + hi) / 2; turned(mid) < CornerAngle {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Abs(end - hi)
}

// distance is how far along the parameter t lies, m.
func (q *cubic) distance(t float64) float64 {
	if t >= 1 {
		return q.len
	}
	i := sort.Search(len(q.leaves), func(i int) bool { return q.leaves[i].t > t }) - 1
	return min(q.leaves[i].s+q.gauss(q.leaves[i].t, t), q.len)
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

func (q *cubic) moved(m Motion) part {
	c := *q
	c.from, c.b, c.c, c.d = m.Of(q.from), m.vector(q.b), m.vector(q.c), m.vector(q.d)
	return &c
}
