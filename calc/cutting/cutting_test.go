package cutting

import (
	"fmt"
	"math"
	"math/bits"
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
	left := p.Longest
	for _, b := range p.Bars {
		if b.Offcut > p.Longest+1e-9 {
			t.Errorf("an offcut of %g, the longest is said to be %g", b.Offcut, p.Longest)
		}
		left = min(left, math.Abs(b.Offcut-p.Longest))
	}
	for i, l := range job.Leftovers {
		if taken[i] == 0 {
			left = min(left, math.Abs(l-p.Longest))
		}
	}
	if left > 1e-9 || p.AtMost < p.Longest {
		t.Errorf("no piece left over is %g long, at most %g", p.Longest, p.AtMost)
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

// everything finds, by dynamic programming over all sets of pieces, the least number of new reels and the longest
// piece that a plan with so many leaves: it knows nothing of bounds, of kinds or of the order of pieces.
func everything(job Job) (reels int, longest float64) {
	n := len(job.Pieces)
	sum := make([]float64, 1<<n) // of the pieces of a set, with a kerf for each
	for set := 1; set < 1<<n; set++ {
		k := bits.TrailingZeros(uint(set))
		sum[set] = sum[set&(set-1)] + job.Pieces[k] + job.Kerf
	}
	fits := func(set int, length float64) bool { return sum[set] <= length+job.Kerf+1e-9 }
	// with gives the sets that fit what was packed before and one bar more.
	with := func(packed []bool, length float64) []bool {
		out := slices.Clone(packed)
		for set := range out {
			for sub := set; sub > 0 && !out[set]; sub = (sub - 1) & set {
				out[set] = packed[set&^sub] && fits(sub, length)
			}
		}
		return out
	}
	// without packs all leftovers but one, and some reels.
	without := func(bar, reels int) []bool {
		packed := make([]bool, 1<<n)
		packed[0] = true
		for i, l := range job.Leftovers {
			if i != bar {
				packed = with(packed, l)
			}
		}
		for range reels {
			packed = with(packed, job.Reel)
		}
		return packed
	}
	all := 1<<n - 1
	packed := without(-1, 0)
	for ; !packed[all]; reels++ {
		packed = with(packed, job.Reel)
	}
	try := func(packed []bool, length float64) {
		for set := range packed {
			switch {
			case !packed[all&^set] || !fits(set, length):
			case set == 0:
				longest = max(longest, length)
			default:
				longest = max(longest, length-sum[set])
			}
		}
	}
	for i, l := range job.Leftovers {
		try(without(i, reels), l)
	}
	if reels > 0 {
		try(without(-1, reels-1), job.Reel)
	}
	return reels, longest
}

func TestSolveAgainstEverything(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		job := randomJob(r, 1+r.IntN(12), r.IntN(4))
		p, err := Solve(job)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, job, p)
		reels, longest := everything(job)
		if p.NewReels != reels || !p.Optimal || p.Least != reels {
			t.Errorf("%+v: %d new reels (optimal %v), want %d", job, p.NewReels, p.Optimal, reels)
		}
		// Lengths are whole centimetres and kerfs whole millimetres, so half a millimetre tells them apart.
		if math.Abs(p.Longest-longest) > 1e-6 || p.AtMost > longest+step {
			t.Errorf("%+v: the longest offcut is %g, at most %g; want %g", job, p.Longest, p.AtMost, longest)
		}
	}
}

// Jobs of 30 pieces are solved to the end: the plan says itself that none is better.
func TestThirtyPiecesAreProven(t *testing.T) {
	for i, job := range thirty() {
		p, err := Solve(job)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, job, p)
		if !p.Optimal || p.Least != p.NewReels || p.AtMost-p.Longest > step {
			t.Errorf("job %d: %d new reels, at least %d; longest offcut %g, at most %g", i, p.NewReels, p.Least, p.Longest, p.AtMost)
		}
	}
}

// thirty is 20 jobs of 30 pieces: short and long ones in centimetres with offcuts in the drawer, and of the kind
// that is hard to pack, a third of a reel more or less, to a tenth of a millimetre.
func thirty() []Job {
	r := rand.New(rand.NewPCG(11, 12))
	var out []Job
	for range 12 {
		out = append(out, randomJob(r, 30, r.IntN(4)))
	}
	for range 8 {
		job := Job{Reel: 5, Kerf: 0.003}
		for range 30 {
			job.Pieces = append(job.Pieces, 1+float64(r.IntN(15000))/1e4)
		}
		out = append(out, job)
	}
	return out
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
	for i, job := range thirty() {
		b.Run(fmt.Sprintf("30 pieces %d", i), func(b *testing.B) {
			for b.Loop() {
				if _, err := Solve(job); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
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
