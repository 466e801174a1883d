package diagnosis

import "math"

// point is one size of a cause that the readings leave, with what another place would show then.
type point struct {
	cause    int // in the ranking
	share    float64
	shown    []float64
	residual []float64 // of the readings, in standard deviations
}

const (
	fewest  = 0.002 // share of the best cause below which another is not told apart
	mostOf  = 30    // causes that are
	perEach = 5     // points of a piece
)

// Tells is how many bits a reading at each place would tell about which cause it is, on average: the mutual information
// of the cause and the reading (Shannon, "A mathematical theory of communication", 1948). Causes that show the same
// everywhere stay together whatever is read. ranked is what Rank gave for the readings.
func (m *Model) Tells(places []int, read []float64, ranked []Ranked) ([]float64, error) {
	root, err := m.root(places)
	if err != nil {
		return nil, err
	}
	points := m.left(root, places, read, ranked)
	out := make([]float64, len(m.Shown))
	for p := range out {
		out[p] = m.tells(p, root, places, points)
	}
	return out, nil
}

// left lists what the readings leave.
func (m *Model) left(root lower, places []int, read []float64, ranked []Ranked) (out []point) {
	sum := 0.0
	for i, r := range ranked {
		if i == mostOf || r.Share < fewest*ranked[0].Share {
			break
		}
		best := math.Inf(-1)
		for _, p := range r.pieces {
			best = max(best, p.log)
		}
		var own []point
		total := 0.0
		for _, p := range r.pieces {
			weight := math.Exp(p.log - best)
			if weight < 1e-3 {
				continue
			}
			from, to := m.Causes[r.Cause].Sizes[p.from].Shown, m.Causes[r.Cause].Sizes[p.to].Shown
			n := perEach
			if p.from == p.to {
				n = 1
			}
			for j := range n {
				t := 0.0
				if n > 1 { // spread over two standard deviations to both sides, as far as the piece goes
					low, high := max(p.at-2*p.wide, 0), min(p.at+2*p.wide, 1)
					t = low + (high-low)*(float64(j)+0.5)/float64(n)
				}
				x := point{cause: i, share: weight / float64(n), shown: make([]float64, len(from))}
				if n > 1 {
					x.share *= math.Exp(-(t - p.at) * (t - p.at) / (2 * p.wide * p.wide))
				}
				for k := range from {
					x.shown[k] = from[k] + t*(to[k]-from[k])
				}
				r := make([]float64, len(places))
				for k, q := range places {
					r[k] = read[k] - x.shown[q]
				}
				x.residual = root.solve(r)
				total += x.share
				own = append(own, x)
			}
		}
		for _, x := range own {
			x.share *= r.Share / total
			sum += x.share
			out = append(out, x)
		}
	}
	for i := range out {
		out[i].share /= sum
	}
	return out
}

// tells is the information of one place, in bits.
func (m *Model) tells(p int, root lower, places []int, points []point) float64 {
	with := make([]float64, len(places))
	for k, q := range places {
		with[k] = m.covariance(p, q)
	}
	with = root.solve(with)
	sigma := math.Sqrt(max(m.covariance(p, p)-dot(with, with), 1e-4*m.Own[p]*m.Own[p]))
	means := make([]float64, len(points))
	shares := map[int]float64{}
	for i, x := range points {
		means[i] = (x.shown[p] + dot(with, x.residual)) / sigma
		shares[x.cause] += x.share
	}
	// The mean over what may be read, in three places of each point's bell (Gauss and Hermite).
	bits := 0.0
	for i, x := range points {
		for _, node := range [3][2]float64{{-math.Sqrt(3), 1.0 / 6}, {0, 2.0 / 3}, {math.Sqrt(3), 1.0 / 6}} {
			y := means[i] + node[0]
			all, own := 0.0, 0.0
			for j := range points {
				d := y - means[j]
				if d > 8 || d < -8 {
					continue
				}
				w := points[j].share * math.Exp(-d*d/2)
				all += w
				if points[j].cause == x.cause {
					own += w
				}
			}
			bits += x.share * node[1] * math.Log2(own/shares[x.cause]/all)
		}
	}
	return bits
}
