package diagnosis

import (
	"errors"
	"math"
	"testing"
)

// bench is three places on a way and four causes: in front of all, in the middle twice the same, and one of two sizes.
func bench() *Model {
	m := &Model{
		Shown:   []float64{12, 11.5, 11},
		Own:     []float64{0.02, 0.02, 0.02},
		Factors: [][]float64{{0.06, 0.058, 0.055}, {0, 0.02, 0.05}},
		Causes: []Cause{
			{Prior: 1, Sizes: []Size{{0, []float64{12, 11.5, 11}}}},
			{Prior: 2},
			{Prior: 2},
			{Prior: 1, Steps: true, Sizes: []Size{{1, []float64{11, 10.5, 10}}, {2, []float64{12, 11.5, 9.5}}}},
		},
	}
	for x := 0.1; x < 3; x *= 2 {
		for i := 1; i < 3; i++ {
			m.Causes[i].Sizes = append(m.Causes[i].Sizes, Size{x, []float64{12, 11.5 - x, 11 - 0.9*x}})
		}
	}
	return m
}

// The weights are those of integrals taken in small steps, with the covariance inverted by hand for two readings.
func TestRankAgainstSteps(t *testing.T) {
	m := bench()
	places, read := []int{1, 2}, []float64{11.05, 10.62}
	ranked, err := m.Rank(places, read)
	if err != nil {
		t.Fatal(err)
	}
	a, b, c := m.covariance(1, 1), m.covariance(1, 2), m.covariance(2, 2)
	weight := func(shown []float64) float64 {
		x, y := read[0]-shown[1], read[1]-shown[2]
		return math.Exp(-(c*x*x - 2*b*x*y + a*y*y) / (a*c - b*b) / 2)
	}
	want, sum := make([]float64, len(m.Causes)), 0.0
	for i, cause := range m.Causes {
		n := 0.0
		for k, s := range cause.Sizes {
			if cause.Steps || len(cause.Sizes) == 1 {
				want[i] += weight(s.Shown)
				n++
				continue
			}
			if k == 0 {
				continue
			}
			const steps = 2000
			for j := range steps {
				u := (float64(j) + 0.5) / steps
				mid := make([]float64, 3)
				for p := range mid {
					mid[p] = cause.Sizes[k-1].Shown[p]*(1-u) + s.Shown[p]*u
				}
				want[i] += weight(mid) / steps
			}
			n++
		}
		want[i] *= cause.Prior / n
		sum += want[i]
	}
	for _, r := range ranked {
		if w := want[r.Cause] / sum; math.Abs(r.Share-w) > 1e-5 {
			t.Errorf("cause %d: %.6f, want %.6f", r.Cause, r.Share, w)
		}
	}
	if ranked[0].Class != 0 || ranked[1].Class != 0 || ranked[0].Share != ranked[1].Share {
		t.Errorf("two causes that show the same are told apart: %+v", ranked)
	}
	if math.Abs(ranked[0].Value-0.44) > 0.05 {
		t.Errorf("the size that fits is %g", ranked[0].Value)
	}
	if last := ranked[len(ranked)-1]; last.Class == 0 {
		t.Errorf("%+v is of the first class", last)
	}
}

// A reading tells nothing of causes that show the same, and at most what there is to tell.
func TestTells(t *testing.T) {
	m := bench()
	m.Causes = m.Causes[1:3]
	ranked, err := m.Rank([]int{2}, []float64{10.6})
	if err != nil {
		t.Fatal(err)
	}
	bits, err := m.Tells([]int{2}, []float64{10.6}, ranked)
	if err != nil {
		t.Fatal(err)
	}
	for p, x := range bits {
		if math.Abs(x) > 1e-9 {
			t.Errorf("place %d tells %g bits of one cause and its twin", p, x)
		}
	}
	for i := range m.Causes[1].Sizes { // now it lies behind the second place
		m.Causes[1].Sizes[i].Shown[1] = 11.5
	}
	ranked, _ = m.Rank([]int{2}, []float64{10.6})
	bits, _ = m.Tells([]int{2}, []float64{10.6}, ranked)
	if bits[1] < 0.9 || bits[1] > 1 || bits[1] <= bits[0] {
		t.Errorf("%g bits; one of two is one bit, told at the place between them", bits)
	}
}

func TestRankRefuses(t *testing.T) {
	m := bench()
	m.Own[0], m.Factors = 0, nil
	if _, err := m.Rank([]int{0}, []float64{12}); !errors.Is(err, ErrReadings) {
		t.Errorf("no spread: %v", err)
	}
	if _, err := m.Rank([]int{1, 2}, []float64{12}); !errors.Is(err, ErrReadings) {
		t.Errorf("a place too many: %v", err)
	}
}
