package path

import "slices"

// poly is a polynomial by rising powers.
type poly []float64

func (p poly) at(t float64) float64 {
	var v float64
	for i := len(p) - 1; i >= 0; i-- {
		v = v*t + p[i]
	}
	return v
}

func (p poly) derivative() poly {
	d := make(poly, max(len(p)-1, 0))
	for i := range d {
		d[i] = float64(i+1) * p[i+1]
	}
	return d
}

func (p poly) times(q poly) poly {
	r := make(poly, len(p)+len(q)-1)
	for i, a := range p {
		for j, b := range q {
			r[i+j] += a * b
		}
	}
	return r
}

func (p poly) scale(k float64) poly { return p.times(poly{k}) }

func (p poly) minus(q poly) poly {
	r := make(poly, max(len(p), len(q)))
	copy(r, p)
	for i, b := range q {
		r[i] -= b
	}
	return r
}

// roots are the places between lo and hi where the polynomial or one of its
// derivatives changes sign, in no order: all of its roots, also double ones,
// and others which its callers need not tell apart.
//
// Between two neighbouring roots of its derivative a polynomial has one root at
// most, which bisection finds to the last digit.
func (p poly) roots(lo, hi float64) []float64 {
	if len(p) < 2 {
		return nil
	}
	turns := p.derivative().roots(lo, hi)
	slices.Sort(turns)
	found := turns
	a := lo
	for _, b := range append(slices.Clip(turns), hi) {
		if t, ok := p.bisect(a, b); ok {
			found = append(found, t)
		}
		a = b
	}
	return found
}

func (p poly) bisect(lo, hi float64) (float64, bool) {
	low := p.at(lo) < 0
	if low == (p.at(hi) < 0) {
		return 0, false
	}
	for {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			return mid, true
		}
		if (p.at(mid) < 0) == low {
			lo = mid
		} else {
			hi = mid
		}
	}
}
