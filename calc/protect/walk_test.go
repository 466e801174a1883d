package protect

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"sync"
	"testing"

	"ohmstead/calc/thorough"
)

// want is an expected exposure: amps, the sources, and the conductors whose
// fuses bound it.
type want struct {
	amps    float64
	from    []int
	through []int
}

func plus(a, b int, fuse float64) Conductor {
	return Conductor{A: a, B: b, Side: Plus, Fuse: fuse}
}

func minus(a, b int) Conductor { return Conductor{A: a, B: b, Side: Minus} }

// The sides share node numbers here: plus nodes count from 0, minus nodes from
// 10.
func TestWalk(t *testing.T) {
	one := []int{0}
	both := []int{0, 1}
	tests := []struct {
		name       string
		sources    []Source
		conductors []Conductor
		loads      []Load
		want       []want
	}{
		{
			// 0 --- 1: nothing but the supply bounds it.
			name:       "unfused lead off a 20 A supply",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(0, 1, 0), minus(10, 11)},
			loads:      []Load{{1, 11}},
			want:       []want{{20, one, nil}, {20, one, nil}},
		},
		{
			// 0 -5- 1 --- 2 --- 3: the fuse at the supply is the one of the
			// first lead, at its A end, and backs all that follows.
			name:       "fuse at the source protects a chain",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(0, 1, 5), plus(1, 2, 0), plus(2, 3, 0), minus(10, 11), minus(11, 12), minus(12, 13)},
			loads:      []Load{{3, 13}},
			want:       []want{{5, one, one}, {5, one, one}, {5, one, one}, {5, one, one}, {5, one, one}, {5, one, one}},
		},
		{
			// 0 -15- 1 --- 2 and 1 -3- 3: the unfused branch sees the trunk's
			// 15 A, the fused one its own 3 A.
			name:       "thinner branch after a fused trunk",
			sources:    []Source{{0, 10, 30}},
			conductors: []Conductor{plus(0, 1, 15), plus(1, 2, 0), plus(1, 3, 3)},
			want:       []want{{15, one, one}, {15, one, one}, {3, one, []int{2}}},
		},
		{
			// 0 -5- 1, 0 -5- 2, 1 --- 2: whatever lead of the ring fails, it
			// is fed from its own fuse at one end and round the ring at the
			// other, through the other fuse: 5 A either way, never 10 A. For a
			// fused lead the B end tells: the other fuse. The tie sees one
			// fuse at each end.
			name:       "ring",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(0, 1, 5), plus(0, 2, 5), plus(1, 2, 0)},
			want:       []want{{5, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{0}}},
		},
		{
			// As above with 10 A in the second lead: the first lead, if it
			// fails, gets 10 A from behind; its own 5 A fuse does not see them.
			name:       "ring fed from behind",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(0, 1, 5), plus(0, 2, 10), plus(1, 2, 0)},
			want:       []want{{10, one, []int{1}}, {10, one, []int{1}}, {10, one, []int{1}}},
		},
		{
			// 0 -5- 1 twice, 1 --- 2: the third lead gets both fuses' worth.
			name:       "two fused leads feed a thin third",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(0, 1, 5), plus(0, 1, 5), plus(1, 2, 0)},
			want:       []want{{5, one, []int{0}}, {5, one, []int{1}}, {10, one, []int{0, 1}}},
		},
		{
			// 0 --- 1 --- 2 --- 3, supplies of 6 A at 0 and 9 A at 3: each
			// lead is fed 6 A from the left and 9 A from the right, but at its
			// two ends, which do not add up.
			name:       "two supplies through one run",
			sources:    []Source{{0, 10, 6}, {3, 13, 9}},
			conductors: []Conductor{plus(0, 1, 0), plus(1, 2, 0), plus(2, 3, 0), plus(1, 4, 0)},
			want:       []want{{9, []int{1}, nil}, {9, []int{1}, nil}, {9, []int{1}, nil}, {15, both, nil}},
		},
		{
			// Three 5 A pluses to loads 1, 2, 3; their returns meet at 14 and
			// share one conductor to the supply: 3 * 5 A = 15 A in it, 5 A in
			// each of the three.
			name:    "shared return of three fused pluses",
			sources: []Source{{0, 10, 40}},
			conductors: []Conductor{
				plus(0, 1, 5), plus(0, 2, 5), plus(0, 3, 5),
				minus(11, 14), minus(12, 14), minus(13, 14), minus(14, 10),
			},
			loads: []Load{{1, 11}, {2, 12}, {3, 13}},
			want: []want{
				{5, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{2}},
				{5, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{2}}, {15, one, []int{0, 1, 2}},
			},
		},
		{
			// The same behind a 12 A supply.
			name:    "shared return of a limited supply",
			sources: []Source{{0, 10, 12}},
			conductors: []Conductor{
				plus(0, 1, 5), plus(0, 2, 5), plus(0, 3, 5),
				minus(11, 14), minus(12, 14), minus(13, 14), minus(14, 10),
			},
			loads: []Load{{1, 11}, {2, 12}, {3, 13}},
			want: []want{
				{5, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{2}},
				{5, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{2}}, {12, one, nil},
			},
		},
		{
			// Rails 1 --- 2 --- 3 with a tail 3 --- 4, fed by 5 A leads at 1
			// and 3. Between the feeds a fault gets 5 A from either end; in
			// the tail both feeds arrive together: 10 A. The minus rails form
			// a ring with their leads, so there one path counts: 5 A; the tail
			// of the minus is a bridge: 10 A.
			name:    "run fed at both ends with a tail",
			sources: []Source{{0, 10, 20}},
			conductors: []Conductor{
				plus(0, 1, 5), plus(0, 3, 5), plus(1, 2, 0), plus(2, 3, 0), plus(3, 4, 0),
				minus(10, 11), minus(10, 13), minus(11, 12), minus(12, 13), minus(13, 14),
			},
			loads: []Load{{1, 11}, {2, 12}, {3, 13}, {4, 14}},
			want: []want{
				{5, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{0}}, {5, one, []int{0}}, {10, one, []int{0, 1}},
				{5, one, []int{0}}, {5, one, []int{0}}, {5, one, []int{0}}, {5, one, []int{0}}, {10, one, []int{0, 1}},
			},
		},
		{
			// The lead runs from the strip to the supply, so its fuse sits at
			// the strip: the lead itself gets the supply's 20 A, and only what
			// follows is backed by the fuse.
			name:       "fuse at the wrong end",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(1, 0, 5), plus(1, 2, 0)},
			want:       []want{{20, one, nil}, {5, one, []int{0}}},
		},
		{
			// A limited supply of 4 A needs no fuse; with one of 5 A its limit
			// still comes first.
			name:       "limited supply",
			sources:    []Source{{0, 10, 4}},
			conductors: []Conductor{plus(0, 1, 0), plus(0, 2, 5)},
			want:       []want{{4, one, nil}, {4, one, nil}},
		},
		{
			name:       "nothing feeds it",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(1, 2, 0), minus(11, 12), minus(10, 13)},
			loads:      []Load{{1, 11}, {2, 12}},
			want:       []want{{0, nil, nil}, {0, nil, nil}, {0, nil, nil}},
		},
		{
			// Supply 0 (8 A) feeds load 1, supply 1 (6 A) feeds load 3; a tie
			// joins the minus sides. No plus joins them, so the tie carries
			// nothing.
			name:    "common minus of separate supplies",
			sources: []Source{{0, 10, 8}, {2, 12, 6}},
			conductors: []Conductor{
				plus(0, 1, 0), plus(2, 3, 0), minus(10, 11), minus(12, 13), minus(10, 12),
			},
			loads: []Load{{1, 11}, {3, 13}},
			want:  []want{{8, one, nil}, {6, []int{1}, nil}, {8, one, nil}, {6, []int{1}, nil}, {0, nil, nil}},
		},
		{
			// Supply 0 (8 A) feeds load 1 but that returns at supply 1's
			// side, so all 8 A come back over the tie.
			name:    "return by way of another supply",
			sources: []Source{{0, 10, 8}, {2, 12, 6}},
			conductors: []Conductor{
				plus(0, 1, 0), plus(2, 3, 0), minus(12, 11), minus(10, 12),
			},
			loads: []Load{{1, 11}, {3, 12}},
			want:  []want{{8, one, nil}, {6, []int{1}, nil}, {8, one, nil}, {8, one, nil}},
		},
		{
			// A lead from a node to itself sees all that arrives there.
			name:       "loop",
			sources:    []Source{{0, 10, 20}},
			conductors: []Conductor{plus(0, 1, 5), plus(0, 1, 3), plus(1, 1, 2), minus(10, 10)},
			want:       []want{{5, one, []int{0}}, {5, one, []int{0}}, {8, one, []int{0, 1}}, {0, nil, nil}},
		},
		{
			// 0 -30- 1, then two 5 A leads from 1 to 2 and a lead on: 10 A
			// through the two, not 30 A.
			name:       "fuses in series",
			sources:    []Source{{0, 10, 40}},
			conductors: []Conductor{plus(0, 1, 30), plus(1, 2, 5), plus(1, 2, 5), plus(2, 3, 0)},
			want:       []want{{30, one, []int{0}}, {5, one, []int{1}}, {5, one, []int{2}}, {10, one, []int{1, 2}}},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := Grid{Nodes: 20, Sources: tt.sources, Conductors: tt.conductors, Loads: tt.loads}
			got, err := Walk(g)
			if err != nil {
				t.Fatal(err)
			}
			for i, w := range tt.want {
				e := got[i]
				if e.Amps != w.amps || !slices.Equal(e.From(), w.from) || !slices.Equal(e.Through(), w.through) {
					t.Errorf("conductor %d: got %g A from %v through %v, want %g A from %v through %v",
						i, e.Amps, e.From(), e.Through(), w.amps, w.from, w.through)
				}
			}
		})
	}
}

func TestOver(t *testing.T) {
	g := Grid{Nodes: 2, Sources: []Source{{0, 0, 5}}, Conductors: []Conductor{
		{A: 0, B: 1, Ampacity: 5}, {A: 0, B: 1, Ampacity: 4.99}, {A: 0, B: 1, Ampacity: math.Inf(1)},
	}}
	e, err := Walk(g)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []bool{false, true, false} {
		if got := e[i].Over(g.Conductors[i]); got != want {
			t.Errorf("%g A in a conductor for %g A: over is %v, want %v", e[i].Amps, g.Conductors[i].Ampacity, got, want)
		}
	}
}

func TestWalkRefuses(t *testing.T) {
	tests := []struct {
		name string
		grid Grid
		want string
	}{
		{"no such node", Grid{Nodes: 2, Conductors: []Conductor{{A: 0, B: 2}}},
			"protect: conductor 0 refers to node 2; there are 2"},
		{"negative node of a load", Grid{Nodes: 2, Loads: []Load{{0, 0}, {0, -1}}},
			"protect: load 1 refers to node -1; there are 2"},
		{"limit not a number", Grid{Nodes: 1, Sources: []Source{{0, 0, math.NaN()}}},
			"protect: source 0 has a limit of NaN A; the range is 0 to 1e+06 A"},
		{"negative fuse", Grid{Nodes: 1, Conductors: []Conductor{{Fuse: -1}}},
			"protect: conductor 0 has a fuse of -1 A; the range is 0 to 1e+06 A"},
		{"negative ampacity", Grid{Nodes: 1, Conductors: []Conductor{{Ampacity: -1}}},
			"protect: conductor 0 has an ampacity of -1 A; the range is 0 to +Inf A"},
		{"third side", Grid{Nodes: 1, Conductors: []Conductor{{Side: 2}}},
			"protect: conductor 0 has side 2; it must be plus or minus"},
		{"negative size", Grid{Nodes: -1},
			"protect: a grid cannot have -1 nodes"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Walk(tt.grid); fmt.Sprint(err) != tt.want {
				t.Errorf("got %v, want %s", err, tt.want)
			}
		})
	}
}

// TestAskedAtOnce has several goroutines ask the same exposures, for the race
// detector to watch.
func TestAskedAtOnce(t *testing.T) {
	exposures, err := Walk(ladder(40))
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for i, e := range exposures {
				if e.Amps > 0 && (len(e.From()) != 1 || len(e.Through()) == 0) {
					t.Errorf("conductor %d: from %v through %v", i, e.From(), e.Through())
				}
			}
		})
	}
	all.Wait()
}

// TestLongChain keeps the recursion along a chain far from its end.
func TestLongChain(t *testing.T) {
	g := Grid{Nodes: 100001, Sources: []Source{{0, 0, 20}}}
	for v := range g.Nodes - 1 {
		g.Conductors = append(g.Conductors, plus(v, v+1, 0), minus(v, v+1))
	}
	exposures, err := Walk(g)
	if err != nil {
		t.Fatal(err)
	}
	if last := exposures[len(exposures)-2]; last.Amps != 20 || !slices.Equal(last.From(), []int{0}) {
		t.Errorf("got %g A from %v, want 20 A from source 0", last.Amps, last.From())
	}
}

// randomGrid makes a small grid of any topology: rings, parallel leads, loops,
// several supplies, fuses at either end.
func randomGrid(r *rand.Rand) Grid {
	ratings := []float64{0, 0, 0, 2, 3, 5, 7.5, 10}
	g := Grid{Nodes: 2 + r.Intn(6)}
	node := func() int { return r.Intn(g.Nodes) }
	for range 1 + r.Intn(3) {
		g.Sources = append(g.Sources, Source{node(), node(), float64(1 + r.Intn(20))})
	}
	for range 1 + r.Intn(12) {
		g.Conductors = append(g.Conductors, Conductor{A: node(), B: node(), Side: Side(r.Intn(2)), Fuse: ratings[r.Intn(len(ratings))]})
	}
	for range r.Intn(5) {
		g.Loads = append(g.Loads, Load{node(), node()})
	}
	return g
}

// TestWalkPlain compares the walk with its rules written down plainly.
func TestWalkPlain(t *testing.T) {
	for seed := range int64(4000) {
		g := randomGrid(rand.New(rand.NewSource(seed)))
		checkPlain(t, g)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

func checkPlain(t *testing.T, g Grid) {
	t.Helper()
	got, err := Walk(g)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, s := range g.Sources {
		sum += s.Limit
	}
	for i, e := range got {
		if w := plainExposure(g, i); math.Abs(e.Amps-w) > 1e-6 {
			t.Errorf("conductor %d: got %g A, want %g A\n%+v", i, e.Amps, w, g)
		}
		ends := [2]float64{e.Amps, e.Amps}
		if g.Conductors[i].Side == Plus {
			ends = plainEnters(g, i)
		}
		if math.Abs(e.Enters[0]-ends[0]) > 1e-6 || math.Abs(e.Enters[1]-ends[1]) > 1e-6 {
			t.Errorf("conductor %d: %g A enter at its ends, want %g A\n%+v", i, e.Enters, ends, g)
		}
		if e.Amps > sum+1e-6 {
			t.Errorf("conductor %d: %g A exceed the %g A of all supplies\n%+v", i, e.Amps, sum, g)
		}
		checkTrace(t, g, i, e)
		if g.Conductors[i].Side == Minus {
			checkReturns(t, g, i, e.Amps)
		}
	}
}

// TestWalkPlainSparse does so for larger grids that look more like plans: two
// trees of conductors with a few ties.
func TestWalkPlainSparse(t *testing.T) {
	ratings := []float64{0, 0, 0, 0, 3, 5, 7.5, 10, 15}
	for seed := range int64(thorough.Or(150, 30)) {
		r := rand.New(rand.NewSource(seed))
		const nodes = 25
		g := Grid{Nodes: 2 * nodes}
		for side, start := range []int{0, nodes} {
			add := func(a, b int) {
				if r.Intn(2) == 0 {
					a, b = b, a
				}
				g.Conductors = append(g.Conductors, Conductor{A: start + a, B: start + b, Side: Side(side), Fuse: ratings[r.Intn(len(ratings))]})
			}
			for v := 1; v < nodes; v++ {
				add(max(0, v-1-r.Intn(4)), v)
			}
			for range r.Intn(5) {
				add(r.Intn(nodes), r.Intn(nodes))
			}
		}
		for range 1 + r.Intn(4) {
			g.Sources = append(g.Sources, Source{r.Intn(nodes), nodes + r.Intn(nodes), float64(2 + r.Intn(30))})
		}
		for range r.Intn(12) {
			g.Loads = append(g.Loads, Load{r.Intn(nodes), nodes + r.Intn(nodes)})
		}
		checkPlain(t, g)
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// checkTrace checks that the named sources and fuses account for the current:
// the sources bring it without any other, they suffice for it together, and
// where no fuse bounds it they are spent in full.
func checkTrace(t *testing.T, g Grid, i int, e Exposure) {
	t.Helper()
	limits := 0.0
	alone := g
	alone.Sources = slices.Clone(g.Sources)
	for k, s := range g.Sources {
		if slices.Contains(e.From(), k) {
			limits += s.Limit
		} else {
			alone.Sources[k].Limit = 0
		}
	}
	if w := plainExposure(alone, i); math.Abs(w-e.Amps) > 1e-6 {
		t.Errorf("conductor %d: sources %v alone bring %g A, not %g A\n%+v", i, e.From(), w, e.Amps, g)
	}
	fuses := 0.0
	for _, c := range e.Through() {
		if g.Conductors[c].Fuse == 0 || g.Conductors[c].Side != Plus {
			t.Errorf("conductor %d: bound by conductor %d, which has no fuse\n%+v", i, c, g)
		}
		fuses += g.Conductors[c].Fuse
	}
	switch {
	case len(e.Through()) == 0 && math.Abs(e.Amps-limits) > 1e-6:
		t.Errorf("conductor %d: %g A, bound by no fuse, are not the %g A of sources %v\n%+v", i, e.Amps, limits, e.From(), g)
	case e.Amps > limits+1e-6 || fuses > e.Amps+1e-6:
		t.Errorf("conductor %d: %g A from sources %v of %g A through fuses %v of %g A\n%+v", i, e.Amps, e.From(), limits, e.Through(), fuses, g)
	}
}

// TestWalkMonotone checks that a fuse more, or a smaller one, never raises an
// exposure.
func TestWalkMonotone(t *testing.T) {
	for seed := range int64(2000) {
		r := rand.New(rand.NewSource(seed))
		g := randomGrid(r)
		before, err := Walk(g)
		if err != nil {
			t.Fatal(err)
		}
		c := &g.Conductors[r.Intn(len(g.Conductors))]
		if c.Fuse == 0 || c.Fuse > 4 {
			c.Fuse = 4
		} else {
			c.Fuse /= 2
		}
		after, err := Walk(g)
		if err != nil {
			t.Fatal(err)
		}
		for i := range before {
			if after[i].Amps > before[i].Amps+1e-6 {
				t.Fatalf("seed %d: a fuse raises conductor %d from %g A to %g A\n%+v", seed, i, before[i].Amps, after[i].Amps, g)
			}
		}
	}
}

func FuzzWalk(f *testing.F) {
	f.Add([]byte{3, 1, 2, 0, 1, 20, 0, 1, 0, 5, 1, 2, 1, 0, 2, 1})
	f.Add([]byte{5, 2, 6, 0, 0, 9, 1, 1, 7, 0, 1, 0, 3, 1, 2, 0, 0, 2, 0, 0, 4, 0, 0, 1, 0, 3, 3, 1, 2, 1, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() int {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return int(b)
		}
		g := Grid{Nodes: 1 + next()%6}
		sources, conductors := next()%4, next()%10
		for range sources {
			g.Sources = append(g.Sources, Source{next() % g.Nodes, next() % g.Nodes, float64(next())})
		}
		for range conductors {
			g.Conductors = append(g.Conductors, Conductor{A: next() % g.Nodes, B: next() % g.Nodes, Side: Side(next() % 2), Fuse: float64(next()) / 2})
		}
		for len(data) > 0 && len(g.Loads) < 6 {
			g.Loads = append(g.Loads, Load{next() % g.Nodes, next() % g.Nodes})
		}
		checkPlain(t, g)
	})
}

// checkReturns holds that through a minus conductor no less returns than one path brings, the same where it is
// the only way, and with another one gone what a grid without that one has.
func checkReturns(t *testing.T, g Grid, i int, exposure float64) {
	t.Helper()
	r, err := g.Returns()
	if err != nil {
		t.Fatal(err)
	}
	c := g.Conductors[i]
	all := r.Through(i, none)
	if c.A != c.B && all < exposure-1e-6 {
		t.Errorf("conductor %d: %g A return, less than the %g A of one path\n%+v", i, all, exposure, g)
	}
	if _, _, near := r.beside(c.A, i, none); !near[c.B] && math.Abs(all-exposure) > 1e-6 {
		t.Errorf("conductor %d is the only way: %g A return, want %g A\n%+v", i, all, exposure, g)
	}
	for gone := range g.Conductors {
		if gone == i || g.Conductors[gone].Side == Plus {
			continue
		}
		cut := g
		cut.Conductors = slices.Delete(slices.Clone(g.Conductors), gone, gone+1)
		at := i
		if gone < i {
			at--
		}
		rest, err := cut.Returns()
		if err != nil {
			t.Fatal(err)
		}
		if got, want := r.Through(i, gone), rest.Through(at, none); got != want {
			t.Errorf("conductor %d with %d gone: %g A return, want %g A\n%+v", i, gone, got, want, g)
		}
	}
}

// Two runs behind 5 A each come back at 11 and 12, which two returns lead to the
// supply from and a tie joins: any one of them takes 5 A while all hold, as the
// worst single way; with one gone the other takes 10 A and the tie 5 A.
func TestReturning(t *testing.T) {
	g := Grid{Nodes: 20, Sources: []Source{{0, 10, 40}},
		Conductors: []Conductor{plus(0, 1, 5), plus(0, 2, 5), minus(10, 11), minus(10, 12), minus(11, 12)},
		Loads:      []Load{{1, 11}, {2, 12}}}
	r, err := g.Returns()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		i, gone int
		want    float64
	}{{2, 3, 10}, {3, 2, 10}, {4, 2, 5}, {4, 3, 5}, {2, 4, 5}, {2, -1, 10}} {
		if got := r.Through(row.i, row.gone); got != row.want {
			t.Errorf("conductor %d without %d: %g A, want %g A", row.i, row.gone, got, row.want)
		}
	}
	if e, err := Walk(g); err != nil || e[2].Amps != 5 {
		t.Errorf("%+v, %v", e, err)
	}
	g.Conductors[0].Fuse = -1
	if _, err := g.Returns(); err == nil {
		t.Error("a fuse below 0 is accepted")
	}
}
