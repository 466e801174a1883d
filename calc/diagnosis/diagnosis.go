// Package diagnosis ranks what may be the cause of readings that are off: one cause at a time, each with one free value,
// against the covariance of meter and plan. It knows nothing of what the causes are.
//
// What is shown where nothing is wrong is m; a cause of size x moves it to m(x), which runs straight between the sizes
// that were worked out. Errors are Gaussian with the covariance
//
//	C = diag(own^2) + sum over factors of f f'
//
// The weight of a cause is its prior times the mean of exp(-r(x)' C^-1 r(x) / 2) over the prior of its size, with r(x)
// the readings less m(x): the marginal likelihood (Kass and Raftery, "Bayes factors", Journal of the American
// Statistical Association 90, 1995; from memory). Along a straight piece it is an error function.
package diagnosis

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// Model says what each of some places shows. All slices of values are by place.
type Model struct {
	Shown   []float64   // where nothing is wrong
	Own     []float64   // standard deviation that each place has by itself, above 0
	Factors [][]float64 // what moves many places at once: by how much, at one standard deviation
	Causes  []Cause
}

// Cause is one thing that may be wrong.
type Cause struct {
	Prior float64 // above 0, in any scale
	Sizes []Size  // rising; at least one
	Steps bool    // only these sizes: else each in between as well
}

// Size is what a cause of one size shows.
type Size struct {
	Value float64
	Shown []float64
}

// Ranked is a cause with what the readings make of it.
type Ranked struct {
	Cause int     // its index in the model
	Share float64 // its probability, when one of the causes is the one
	Value float64 // the size that fits best
	Off   float64 // how many standard deviations the readings lie off it, squared and summed: chi squared
	Class int     // from 0; those of one class cannot be told apart

	pieces []piece
}

// piece is a straight piece of a cause with the weight that the readings give it.
type piece struct {
	from, to int     // sizes
	at, wide float64 // where along the piece the weight lies, from 0 to 1, and how wide
	log      float64
}

// apart is how many times likelier the best of a class is than what begins the next one: strong evidence, in the words of
// Jeffreys, "Theory of probability", 1961, appendix B (from memory).
const apart = 10

// ErrReadings is that of readings that do not fit the model's places.
var ErrReadings = errors.New("each place is read once, and its spread is above 0")

// Rank ranks the causes by readings at some places, the likeliest first.
func (m *Model) Rank(places []int, read []float64) ([]Ranked, error) {
	root, err := m.root(places)
	if err != nil || len(places) != len(read) {
		return nil, ErrReadings
	}
	out := make([]Ranked, 0, len(m.Causes))
	best := math.Inf(-1)
	logs := make([]float64, 0, len(m.Causes))
	for i := range m.Causes {
		r := Ranked{Cause: i, Off: math.Inf(1)}
		log := m.weigh(&m.Causes[i], root, places, read, &r)
		best = max(best, log)
		logs = append(logs, log)
		out = append(out, r)
	}
	sum := 0.0
	for i := range out {
		out[i].Share = math.Exp(logs[i] - best)
		sum += out[i].Share
	}
	for i := range out {
		out[i].Share /= sum
	}
	slices.SortStableFunc(out, func(a, b Ranked) int { return cmp.Compare(b.Share, a.Share) })
	class, top := 0, 0
	for i := range out {
		if out[i].Share*apart < out[top].Share {
			class++
			top = i
		}
		out[i].Class = class
	}
	return out, nil
}

// weigh returns the logarithm of a cause's weight.
func (m *Model) weigh(c *Cause, root lower, places []int, read []float64, r *Ranked) float64 {
	off := make([][]float64, len(c.Sizes)) // of each size, in standard deviations
	for i, s := range c.Sizes {
		x := make([]float64, len(places))
		for k, p := range places {
			x[k] = read[k] - s.Shown[p]
		}
		off[i] = root.solve(x)
	}
	add := func(p piece, value, chi float64) {
		r.pieces = append(r.pieces, p)
		if chi < r.Off {
			r.Off, r.Value = chi, value
		}
	}
	if c.Steps || len(c.Sizes) == 1 {
		for i, x := range off {
			chi := dot(x, x)
			add(piece{from: i, to: i, log: -chi/2 - math.Log(float64(len(off)))}, c.Sizes[i].Value, chi)
		}
	} else {
		for i := range len(off) - 1 {
			d := make([]float64, len(places))
			for k := range d {
				d[k] = off[i+1][k] - off[i][k]
			}
			a, b, e := dot(d, d), dot(d, off[i]), dot(off[i], off[i])
			p := piece{from: i, to: i + 1, at: 0.5, wide: 1, log: -e / 2}
			t := 0.0
			if a > 1e-12 {
				middle, s := -b/a, 1/math.Sqrt(a)
				t = min(max(middle, 0), 1)
				p.at, p.wide = t, min(s, 1)
				// exp(-(a t^2 + 2 b t + e)/2) over 0 to 1
				p.log = -(e-b*b/a)/2 + math.Log(s*math.Sqrt(2*math.Pi)) + logBetween(-middle/s, (1-middle)/s)
			}
			p.log -= math.Log(float64(len(off) - 1))
			add(p, c.Sizes[i].Value+t*(c.Sizes[i+1].Value-c.Sizes[i].Value), a*t*t+2*b*t+e)
		}
	}
	sum := math.Inf(-1)
	for _, p := range r.pieces {
		sum = logSum(sum, p.log)
	}
	return sum + math.Log(c.Prior)
}

// logBetween is the logarithm of the share of a normal distribution between two places.
func logBetween(from, to float64) float64 {
	if from > 0 {
		from, to = -to, -from // where erfc keeps its digits
	}
	upper, lower := math.Erfc(-to/math.Sqrt2)/2, math.Erfc(-from/math.Sqrt2)/2
	if share := upper - lower; share > 1e-290 {
		return math.Log(share)
	}
	return -to*to/2 - math.Log(max(-to, 1)*math.Sqrt(2*math.Pi)) // the tail alone
}

func logSum(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// covariance is that of two places.
func (m *Model) covariance(a, b int) float64 {
	sum := 0.0
	for _, f := range m.Factors {
		sum += f[a] * f[b]
	}
	if a == b {
		sum += m.Own[a] * m.Own[a]
	}
	return sum
}

// lower is the root L of a covariance L L'.
type lower [][]float64

// root is that of some places (Cholesky's).
func (m *Model) root(places []int) (lower, error) {
	l := make(lower, len(places))
	for i, a := range places {
		l[i] = make([]float64, i+1)
		for j := range i + 1 {
			x := m.covariance(a, places[j])
			for k := range j {
				x -= l[i][k] * l[j][k]
			}
			switch {
			case i != j:
				l[i][j] = x / l[j][j]
			case !(x > 0):
				return nil, ErrReadings
			default:
				l[i][i] = math.Sqrt(x)
			}
		}
	}
	return l, nil
}

// solve is L^-1 x.
func (l lower) solve(x []float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		out[i] = x[i]
		for k := range i {
			out[i] -= l[i][k] * out[k]
		}
		out[i] /= l[i][i]
	}
	return out
}
