package path

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && got != want {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func must(t *testing.T, p Path, err error) Path {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// porchArch is a door's arch: up, over and down.
func porchArch() (Path, error) {
	return New(Point{}, 0,
		LineTo{Point{0, 1.4}},
		ArcTo{To: Point{0.9, 1.4}, Radius: 0.45, Turn: Right},
		LineTo{Point{0.9, 0}})
}

func TestLengthAndLeastRadius(t *testing.T) {
	inf := math.Inf(1)
	closedForm := "closed form, Euclid"
	tests := []struct {
		name                string
		build               func() (Path, error)
		length, radius, tol float64
		at                  float64
		source              string
	}{
		{"straight", func() (Path, error) { return New(Point{}, 0, Line{3.2}) }, 3.2, inf, 1e-12, 0, closedForm},
		{"porch arch", porchArch, 1.4 + math.Pi*0.45 + 1.4, 0.45, 1e-12, 1.4 + math.Pi*0.225, closedForm},
		{"full circle", func() (Path, error) { return New(Point{1, 2}, 30, Arc{0.5, 360, Left}) },
			math.Pi, 0.5, 1e-12, math.Pi / 2, closedForm},
		{"quarter", func() (Path, error) { return New(Point{}, 0, Arc{2, 90, Right}) }, math.Pi, 2, 1e-12, math.Pi / 2, closedForm},
		{"short arc to", func() (Path, error) { return New(Point{}, 0, ArcTo{Point{1, 1}, 1, Left, false}) },
			math.Pi / 2, 1, 1e-12, math.Pi / 4, closedForm},
		{"long arc to", func() (Path, error) { return New(Point{}, 0, ArcTo{Point{1, 1}, 1, Left, true}) },
			3 * math.Pi / 2, 1, 1e-12, 3 * math.Pi / 4, closedForm},
		{"sharp corner", func() (Path, error) { return Polyline([]Point{{0, 0}, {3, 0}, {3, 4}}) }, 7, 0, 1e-12, 3, closedForm},
		{"fold back", func() (Path, error) { return Polyline([]Point{{0, 0}, {1, 0}, {0, 0}}) }, 2, 0, 1e-12, 1, closedForm},
		{"points in a line", func() (Path, error) { return Polyline([]Point{{0, 0}, {0.1, 0.1}, {0.3, 0.3}}) },
			0.3 * math.Sqrt2, inf, 1e-12, 0, closedForm},
		{"smooth through two", func() (Path, error) { return Smooth([]Point{{1, 1}, {4, 5}}) }, 5, inf, 1e-12, 0, closedForm},
		{"smooth through a line", func() (Path, error) { return Smooth([]Point{{0, 0}, {0.1, 0.3}, {0.2, 0.6}, {2, 6}}) },
			math.Hypot(2, 6), inf, 1e-9, 0, closedForm},
		// Evenly spaced points of a parabola y = x²/2 under an affine
		// parameter: equal chords left and right make the curve the parabola
		// itself. Its length from -1 to 1 is sqrt 2 + asinh 1, its radius at
		// the vertex 1.
		{"parabola", func() (Path, error) { return Smooth([]Point{{-1, 0.5}, {0, 0}, {1, 0.5}}) },
			math.Sqrt2 + math.Asinh(1), 1, 1e-9, (math.Sqrt2 + math.Asinh(1)) / 2,
			"arc length of a parabola, Bronshtein and Semendyayev, Handbook of Mathematics, plane curves (from memory)"},
		{"fold back, smooth", func() (Path, error) { return Smooth([]Point{{0, 0}, {1, 0}, {0, 0}}) }, 2, 0, 1e-9, 1, closedForm},
		{"corner at an arc that is not tangent", func() (Path, error) {
			return New(Point{}, 90, Line{1}, ArcTo{Point{0.9, 1}, 0.9, Right, false})
		}, 1 + 0.9*math.Pi/3, 0, 1e-9, 1, closedForm},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			built, err := tt.build()
			p := must(t, built, err)
			near(t, "length", p.Length(), tt.length, tt.tol)
			r, at := p.LeastRadius()
			near(t, "least radius", r, tt.radius, 1e-6)
			near(t, "its place", at, tt.at, 1e-6)
		})
	}
}

func TestAt(t *testing.T) {
	built, err := porchArch()
	arch := must(t, built, err)
	built, err = Polyline([]Point{{0, 0}, {1, 0}, {1, 1}})
	corner := must(t, built, err)
	built, err = New(Point{}, 0, Arc{1, 270, Left}, Line{2})
	hook := must(t, built, err)
	half := math.Pi * 0.45 / 2
	tests := []struct {
		name          string
		p             Path
		s             float64
		x, y, heading float64
	}{
		{"start", arch, 0, 0, 0, 90},
		{"before the start", arch, -1, 0, 0, 90},
		{"no number", arch, math.NaN(), 0, 0, 90},
		{"up the side", arch, 0.7, 0, 0.7, 90},
		{"top", arch, 1.4 + half, 0.45, 1.85, 0},
		{"down the other", arch, 1.4 + 2*half + 0.4, 0.9, 1.0, -90},
		{"end", arch, 99, 0.9, 0, -90},
		{"infinitely far", arch, math.Inf(1), 0.9, 0, -90},
		{"on a corner", corner, 1, 1, 0, 90},
		{"left arc", hook, math.Pi / 2, 1, 1, 90},
		{"line after an arc", hook, 1.5*math.Pi + 2, -1, -1, -90},
		{"no path", Path{}, 1, 0, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			x, y, h := tt.p.At(tt.s)
			near(t, "x", x, tt.x, 1e-12)
			near(t, "y", y, tt.y, 1e-12)
			near(t, "heading", h, tt.heading, 1e-9)
		})
	}
}

func TestCorners(t *testing.T) {
	built, err := porchArch()
	if c := must(t, built, err).Corners(); len(c) != 0 {
		t.Errorf("an arch whose arc is tangent has corners: %v", c)
	}
	built, err = New(Point{}, 0, Line{1}, LineTo{Point{1, 1}}, ArcTo{Point{2, 1}, 0.5, Left, false}, Line{1})
	got := must(t, built, err).Corners()
	// Up along x = 1, then a half circle that dips below its chord: it leaves
	// downwards and comes in upwards.
	want := []Corner{{1, 1, 0, 90}, {2, 1, 1, 180}}
	if len(got) != len(want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range want {
		near(t, "at", got[i].At, want[i].At, 1e-12)
		near(t, "x", got[i].X, want[i].X, 1e-12)
		near(t, "y", got[i].Y, want[i].Y, 1e-12)
		near(t, "turn", got[i].Turn, want[i].Turn, 1e-9)
	}
}

func TestBounds(t *testing.T) {
	tests := []struct {
		name  string
		build func() (Path, error)
		want  Rect
	}{
		{"porch arch", porchArch, Rect{0, 0, 0.9, 1.85}},
		{"three quarters of a circle", func() (Path, error) { return New(Point{}, 0, Arc{1, 270, Left}) }, Rect{-1, 0, 1, 2}},
		{"eighth of a circle", func() (Path, error) { return New(Point{}, 45, Arc{1, 45, Right}) },
			Rect{0, 0, math.Sqrt2 / 2, 1 - math.Sqrt2/2}},
		{"parabola", func() (Path, error) { return Smooth([]Point{{-1, 0.5}, {0, 0}, {1, 0.5}}) }, Rect{-1, 0, 1, 0.5}},
		{"line down", func() (Path, error) { return New(Point{2, 2}, -90, Line{5}) }, Rect{2, -3, 2, 2}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			built, err := tt.build()
			got := must(t, built, err).Bounds()
			near(t, "min x", got.MinX, tt.want.MinX, 1e-12)
			near(t, "min y", got.MinY, tt.want.MinY, 1e-12)
			near(t, "max x", got.MaxX, tt.want.MaxX, 1e-12)
			near(t, "max y", got.MaxY, tt.want.MaxY, 1e-12)
		})
	}
}

func circlePoints(n int, step, r float64) []Point {
	points := make([]Point, n)
	for i := range points {
		points[i] = unit(float64(i) * step).times(r)
	}
	return points
}

// Points on a circle give nearly the circle's length and radius; how nearly is
// what Smooth's comment says.
func TestSmoothOnACircle(t *testing.T) {
	for _, step := range []float64{30, 15, 5, 1} {
		built, err := Smooth(circlePoints(int(180/step)+1, step, 0.6))
		p := must(t, built, err)
		theta := step / degree
		near(t, "length", p.Length()/(0.6*math.Pi), 1, 0.05*math.Pow(theta, 3)+1e-9)
		r, _ := p.LeastRadius()
		near(t, "least radius", r/0.6, 1-0.75*theta*theta, 0.8*math.Pow(theta, 3)+1e-7)
	}
}

// A circle drawn as a polyline of small kinks keeps its radius.
func TestPolylineOfManyPointsBends(t *testing.T) {
	built, err := Polyline(circlePoints(721, 0.5, 0.03))
	p := must(t, built, err)
	if c := p.Corners(); len(c) != 0 {
		t.Errorf("%d corners", len(c))
	}
	r, _ := p.LeastRadius()
	near(t, "least radius", r, 0.03, 0.03*1e-4)
}

// bruteRadius scans the curvature finely.
func bruteRadius(p Path) float64 {
	r := math.Inf(1)
	for _, q := range p.parts {
		c, ok := q.(*cubic)
		if !ok {
			continue
		}
		for i := 0.0; i <= 20000; i++ {
			v, a := c.velocity(i/20000), c.acceleration(i/20000)
			r = min(r, math.Pow(v.norm(), 3)/math.Abs(v.cross(a)))
		}
	}
	return r
}

// bruteLength adds up chords and extrapolates their error, which falls with
// the square of the step.
func bruteLength(p Path) float64 {
	chords := func(n float64) (sum float64) {
		for _, q := range p.parts {
			c := q.(*cubic)
			for i := 0.0; i < n; i++ {
				sum += c.point((i + 1) / n).minus(c.point(i / n)).norm()
			}
		}
		return sum
	}
	return (4*chords(20000) - chords(10000)) / 3
}

func randomPoints(r *rand.Rand, n int) []Point {
	points := make([]Point, n)
	for i := range points {
		points[i] = Point{r.Float64()*4 - 2, r.Float64()*4 - 2}
	}
	return points
}

func TestSmoothAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		built, err := Smooth(randomPoints(r, 3+r.IntN(6)))
		p := must(t, built, err)
		near(t, "length", p.Length()/bruteLength(p), 1, 1e-9)
		got, at := p.LeastRadius()
		want := bruteRadius(p)
		// Where points nearly double back the scan steps over the bend.
		if got > want*(1+1e-9) || got < want*(1-1e-4) && want > 1e-6 {
			t.Errorf("least radius %g at %g, scan finds %g", got, at, want)
		}
	}
}

// The path passes through its points, evenly in direction, and a step along it
// is as long as it says.
func TestSmoothPassesThroughItsPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	points := randomPoints(r, 9)
	built, err := Smooth(points)
	p := must(t, built, err)
	if c := p.Corners(); len(c) != 0 {
		t.Errorf("corners %v", c)
	}
	for i, end := range p.ends {
		x, y, _ := p.At(end)
		near(t, "x", x, points[i+1].X, 1e-12)
		near(t, "y", y, points[i+1].Y, 1e-12)
	}
	const step = 1e-5
	for s := 0.0; s < p.Length()-step; s += p.Length() / 500 {
		x0, y0, h := p.At(s)
		x1, y1, _ := p.At(s + step)
		way := Point{x1 - x0, y1 - y0}
		near(t, "step", way.norm()/step, 1, 1e-4)
		near(t, "heading", normal(way.heading()-h), 0, 0.5)
	}
}

func TestMovedByAShift(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	mixed, err := New(Point{0.2, 0.1}, 20, Line{0.5}, Arc{0.3, 100, Right}, ArcTo{Point{2, 1}, 3, Left, false},
		Curve{randomPoints(r, 5)}, Line{0.25})
	p := must(t, mixed, err)
	shifted, err := p.Moved(Shift(3, -7))
	q := must(t, shifted, err)
	near(t, "length", q.Length(), p.Length(), 0)
	r0, at0 := p.LeastRadius()
	r1, at1 := q.LeastRadius()
	near(t, "least radius", r1, r0, 0)
	near(t, "its place", at1, at0, 0)
	near(t, "corners", float64(len(q.Corners())), float64(len(p.Corners())), 0)
	for s := 0.0; s <= p.Length(); s += 0.1 {
		x0, y0, h0 := p.At(s)
		x1, y1, h1 := q.At(s)
		near(t, "x", x1, x0+3, 1e-12)
		near(t, "y", y1, y0-7, 1e-12)
		near(t, "heading", h1, h0, 0)
	}
	b0, b1 := p.Bounds(), q.Bounds()
	near(t, "bounds", b1.MaxX, b0.MaxX+3, 1e-12)
	near(t, "bounds", b1.MinY, b0.MinY-7, 1e-12)

	// The same curve described elsewhere has the same shape.
	points := randomPoints(r, 7)
	here, err := Smooth(points)
	a := must(t, here, err)
	for i := range points {
		points[i] = points[i].plus(Point{100, 50})
	}
	there, err := Smooth(points)
	b := must(t, there, err)
	near(t, "length", b.Length()/a.Length(), 1, 1e-12)
	ra, _ := a.LeastRadius()
	rb, _ := b.LeastRadius()
	near(t, "least radius", rb/ra, 1, 1e-9)
}

// A path walked from its other end has the same length, bends and places.
func TestReversal(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	points := randomPoints(r, 8)
	back := make([]Point, len(points))
	for i, p := range points {
		back[len(points)-1-i] = p
	}
	for name, build := range map[string]func([]Point) (Path, error){"smooth": Smooth, "straight": Polyline} {
		t.Run(name, func(t *testing.T) {
			there, err := build(points)
			a := must(t, there, err)
			again, err := build(back)
			b := must(t, again, err)
			l := a.Length()
			near(t, "length", b.Length(), l, 1e-11)
			ra, sa := a.LeastRadius()
			rb, sb := b.LeastRadius()
			near(t, "least radius", rb, ra, 1e-9)
			if ra > 0 { // of several corners each walk finds its own first
				near(t, "its place", sb, l-sa, 1e-6)
			}
			for s := 0.01; s < l; s += l / 97 {
				x0, y0, h0 := a.At(s)
				x1, y1, h1 := b.At(l - s)
				near(t, "x", x1, x0, 1e-9)
				near(t, "y", y1, y0, 1e-9)
				near(t, "heading", math.Abs(normal(h1-h0)), 180, 1e-4)
			}
		})
	}
}

func TestPoints(t *testing.T) {
	built, err := porchArch()
	p := must(t, built, err)
	points, err := p.Points(0.1)
	if err != nil {
		t.Fatal(err)
	}
	// Two lines and an arc of 1.4137 m in 15 steps.
	if len(points) != 1+1+15+1 {
		t.Errorf("%d points", len(points))
	}
	for _, q := range points[2:16] {
		near(t, "on the arc", q.minus(Point{0.45, 1.4}).norm(), 0.45, 1e-12)
	}
	for _, spacing := range []float64{0, -1, math.NaN(), 1e-9} {
		if _, err := p.Points(spacing); err == nil {
			t.Errorf("spacing %g is taken", spacing)
		}
	}
	if points, err := p.Points(math.Inf(1)); err != nil || len(points) != 4 {
		t.Errorf("spacing without end: %v, %v", points, err)
	}
}

func TestRefused(t *testing.T) {
	straight, _ := Polyline([]Point{{0, 0}, {1, 0}})
	nan, inf := math.NaN(), math.Inf(1)
	one := func(piece Piece) func() (Path, error) {
		return func() (Path, error) { return New(Point{}, 0, Line{1}, piece) }
	}
	through := func(build func([]Point) (Path, error), points ...Point) func() (Path, error) {
		return func() (Path, error) { return build(points) }
	}
	tests := []struct {
		name  string
		build func() (Path, error)
		field string
		want  string // in the message
		limit float64
	}{
		{"radius too small", one(ArcTo{Point{1, 0.9}, 0.44, Left, false}), "radius",
			"piece 2: radius 44 cm is too small to reach a point 90 cm away; the least radius that does is 45 cm", 0.45},
		{"radius a little too small", one(ArcTo{Point{1, 0.9}, 0.44994, Left, false}), "radius", "radius 44.99 cm", 0.45},
		{"least radius rounds up", one(ArcTo{Point{1, 0.123456}, 0.05, Left, false}), "radius", "the least radius that does is 6.18 cm", 0.061728},
		{"zero radius", one(Arc{0, 90, Left}), "radius", "radius 0 m is too small", MinLength},
		{"radius no number", one(Arc{nan, 90, Left}), "radius", "radius is not a number", 0},
		{"radius without end", one(Arc{inf, 90, Left}), "radius", "at most 10000 m", MaxSize},
		{"no turn", one(Arc{1, 90, 0}), "turn", "left or right", 0},
		{"zero sweep", one(Arc{1, 0, Left}), "sweep", "sweep 0 deg", 360},
		{"more than a turn", one(Arc{1, 361, Left}), "sweep", "at most 360 deg", 360},
		{"backward sweep", one(Arc{1, -90, Left}), "sweep", "sweep -90 deg", 360},
		{"sweep no number", one(Arc{1, nan, Left}), "sweep", "sweep NaN deg", 360},
		{"sweep without length", one(Arc{1e-6, 1e-3, Left}), "sweep", "has no length", 57},
		{"zero line", one(Line{0}), "length", "length 0 m is too small", MinLength},
		{"negative line", one(Line{-1}), "length", "length -1 m is too small", MinLength},
		{"line no number", one(Line{nan}), "length", "not a number", 0},
		{"line too long", one(Line{1e9}), "length", "at most 10000 m", MaxSize},
		{"line to the same place", one(LineTo{Point{1, 0}}), "to", "piece 2: it ends where it starts", MinLength},
		{"arc to the same place", one(ArcTo{Point{1, 0}, 1, Left, false}), "to", "it ends where it starts", MinLength},
		{"line to nowhere", one(LineTo{Point{nan, 0}}), "to", "x is not a number", 0},
		{"line too far", one(LineTo{Point{0, -20000}}), "to", "y -20000 m is too small", -MaxSize},
		{"whole too long", func() (Path, error) { return New(Point{}, 0, Line{9000}, Line{9000}) }, "length", "piece 2: the path is 18000 m long", MaxSize},
		{"curve to the same place", one(Curve{[]Point{{2, 0}, {2, 0}}}), "through", "piece 2: point 2: it ends where it starts", MinLength},
		{"curve to nowhere", one(Curve{nil}), "through", "at least one point", 1},
		{"no pieces", func() (Path, error) { return New(Point{}, 0) }, "length", "at least one piece", MinLength},
		{"start no number", func() (Path, error) { return New(Point{0, nan}, 0, Line{1}) }, "start", "y is not a number", 0},
		{"heading no number", func() (Path, error) { return New(Point{}, nan, Line{1}) }, "heading", "heading NaN deg", 3600},
		{"polyline of one", through(Polyline, Point{}), "through", "there are 1", 2},
		{"smooth of none", through(Smooth), "through", "there are 0", 2},
		{"polyline twice the same", through(Polyline, Point{}, Point{1, 1}, Point{1, 1}), "to", "point 3: it ends where it starts", MinLength},
		{"smooth twice the same", through(Smooth, Point{}, Point{1, 1}, Point{1, 1}), "through", "point 3: it ends where it starts", MinLength},
		{"smooth from nowhere", through(Smooth, Point{inf, 0}, Point{1, 1}), "through", "point 1: x", MaxSize},
		{"too many", through(Smooth, make([]Point, MaxPoints+1)...), "through", "10001 points is too large: at most 10000", MaxPoints},
		{"smooth too long", through(Smooth, Point{-9000, 0}, Point{9000, 0}, Point{-9000, 1}), "through", "the path is", MaxSize},
		{"shift too far", func() (Path, error) { return must(t, straight, nil).Moved(Shift(0, inf)) }, "shift", "shift", MaxSize},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.build()
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want an *Error", err)
			}
			if e.Field != tt.field || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("field %q: %q; want field %q, %q", e.Field, err, tt.field, tt.want)
			}
			near(t, "limit", e.Limit, tt.limit, math.Abs(tt.limit)*0.01)
		})
	}
}

// The eight-point rule is exact for powers up to 15: its error on t^14 would
// show any slip in its nodes and weights.
func TestGaussRule(t *testing.T) {
	for power := 0.0; power <= 14; power += 2 {
		var sum float64
		for i, x := range gaussNodes {
			sum += 2 * gaussWeights[i] * math.Pow(x, power)
		}
		near(t, "integral of t^n over -1 to 1", sum, 2/(power+1), 1e-14)
	}
}

func TestPolyRoots(t *testing.T) {
	// (t - 0.2)² (t - 0.5) (t - 0.9)
	p := poly{1}
	for _, r := range []float64{0.2, 0.2, 0.5, 0.9} {
		p = p.times(poly{-r, 1})
	}
	found := p.roots(0, 1)
	for _, r := range []float64{0.2, 0.5, 0.9} {
		closest := math.Inf(1)
		for _, f := range found {
			closest = min(closest, math.Abs(f-r))
		}
		near(t, "distance to root", closest, 0, 1e-7)
	}
}

func FuzzNew(f *testing.F) {
	f.Add(0.0, 0.0, 90.0, 1.4, 0.9, 1.4, 0.45, 180.0, 2, false)
	f.Add(1.0, -1.0, 1e-300, 1e-6, 1e4, -1e4, 1e4, 360.0, 1, true)
	f.Fuzz(func(t *testing.T, x, y, heading, length, tx, ty, radius, sweep float64, turn int, long bool) {
		to := Point{tx, ty}
		for _, pieces := range [][]Piece{
			{Line{length}, LineTo{to}},
			{Arc{radius, sweep, Turn(turn)}, Line{length}},
			{ArcTo{to, radius, Turn(turn), long}, Line{length}},
			{Line{length}, Curve{[]Point{to, {ty, radius}, {length, sweep}}}},
		} {
			p, err := New(Point{x, y}, heading, pieces...)
			if err == nil {
				sound(t, p)
			}
		}
	})
}

func FuzzSmooth(f *testing.F) {
	f.Add(0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 1.0)
	f.Add(0.0, 0.0, 1e-5, 0.0, 1e4, 0.0, 1.0, 1e-6)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i float64) {
		for _, build := range []func([]Point) (Path, error){Smooth, Polyline} {
			if p, err := build([]Point{{a, b}, {c, d}, {e, g}, {h, i}}); err == nil {
				sound(t, p)
			}
		}
	})
}

// sound checks what holds for every path that was built.
func sound(t *testing.T, p Path) {
	t.Helper()
	l := p.Length()
	if !(l >= MinLength*0.99 && l <= MaxSize) {
		t.Errorf("length %g", l)
	}
	r, at := p.LeastRadius()
	if !(r >= 0) || !(at >= 0 && at <= l) {
		t.Errorf("least radius %g at %g of %g", r, at, l)
	}
	b := p.Bounds()
	slack := 1e-9 * (1 + max(math.Abs(b.MinX), math.Abs(b.MaxX), math.Abs(b.MinY), math.Abs(b.MaxY)))
	for i := 0.0; i <= 20; i++ {
		x, y, h := p.At(l * i / 20)
		if !(x >= b.MinX-slack && x <= b.MaxX+slack && y >= b.MinY-slack && y <= b.MaxY+slack) {
			t.Errorf("at %g of %g: (%g, %g) outside %v", l*i/20, l, x, y, b)
		}
		if !(h > -180 && h <= 180) {
			t.Errorf("heading %g", h)
		}
	}
	for _, c := range p.Corners() {
		if !(math.Abs(c.Turn) >= CornerAngle && c.At > 0 && c.At < l) {
			t.Errorf("corner %v of %g", c, l)
		}
	}
	if _, err := p.Points(l / 50); err != nil {
		t.Error(err)
	}
}

func BenchmarkSmoothLeastRadius(b *testing.B) {
	points := circlePoints(MaxPoints, 0.9, 0.5)
	for i := range points { // a coil that opens
		points[i] = points[i].times(1 + float64(i)/1000)
	}
	for b.Loop() {
		p, err := Smooth(points)
		if err != nil {
			b.Fatal(err)
		}
		p.LeastRadius()
	}
}

func BenchmarkAtTenThousandPixels(b *testing.B) {
	p, err := Smooth(circlePoints(200, 7, 5))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for i := range 10_000 {
			p.At(p.Length() * float64(i) / 10_000)
		}
	}
}

func TestWithin(t *testing.T) {
	p, err := Polyline([]Point{{0, 0}, {3, 0}, {3, 2}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		r        Rect
		from, to float64
		ok       bool
	}{
		{Rect{1, -1, 2, 1}, 1, 2, true},
		{Rect{2, -1, 4, 1}, 2, 4, true}, // round the corner
		{Rect{-1, -1, 4, 3}, 0, 5, true},
		{Rect{1, 0, 2, 1}, 0, 0, false}, // along its edge
		{Rect{0, 1, 1, 2}, 0, 0, false},
	} {
		from, to, ok := p.Within(c.r)
		if ok != c.ok || math.Abs(from-c.from) > 1e-9 || math.Abs(to-c.to) > 1e-9 {
			t.Errorf("%v: from %g to %g, %v; want %g, %g, %v", c.r, from, to, ok, c.from, c.to, c.ok)
		}
	}
}

// A half circle stays one when its lengths are rounded in another unit: 90 cm is written
// 35.4331 in, which is 0.74 um more than twice 45 cm.
func TestRoundedHalfCircle(t *testing.T) {
	p, err := New(Point{}, 90, ArcTo{Point{35.4331 * 0.0254, 0}, 0.45, Right, false})
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Pi * 0.45; math.Abs(p.Length()-want) > 2e-6 {
		t.Errorf("length %v, want %v", p.Length(), want)
	}
	if _, err := New(Point{}, 90, ArcTo{Point{0.9 + 1.01*Closing, 0}, 0.45, Right, false}); err == nil {
		t.Error("a point out of reach by more than 0.1 mm is reached")
	}
}
