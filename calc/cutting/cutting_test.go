package cutting

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
)

func repeat(counts map[float64]int) []float64 {
	var pieces []float64
	for l, n := range counts {
		for range n {
			pieces = append(pieces, l)
		}
	}
	slices.Sort(pieces) // a map's order changes
	return pieces
}

func TestSolve(t *testing.T) {
	const (
		woodco = "W. Winston, Operations Research, cutting-stock example, 25, 20 and 15 boards of 3, 5 and 9 ft from 17 ft (from memory); 310/17 rounds up to 19"
		area   = "construction: total length fills the reels exactly (area bound)"
		halve  = "construction: pieces over half a reel need one each"
	)
	tests := []struct {
		name   string
		job    Job
		want   int
		source string
	}{
		{"nothing to cut", Job{Reel: 5}, 0, "definition"},
		{"one piece, a whole reel", Job{Pieces: []float64{5}, Reel: 5, Kerf: 0.003}, 1, "definition"},
		{"no kerf after the last piece", Job{Pieces: []float64{0.997, 1, 1}, Reel: 3.003, Kerf: 0.003}, 1, area},
		{"kerfs make it two", Job{Pieces: []float64{1, 1, 1}, Reel: 3.005, Kerf: 0.003}, 2, "construction: 3 m and two kerfs are 3.006 m"},
		{"tenths add up", Job{Pieces: repeat(map[float64]int{0.1: 30}), Reel: 0.3}, 10, area},
		{"over half a reel", Job{Pieces: []float64{2.6, 2.6, 2.6, 2.6}, Reel: 5}, 4, halve},
		{"first fit decreasing takes one more", Job{Pieces: []float64{4, 4, 3, 3, 3, 3}, Reel: 10}, 2, area},
		{"best fit decreasing takes one more too", Job{Pieces: []float64{6, 5, 4, 4, 3, 3, 3, 2}, Reel: 10}, 3, area},
		{"a leftover saves a reel", Job{Pieces: []float64{4, 3, 2}, Reel: 5, Leftovers: []float64{1, 4.2}}, 1, "construction: 3 + 2 on one reel, 4 on the leftover"},
		{"only leftovers", Job{Pieces: []float64{1, 1, 0.5}, Reel: 5, Leftovers: []float64{0.6, 2.1}}, 0, "construction: 2 and 0.5 m on 2.1 and 0.6 m"},
		{"a leftover longer than a reel", Job{Pieces: []float64{7, 2}, Reel: 5, Leftovers: []float64{7.5, 2}}, 0, "construction: each on its own leftover"},
		{"two leftovers of the same length", Job{Pieces: []float64{1.5, 1.5, 1.5}, Reel: 2, Leftovers: []float64{2, 2}}, 1, halve},
		{"boards of 17 ft", Job{Reel: 17, Pieces: repeat(map[float64]int{3: 25, 5: 20, 9: 15})}, 19, woodco},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			p, err := Solve(tt.job)
			if err != nil {
				t.Fatal(err)
			}
			if p.NewReels != tt.want || !p.Optimal || p.Least != tt.want {
				t.Errorf("%d new reels, at least %d, optimal %v; want %d", p.NewReels, p.Least, p.Optimal, tt.want)
			}
			sound(t, tt.job, p)
		})
	}
}

// A job too large to search whole: the plan stays close and does not claim to
// be the best. Source: the paper-mill example of the cutting-stock problem, 219
// rolls of 13 widths from rolls of 5600 mm (widely reprinted; from memory); its
// known optimum, 73, is the area bound, 407160 mm / 5600 mm rounded up.
func TestSolveStatesItsGap(t *testing.T) {
	job := Job{Reel: 5.6, Pieces: repeat(map[float64]int{
		1.38: 22, 1.52: 25, 1.56: 12, 1.71: 14, 1.82: 18, 1.88: 18, 1.93: 20,
		2.00: 10, 2.05: 12, 2.10: 14, 2.14: 16, 2.15: 18, 2.20: 20})}
	p, err := Solve(job)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, job, p)
	if p.Least != 73 || p.NewReels > 74 || p.Optimal != (p.NewReels == 73) {
		t.Errorf("%d new reels, at least %d, optimal %v; want 73 or 74, at least 73", p.NewReels, p.Least, p.Optimal)
	}
}

// sound checks that no piece is lost, no bar is overfull, and sums are right.
func sound(t *testing.T, job Job, p Plan) {
	t.Helper()
	cut := make([]int, len(job.Pieces))
	taken := make([]int, len(job.Leftovers))
	reels, waste, bars := 0, 0.0, 0.0
	for i, b := range p.Bars {
		want := job.Reel
		if b.Leftover >= 0 {
			taken[b.Leftover]++
			want = job.Leftovers[b.Leftover]
		} else {
			reels++
		}
		if b.Length != want || len(b.Pieces) == 0 {
			t.Errorf("bar %d: %+v", i, b)
		}
		if i > 0 && p.Bars[i-1].Leftover < 0 && b.Leftover >= 0 {
			t.Error("a leftover comes after a reel")
		}
		sum := 0.0
		for _, k := range b.Pieces {
			cut[k]++
			sum += job.Pieces[k]
		}
		if sum+float64(len(b.Pieces)-1)*job.Kerf > b.Length+1e-8 {
			t.Errorf("bar %d is overfull: %g of %g", i, sum, b.Length)
		}
		if off := b.Length - sum - float64(len(b.Pieces))*job.Kerf; math.Abs(b.Offcut-max(0, off)) > 1e-8 {
			t.Errorf("bar %d: offcut %g, want %g", i, b.Offcut, off)
		}
		waste += b.Length - sum
		bars += b.Length
	}
	for k, n := range cut {
		if n != 1 {
			t.Errorf("piece %d is cut %d times", k, n)
		}
	}
	for k, n := range taken {
		if n > 1 {
			t.Errorf("leftover %d is taken %d times", k, n)
		}
	}
	if reels != p.NewReels || p.Least > reels || math.Abs(p.Waste-waste) > 1e-6 {
		t.Errorf("%d reels counted, waste %g: %+v", reels, waste, p)
	}
}

func randomJob(r *rand.Rand, pieces, leftovers int) Job {
	job := Job{Reel: 5, Kerf: float64(r.IntN(4)) / 1000}
	for range pieces {
		job.Pieces = append(job.Pieces, float64(5+r.IntN(250))/100)
	}
	for range leftovers {
		job.Leftovers = append(job.Leftovers, float64(10+r.IntN(300))/100)
	}
	return job
}

// fewest finds the least number of new reels by trying every place for each
// piece.
func fewest(job Job) int {
	best := len(job.Pieces)
	room := slices.Clone(job.Leftovers)
	for i := range room {
		room[i] += job.Kerf + rounding
	}
	var place func(k, reels int)
	place = func(k, reels int) {
		if reels >= best {
			return
		}
		if k == len(job.Pieces) {
			best = reels
			return
		}
		size := job.Pieces[k] + job.Kerf
		for i := range room {
			if room[i] >= size {
				room[i] -= size
				place(k+1, reels)
				room[i] += size
			}
		}
		room = append(room, job.Reel+job.Kerf+rounding-size)
		place(k+1, reels+1)
		room = room[:len(room)-1]
	}
	place(0, 0)
	return best
}

func TestSolveAgainstTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		job := randomJob(r, 1+r.IntN(8), r.IntN(3))
		p, err := Solve(job)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, job, p)
		if want := fewest(job); p.NewReels != want || !p.Optimal {
			t.Errorf("%+v: %d new reels (optimal %v), want %d", job, p.NewReels, p.Optimal, want)
		}
	}
}

// firstFitDecreasing is written apart from the package's own.
func firstFitDecreasing(job Job) (reels int) {
	pieces := slices.Clone(job.Pieces)
	slices.Sort(pieces)
	slices.Reverse(pieces)
	room := slices.Clone(job.Leftovers)
	for i := range room {
		room[i] += job.Kerf
	}
	for _, l := range pieces {
		i := slices.IndexFunc(room, func(r float64) bool { return r >= l+job.Kerf-rounding })
		if i < 0 {
			room, i, reels = append(room, job.Reel+job.Kerf), len(room), reels+1
		}
		room[i] -= l + job.Kerf
	}
	return reels
}

func TestNeverWorseThanFirstFitDecreasing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, pieces := range []int{10, 30, 100, 400} {
		for range 5 {
			job := randomJob(r, pieces, r.IntN(6))
			slices.Sort(job.Leftovers)
			p, err := Solve(job)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, job, p)
			if ffd := firstFitDecreasing(job); p.NewReels > ffd {
				t.Errorf("%d pieces: %d reels, first fit decreasing %d", pieces, p.NewReels, ffd)
			}
			again, err := Solve(job)
			if err != nil || !reflect.DeepEqual(p, again) {
				t.Error("the same job gave another plan")
			}
		}
	}
}

func TestRefused(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name string
		job  Job
		want string
	}{
		{"no reel", Job{}, "length 0 m of reel"},
		{"reel no number", Job{Reel: nan}, "length NaN m of reel"},
		{"negative kerf", Job{Reel: 5, Kerf: -1}, "kerf -1 m"},
		{"piece of nothing", Job{Reel: 5, Pieces: []float64{1, 0}}, "length 0 m of piece 2"},
		{"piece too long", Job{Reel: 5, Pieces: []float64{5.0004}}, "piece 1 of 5.0004 m is longer than any reel or leftover: the longest is 5 m"},
		{"leftover no number", Job{Reel: 5, Leftovers: []float64{nan}}, "of leftover 1"},
		{"two for one leftover", Job{Reel: 5, Pieces: []float64{6, 6}, Leftovers: []float64{7}}, "do not all fit"},
		{"too many pieces", Job{Reel: 5, Pieces: make([]float64, MaxPieces+1)}, "10001 pieces"},
		{"too many leftovers", Job{Reel: 5, Leftovers: make([]float64, MaxPieces+1)}, "10001 leftovers"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Solve(tt.job); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}

func BenchmarkSolve(b *testing.B) {
	for name, job := range map[string]Job{
		"20 pieces":    randomJob(rand.New(rand.NewPCG(5, 6)), 20, 3),
		"400 pieces":   randomJob(rand.New(rand.NewPCG(7, 8)), 400, 10),
		"the greatest": randomJob(rand.New(rand.NewPCG(9, 10)), MaxPieces, MaxPieces),
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Solve(job); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	distinct := Job{Reel: 5, Pieces: make([]float64, MaxPieces)}
	for i := range distinct.Pieces {
		distinct.Pieces[i] = 0.3 + float64(i)*1.7e-4
	}
	b.Run("all different", func(b *testing.B) {
		for b.Loop() {
			if _, err := Solve(distinct); err != nil {
				b.Fatal(err)
			}
		}
	})
}
