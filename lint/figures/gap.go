package figures

import "math"

// Gap is the way from where one run of an order is left to where the next one
// is entered.
type Gap struct {
	Before, After *Run
	Written       float64 // m, as the order has it
	Turned        float64 // m, with the runs turned as Turns says
}

// Turns looks for the ends to begin each run at so that the way between the
// runs of an order is shortest, their sequence kept. fromEnd is the answer,
// run by run; ok is false where the place of a run on the one surface is not
// known. Where it makes no difference a run stays as written.
func (o *Order) Turns() (gaps []Gap, fromEnd []bool, ok bool) {
	n := len(o.Spans)
	if !o.OK || n < 2 {
		return nil, nil, false
	}
	type ends [2][2]float64 // of the two ways to take a run: start first, end first; where it is entered
	in := make([]ends, n)
	for i, s := range o.Spans {
		if s.Run.On.V != o.Spans[0].Run.On.V {
			return nil, nil, false
		}
		for k, at := range []float64{0, s.Run.StripLength()} {
			x, y, known := s.Run.XY(at)
			if !known {
				return nil, nil, false
			}
			in[i][k] = [2]float64{x, y}
		}
	}
	distance := func(i, before, after int) float64 { // from run i to the next
		a, b := in[i][1-before], in[i+1][after]
		return math.Hypot(a[0]-b[0], a[1]-b[1])
	}
	as := func(i int) int {
		if o.Spans[i].FromEnd {
			return 1
		}
		return 0
	}
	// A turn that saves less than a millimetre is none; of equal ones the later
	// run is turned.
	turning := func(i int) float64 { return 1e-3 + 1e-6*float64(n-i)/float64(n) }
	cost := make([][2]float64, n)
	from := make([][2]int, n)
	for i := range n {
		for k := range 2 {
			if k != as(i) {
				cost[i][k] = turning(i)
			}
			if i == 0 {
				continue
			}
			a, b := cost[i-1][0]+distance(i-1, 0, k), cost[i-1][1]+distance(i-1, 1, k)
			if b < a {
				a, from[i][k] = b, 1
			}
			cost[i][k] += a
		}
	}
	best := make([]int, n)
	if cost[n-1][1] < cost[n-1][0] {
		best[n-1] = 1
	}
	for i := n - 1; i > 0; i-- {
		best[i-1] = from[i][best[i]]
	}
	for i := range n {
		fromEnd = append(fromEnd, best[i] == 1)
		if i > 0 {
			gaps = append(gaps, Gap{o.Spans[i-1].Run, o.Spans[i].Run, distance(i-1, as(i-1), as(i)), distance(i-1, best[i-1], best[i])})
		}
	}
	return gaps, fromEnd, true
}

// Raster reports whether an order takes at least three runs that are moved
// copies of each other all the same way, as the rows of a picture: there each
// row is meant to begin on the same side.
func (o *Order) Raster() bool {
	if !o.OK || len(o.Spans) < 3 {
		return false
	}
	var first [2]float64
	for i, s := range o.Spans {
		x0, y0, ok0 := s.Run.XY(0)
		x1, y1, ok1 := s.Run.XY(s.Run.StripLength())
		v := [2]float64{x1 - x0, y1 - y0}
		if i == 0 {
			first = v
		}
		if !ok0 || !ok1 || s.FromEnd != o.Spans[0].FromEnd || math.Hypot(v[0]-first[0], v[1]-first[1]) > 1e-3 {
			return false
		}
	}
	return true
}

// Jump reports whether the longest way between the runs of an order, m, is
// worth telling of against the longest that is left with runs turned round:
// more than a hand's breadth and twice as far (common practice, no source).
func Jump(longest, left float64) bool { return longest > 0.1 && longest > 2*left }
