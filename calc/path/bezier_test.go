package path

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

func bezier(from, c1, c2, to Point) (Path, error) { return New(from, 0, Bezier{c1, c2, to}) }

// Lengths and least radii of Bezier curves that have a closed form.
func TestBezierAgainstClosedForms(t *testing.T) {
	inf := math.Inf(1)
	tests := []struct {
		name           string
		c              [4]Point
		length, radius float64
		at             float64 // of the least radius, m from the start
		corners        int
		source         string
	}{
		{"straight, evenly", [4]Point{{0, 0}, {1, 1}, {2, 2}, {3, 3}}, 3 * math.Sqrt2, inf, 0, 0, "Euclid"},
		{"straight, unevenly", [4]Point{{0, 0}, {0, 0}, {3, 3}, {3, 3}}, 3 * math.Sqrt2, inf, 0, 0, "Euclid"},
		// x = 3 t (1 - t)² 3 - 3 t² (1 - t) 2 + t³ = 9 t - 24 t² + 16 t³ turns at t = 1/4 and 3/4, where it is 1 and 0.
		{"straight, back and forth", [4]Point{{0, 0}, {3, 0}, {-2, 0}, {1, 0}}, 3, 0, 0, 2, "Euclid"},
		// y = x²/2 from -1 to 1, raised from its quadratic form.
		{"parabola", [4]Point{{-1, 0.5}, {-1.0 / 3, -1.0 / 6}, {1.0 / 3, -1.0 / 6}, {1, 0.5}}, math.Sqrt2 + math.Asinh(1), 1, (math.Sqrt2 + math.Asinh(1)) / 2, 0,
			"arc length of a parabola, Bronshtein and Semendyayev, Handbook of Mathematics, plane curves (from memory)"},
		// x = t², y = t³ from -1 to 1.
		{"semicubical parabola", [4]Point{{1, -1}, {-1.0 / 3, 1}, {-1.0 / 3, -1}, {1, 1}}, 2 * (13*math.Sqrt(13) - 8) / 27, 0, (13*math.Sqrt(13) - 8) / 27, 1,
			"the first algebraic curve that was rectified, by Neile; arc length by integration of t sqrt(4 + 9 t²)"},
		// x = 1 - 3t², y = 3t - t³ from 0 to 1: its speed is 3 (1 + t²).
		{"Tschirnhausen's cubic", [4]Point{{1, 0}, {1, 1}, {0, 2}, {-2, 2}}, 4, 1.5, 0, 0, "integration of 3 (1 + t²); curvature 2 / (3 (1 + t²)²)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			built, err := bezier(tt.c[0], tt.c[1], tt.c[2], tt.c[3])
			p := must(t, built, err)
			near(t, "length", p.Length(), tt.length, 1e-11*tt.length)
			t.Logf("%.12f m, %.2g mm per metre from the closed form (%s)", p.Length(), 1000*math.Abs(p.Length()/tt.length-1), tt.source)
			if c := p.Corners(); len(c) != tt.corners {
				t.Errorf("corners %v, want %d", c, tt.corners)
			}
			r, at := p.LeastRadius()
			near(t, "least radius", r, tt.radius, 1e-6)
			if tt.corners < 2 {
				near(t, "its place", at, tt.at, 1e-6)
			}
		})
	}
}

// Four curves with control points at 4/3 (sqrt 2 - 1) of the radius are a circle but for 2.73e-4 of the radius
// outwards, and none inwards. Source: T. Goodman and others give the figure; it follows from the distance of the curve to
// its centre, which is greatest at t = 0.211.
func TestCircleOfFourCurves(t *testing.T) {
	k := 4.0 / 3 * (math.Sqrt2 - 1)
	built, err := New(Point{1, 0}, 90,
		Bezier{Point{1, k}, Point{k, 1}, Point{0, 1}}, Bezier{Point{-k, 1}, Point{-1, k}, Point{-1, 0}},
		Bezier{Point{-1, -k}, Point{-k, -1}, Point{0, -1}}, Bezier{Point{k, -1}, Point{1, -k}, Point{1, 0}})
	p := must(t, built, err)
	least, most := math.Inf(1), 0.0
	for i := range 10001 {
		x, y, _ := p.At(p.Length() * float64(i) / 10000)
		least, most = min(least, math.Hypot(x, y)), max(most, math.Hypot(x, y))
	}
	near(t, "least distance from the centre", least, 1, 1e-12)
	near(t, "most distance from the centre", most, 1.00027253, 1e-8)
	if l := p.Length() / (2 * math.Pi); l < 1 || l > 1.000273 {
		t.Errorf("length %.9g of the circle's", l)
	}
	if c := p.Corners(); len(c) != 0 {
		t.Errorf("corners %v", c)
	}
}

// Lengths against QUADPACK, see testdata/lengths.py: within a hundredth of a millimetre per metre, and in fact within
// what the two print.
func TestBezierLengthsAgainstQuadpack(t *testing.T) {
	n, worst := 0, 0.0
	for _, v := range recorded(t, "testdata/lengths.csv", 10) {
		built, err := bezier(Point{v[0], v[1]}, Point{v[2], v[3]}, Point{v[4], v[5]}, Point{v[6], v[7]})
		p := must(t, built, err)
		q := p.parts[0].(*cubic)
		part := q.distance(0.8) - q.distance(0.3)
		off := 1000 * max(math.Abs(p.Length()-v[8])/v[8], math.Abs(part-v[9])/v[9])
		n, worst = n+1, max(worst, off)
		t.Logf("%3d: %.12f m and %.12f m, off by %.1e mm per metre", n, p.Length(), part, off)
		if off > 1e-7 {
			t.Errorf("curve %d: %.15g m, QUADPACK %.15g m; part %.15g m, QUADPACK %.15g m", n, p.Length(), v[8], part, v[9])
		}
	}
	if n < 100 {
		t.Errorf("only %d curves compared", n)
	}
	t.Logf("worst of %d: %.1e mm per metre", n, worst)
}

// recorded reads a table of so many numbers a line that another program wrote.
func recorded(t *testing.T, name string, columns int) (out [][]float64) {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			t.Log(lines.Text())
			continue
		}
		var v []float64
		for _, s := range strings.Split(lines.Text(), ",") {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			v = append(v, x)
		}
		if len(v) != columns {
			t.Fatalf("%s: %d numbers in a line, want %d", name, len(v), columns)
		}
		out = append(out, v)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// A control point on its end leaves no direction there by itself; the heading is that towards the next one.
func TestBezierWithRetractedHandles(t *testing.T) {
	built, err := bezier(Point{0, 0}, Point{0, 0}, Point{0, 1}, Point{1, 1})
	p := must(t, built, err)
	_, _, h := p.At(0)
	near(t, "heading at the start", h, 90, 1e-9)
	built, err = bezier(Point{0, 0}, Point{0, 1}, Point{1, 1}, Point{1, 1})
	p = must(t, built, err)
	_, _, h = p.At(p.Length())
	near(t, "heading at the end", h, 0, 1e-9)
	// Its curvature grows beyond all bounds at that end, but it turns by no more than a degree behind the place where the
	// radius is taken.
	r, at := p.LeastRadius()
	q := p.parts[0].(*cubic)
	near(t, "turn behind that place", normal(q.heading(q.parameter(at))-h), CornerAngle, 1e-6)
	if !(r > 0.3 && r < 0.45) {
		t.Errorf("radius %g m", r)
	}
}

func TestClosed(t *testing.T) {
	square := []Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	built, err := Polyline(square)
	p := must(t, built, err)
	closed, err := p.Closed()
	p = must(t, closed, err)
	near(t, "length of the square", p.Length(), 4, 1e-12)
	again, err := p.Closed()
	near(t, "length closed twice", must(t, again, err).Length(), 4, 0)
	near(t, "corners", float64(len(p.Corners())), 3, 0)

	// All points of a regular figure are passed alike, the seam too.
	for _, points := range [][]Point{square, append(square, square[0])} {
		built, err = Loop(points)
		p = must(t, built, err)
		near(t, "corners", float64(len(p.Corners())), 0, 0)
		for i := range 4 {
			near(t, "a quarter", p.parts[i].length(), p.Length()/4, 1e-12)
		}
		_, _, in := p.At(p.Length())
		_, _, out := p.At(0)
		near(t, "jump at the seam", normal(out-in), 0, 1e-9)
	}
	for _, tt := range []struct {
		points []Point
		want   string
	}{
		{[]Point{{0, 0}, {1, 0}}, "a closed curve needs at least three points; there are 2"},
		{[]Point{{0, 0}, {1, 0}, {0, 0}}, "there are 2"},
		{[]Point{{0, 0}, {1, 0}, {1, 0}, {2, 2}}, "point 3: it ends where it starts"},
	} {
		if _, err := Loop(tt.points); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%v: %v, want %q", tt.points, err, tt.want)
		}
	}
}

// Motions keep lengths and radii, carry each place along, and do what their names say.
func TestMotions(t *testing.T) {
	built, err := New(Point{0.2, 0.1}, 20, Line{0.5}, Arc{0.3, 100, Right}, ArcTo{Point{2, 1}, 3, Left, false},
		Bezier{Point{2, 2}, Point{3, 1}, Point{4, 4}}, Line{0.25})
	p := must(t, built, err)
	for _, tt := range []struct {
		name string
		m    Motion
		of   func(Point) Point
		turn float64 // what a turn to the left becomes
	}{
		{"none", Motion{}, func(a Point) Point { return a }, 1},
		{"shift", Shift(3, -7), func(a Point) Point { return Point{a.X + 3, a.Y - 7} }, 1},
		{"a quarter", TurnAbout(Point{1, 2}, 90), func(a Point) Point { return Point{3 - a.Y, 1 + a.X} }, 1},
		{"left and right", MirrorAt(Point{2, 0}, 90), func(a Point) Point { return Point{4 - a.X, a.Y} }, -1},
		{"up and down", MirrorAt(Point{0, 1}, 0), func(a Point) Point { return Point{a.X, 2 - a.Y} }, -1},
		{"at a diagonal", MirrorAt(Point{}, 45), func(a Point) Point { return Point{a.Y, a.X} }, -1},
		{"three after each other", MirrorAt(Point{2, 0}, 90).Then(TurnAbout(Point{1, 2}, 90)).Then(Shift(0, 5)),
			func(a Point) Point { return Point{3 - a.Y, 1 + 4 - a.X + 5} }, -1},
		{"there and back", TurnAbout(Point{1, 2}, 33).Then(MirrorAt(Point{3, 4}, 10)).Then(MirrorAt(Point{3, 4}, 10)).Then(TurnAbout(Point{1, 2}, -33)), func(a Point) Point { return a }, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			moved, err := p.Moved(tt.m)
			q := must(t, moved, err)
			near(t, "length", q.Length(), p.Length(), 0)
			r0, at0 := p.LeastRadius()
			r1, at1 := q.LeastRadius()
			near(t, "least radius", r1, r0, 1e-12)
			near(t, "its place", at1, at0, 1e-12)
			if tt.m.Mirrored() != (tt.turn < 0) {
				t.Error("mirrored or not")
			}
			for i := range 50 {
				s := p.Length() * float64(i) / 49
				x0, y0, h0 := p.At(s)
				x1, y1, h1 := q.At(s)
				want := tt.of(Point{x0, y0})
				near(t, "x", x1, want.X, 1e-12)
				near(t, "y", y1, want.Y, 1e-12)
				near(t, "heading", normal(h1-tt.m.Heading(h0)), 0, 1e-9)
				ahead := tt.of(Point{x0, y0}.plus(unit(h0))).minus(want)
				near(t, "heading", normal(ahead.heading()-h1), 0, 1e-9)
			}
			c0, c1 := p.Corners(), q.Corners()
			for i := range c0 {
				near(t, "turn of a corner", c1[i].Turn, tt.turn*c0[i].Turn, 1e-9)
			}
		})
	}
}

func FuzzBezier(f *testing.F) {
	f.Add(0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 0.0)
	f.Add(0.0, 0.0, 1.0, 1.0, 0.0, 1.0, 1.0, 0.0)
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1e-6, 0.0)
	f.Add(0.0, 0.0, 1e4, 0.0, -1e4, 0.0, 1.0, 1e-9)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i float64) {
		p, err := bezier(Point{a, b}, Point{c, d}, Point{e, g}, Point{h, i})
		if err != nil {
			return
		}
		sound(t, p)
		if closed, err := p.Closed(); err == nil {
			sound(t, closed)
		}
	})
}

func ExampleMotion() {
	m := TurnAbout(Point{1, 0}, 90).Then(Shift(0, 0.5))
	fmt.Println(m.Of(Point{2, 0}), m.Heading(0))
	// Output: {1 1.5} 90
}
