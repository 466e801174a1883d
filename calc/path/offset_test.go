package path

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Lengths and least radii of offsets that have a closed form: beside a smooth path that turns by θ altogether the length
// changes by -d θ and each radius by -d.
func TestOffsetAgainstClosedForms(t *testing.T) {
	tschirnhausen := func() (Path, error) { return bezier(Point{1, 0}, Point{1, 1}, Point{0, 2}, Point{-2, 2}) }
	parabola := func() (Path, error) {
		return bezier(Point{-1, 0.5}, Point{-1.0 / 3, -1.0 / 6}, Point{1.0 / 3, -1.0 / 6}, Point{1, 0.5})
	}
	square := func() (Path, error) { return Rounded([]Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, true, 0) }
	corner := func() (Path, error) { return Polyline([]Point{{0, 0}, {1, 0}, {1, 1}}) }
	inf := math.Inf(1)
	for _, tt := range []struct {
		name           string
		build          func() (Path, error)
		d              float64
		length, radius float64
	}{
		{"a line", func() (Path, error) { return New(Point{}, 30, Line{2}) }, 0.3, 2, inf},
		{"the porch's arch, outside", porchArch, 0.05, 2.8 + math.Pi*0.5, 0.5},
		{"the porch's arch, inside", porchArch, -0.05, 2.8 + math.Pi*0.4, 0.4},
		{"a circle, inside", func() (Path, error) { return Circle(Point{1, 2}, 0.5, 90, 360, Left) }, 0.1, math.Pi * 0.8, 0.4},
		{"a circle, outside", func() (Path, error) { return Circle(Point{1, 2}, 0.5, 90, 360, Right) }, 0.1, math.Pi * 1.2, 0.6},
		{"a corner, inside", corner, 0.25, 1.5, 0},
		{"a corner, outside", corner, -0.25, 2 + math.Pi/2*0.25, 0.25},
		{"a square, inside", square, 0.1, 3.2, 0},
		{"a square, outside", square, -0.1, 4 + 2*math.Pi*0.1, 0.1},
		// Its heading goes from straight up to the left, by a quarter turn; so does the parabola's, from 45 degrees down to 45 degrees up.
		{"Tschirnhausen's cubic, inside", tschirnhausen, 0.4, 4 - 0.4*math.Pi/2, 1.1},
		{"Tschirnhausen's cubic, outside", tschirnhausen, -0.4, 4 + 0.4*math.Pi/2, 1.9},
		{"a parabola, inside", parabola, 0.9, math.Sqrt2 + math.Asinh(1) - 0.9*math.Pi/2, 0.1},
		{"a parabola, outside", parabola, -0.9, math.Sqrt2 + math.Asinh(1) + 0.9*math.Pi/2, 1.9},
	} {
		t.Run(tt.name, func(t *testing.T) {
			built, err := tt.build()
			p := must(t, built, err)
			beside, err := p.Offset(tt.d)
			q := must(t, beside, err)
			off := 1000 * math.Abs(q.Length()/tt.length-1)
			t.Logf("%.9f m, closed form %.9f m: %.1e mm per metre", q.Length(), tt.length, off)
			if off > 0.01 {
				t.Errorf("off by %g mm per metre", off)
			}
			r, _ := q.LeastRadius()
			near(t, "least radius", r, tt.radius, 3e-3*min(tt.radius, 1))
			x0, y0, h := p.At(0)
			x1, y1, _ := q.At(0)
			if d := (Point{x1 - x0, y1 - y0}).minus(unit(h + 90).times(tt.d)).norm(); d > 1e-9 && tt.name != "a square, inside" {
				t.Errorf("it starts %g m off", d)
			}
		})
	}
}

// Lengths against QUADPACK, see testdata/offsets.py: within a hundredth of a millimetre per metre.
func TestOffsetLengthsAgainstQuadpack(t *testing.T) {
	n, worst := 0, 0.0
	for _, v := range recorded(t, "testdata/offsets.csv", 10) {
		built, err := bezier(Point{v[0], v[1]}, Point{v[2], v[3]}, Point{v[4], v[5]}, Point{v[6], v[7]})
		p := must(t, built, err)
		q, err := p.Offset(v[8])
		if err != nil {
			t.Errorf("curve %d at %g m: %v", n+1, v[8], err)
			continue
		}
		off := 1000 * math.Abs(q.Length()/v[9]-1)
		n, worst = n+1, max(worst, off)
		t.Logf("%3d: %+.3f m beside %.3f m: %.9f m, QUADPACK %.9f m, off by %.1e mm per metre", n, v[8], p.Length(), q.Length(), v[9], off)
		if off > 0.01 {
			t.Errorf("curve %d is off by %g mm per metre", n, off)
		}
	}
	if n < 50 {
		t.Errorf("only %d curves compared", n)
	}
	t.Logf("worst of %d: %.1e mm per metre", n, worst)
}

// The offset of a Bezier curve lies at its distance from a dense polyline of the curve, to within what is promised.
func TestOffsetAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	checked, worst, longest := 0, 0.0, 0.0
	for checked < 12 {
		p0 := Point{r.Float64(), r.Float64()}
		built, err := bezier(p0, Point{1 + r.Float64(), r.Float64()}, Point{2 + r.Float64(), r.Float64()}, Point{3 + r.Float64(), r.Float64()})
		p := must(t, built, err)
		d := (r.Float64() - 0.5) / 2
		q, err := p.Offset(d)
		if err != nil {
			continue
		}
		checked++
		const n = 20000
		c := p.parts[0].(*cubic)
		points := make([]Point, n+1)
		length := 0.0 // of a polyline through the exact offset
		var before Point
		for i := range points {
			u := float64(i) / n
			points[i] = c.point(u)
			o := points[i].plus(unit(c.heading(u) + 90).times(d))
			if i > 0 {
				length += o.minus(before).norm()
			}
			before = o
		}
		for i := range 201 {
			x, y, _ := q.At(q.Length() * float64(i) / 200)
			least := math.Inf(1)
			for _, a := range points {
				least = min(least, a.minus(Point{x, y}).norm())
			}
			worst = max(worst, math.Abs(least-math.Abs(d)))
		}
		off := 1000 * math.Abs(q.Length()/length-1)
		longest = max(longest, off)
		t.Logf("%.3f m beside %.3f m: %.9f m, brute force %.9f m: %.1e mm per metre, %d curves", d, p.Length(), q.Length(), length, off, len(q.parts))
	}
	if worst > OffsetError {
		t.Errorf("%g m off", worst)
	}
	if longest > 0.01 {
		t.Errorf("a length is %g mm per metre off", longest)
	}
	t.Logf("worst place %.1e m off, worst length %.1e mm per metre", worst, longest)
}

func TestOffsetRefused(t *testing.T) {
	for _, tt := range []struct {
		name  string
		build func() (Path, error)
		d     float64
		want  string
		limit float64
	}{
		{"arc", porchArch, -0.45, "45 cm beside it there is no room where it bends to a radius of 45 cm, 2.11 m from its start; lay it at less than 45 cm", 0.45},
		{"curve", func() (Path, error) {
			return bezier(Point{-1, 0.5}, Point{-1.0 / 3, -1.0 / 6}, Point{1.0 / 3, -1.0 / 6}, Point{1, 0.5})
		}, 1.01, "bends to a radius of 1 m, 1.15 m from its start", 1},
		{"cusp", func() (Path, error) {
			return bezier(Point{1, -1}, Point{-1.0 / 3, 1}, Point{-1.0 / 3, -1}, Point{1, 1})
		}, 0.01, "bends to a radius of 0 m, 1.44 m", 0},
		{"side too short", func() (Path, error) { return Polyline([]Point{{0, 0}, {1, 0}, {1, 0.1}, {0, 0.1}}) }, 0.06, "no room between its corners", 0},
		{"square too small", func() (Path, error) { return Rounded([]Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, true, 0) }, 0.5, "no room between its corners", 0},
		{"fold", func() (Path, error) { return Polyline([]Point{{0, 0}, {1, 0}, {0, 0}}) }, 0.1, "no room", 0},
		{"no distance", porchArch, 0, "distance 0 m is too small", MinLength},
		{"no number", porchArch, math.NaN(), "not a number", 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			built, err := tt.build()
			_, err = must(t, built, err).Offset(tt.d)
			var e *Error
			if !errors.As(err, &e) || !strings.Contains(err.Error(), tt.want) {
				t.Fatalf("%v, want %q", err, tt.want)
			}
			near(t, "limit", e.Limit, tt.limit, 1e-6)
		})
	}
}

func TestOutlines(t *testing.T) {
	for _, tt := range []struct {
		name           string
		build          func() (Path, error)
		length, radius float64
		x, y, heading  float64 // at its start
		source         string
	}{
		{"circle", func() (Path, error) { return Circle(Point{1, 2}, 0.5, 90, 360, Right) }, math.Pi, 0.5, 1, 2.5, 0, "Euclid"},
		{"three quarters of a circle from the right, left", func() (Path, error) { return Circle(Point{1, 2}, 0.5, 0, 270, Left) }, math.Pi * 3 / 4, 0.5, 1.5, 2, 90, "Euclid"},
		{"circle from below, left", func() (Path, error) { return Circle(Point{1, 2}, 0.5, 270, 360, Left) }, math.Pi, 0.5, 1, 1.5, 0, "Euclid"},
		{"rectangle, clockwise", func() (Path, error) { return Rectangle(Point{1, 1}, Point{3, 2}, 0, Right) }, 6, 0, 1, 1, 90, "Euclid"},
		{"rectangle, the other way", func() (Path, error) { return Rectangle(Point{1, 1}, Point{3, 2}, 0, Left) }, 6, 0, 1, 1, 0, "Euclid"},
		{"rectangle from the upper right", func() (Path, error) { return Rectangle(Point{3, 2}, Point{1, 1}, 0, Right) }, 6, 0, 3, 2, -90, "Euclid"},
		{"rounded rectangle", func() (Path, error) { return Rectangle(Point{1, 1}, Point{3, 2}, 0.1, Right) }, 6 - 0.8 + 2*math.Pi*0.1, 0.1, 1, 1.1, 90, "Euclid"},
		{"stadium", func() (Path, error) { return Rectangle(Point{1, 1}, Point{3, 2}, 0.5, Left) }, 2 + math.Pi, 0.5, 1.5, 1, 0, "Euclid"},
		{"hexagon", func() (Path, error) { return Polygon(Point{}, 6, 2, 0, 0, Left) }, 12, 0, 2, 0, 120, "Euclid"},
		{"rounded triangle", func() (Path, error) { return Polygon(Point{}, 3, 1, 90, 0.1, Right) }, 3*math.Sqrt(3) - 6*0.1*math.Sqrt(3) + 2*math.Pi*0.1, 0.1, 0.1 * math.Sqrt(3) / 2, 1 - 0.15, -60, "Euclid"},
		{"rounded corner", func() (Path, error) { return Rounded([]Point{{0, 0}, {3, 0}, {3, 4}}, false, 1) }, 2 + math.Pi/2 + 3, 1, 0, 0, 0, "Euclid"},
		{"straight on", func() (Path, error) { return Rounded([]Point{{0, 0}, {3, 0}, {4, 0}}, false, 1) }, 4, math.Inf(1), 0, 0, 0, "Euclid"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			built, err := tt.build()
			p := must(t, built, err)
			near(t, "length", p.Length(), tt.length, 1e-9)
			r, _ := p.LeastRadius()
			near(t, "least radius", r, tt.radius, 1e-9)
			x, y, h := p.At(0)
			near(t, "x", x, tt.x, 1e-9)
			near(t, "y", y, tt.y, 1e-9)
			near(t, "heading", h, tt.heading, 1e-9)
			sound(t, p)
		})
	}
	for want, build := range map[string]func() (Path, error){
		"point 2: a corner radius of 1.01 m does not fit: the side of 1 m beside it has room for corners of 1 m at most": func() (Path, error) {
			return Rounded([]Point{{0, 0}, {1, 0}, {1, 2}}, false, 1.01)
		},
		"has room for corners of 50 cm at most": func() (Path, error) { return Rectangle(Point{1, 1}, Point{3, 2}, 0.505, Right) },
		"has room for corners of 0 m at most":   func() (Path, error) { return Rounded([]Point{{0, 0}, {1, 0}, {0, 0}}, false, 0.01) },
		"corner radius -1 m is too small":       func() (Path, error) { return Rounded([]Point{{0, 0}, {1, 0}, {1, 1}}, false, -1) },
		"3 to 10000 sides, not 2":               func() (Path, error) { return Polygon(Point{}, 2, 1, 0, 0, Left) },
		"radius 0 m is too small":               func() (Path, error) { return Circle(Point{}, 0, 0, 360, Left) },
		"it ends where it starts":               func() (Path, error) { return Rectangle(Point{1, 1}, Point{1, 2}, 0, Right) },
	} {
		if _, err := build(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

func FuzzOffset(f *testing.F) {
	f.Add(0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.1)
	f.Add(0.0, 0.0, 0.0, 0.0, 2.0, 1.0, 1.0, 0.0, -0.1)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i, by float64) {
		for _, build := range []func() (Path, error){
			func() (Path, error) { return bezier(Point{a, b}, Point{c, d}, Point{e, g}, Point{h, i}) },
			func() (Path, error) { return Rounded([]Point{{a, b}, {c, d}, {e, g}, {h, i}}, by > 0, 0) },
			func() (Path, error) { return Rounded([]Point{{a, b}, {c, d}, {e, g}, {h, i}}, by > 0, by/2) },
		} {
			p, err := build()
			if err != nil {
				continue
			}
			if q, err := p.Offset(by); err == nil {
				q.Corners()
				q.LeastRadius()
				q.At(q.Length() / 2)
			}
		}
	})
}
