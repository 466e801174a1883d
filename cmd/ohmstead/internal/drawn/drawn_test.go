package drawn

import (
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"ohmstead/lint/drawing"
	"ohmstead/lint/figures"
	"ohmstead/lint/layout"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// scaleOf are the scales of drawings that have none.
var scaleOf = map[string]string{"hand-shapes.svg": "2.5 mm", "gnuplot.svg": "96 dpi"}

// drawings are those that are compared: half of them exported by vector
// programs (testdata/exports.sh), half written by hand.
func drawings(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("testdata/*.svg")
	if err != nil || len(files) != 20 {
		t.Fatalf("%d drawings, %v", len(files), err)
	}
	return files
}

func readFile(t *testing.T, file string) *Drawing {
	t.Helper()
	svg, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return readText(t, string(svg), scaleOf[filepath.Base(file)])
}

func readText(t *testing.T, svg, scale string) *Drawing {
	t.Helper()
	d, err := Read([]byte(svg), scale)
	if err != nil {
		t.Fatalf("line %d: %v", err.(*Error).Line, err)
	}
	return d
}

// planned is the plan that is written of a drawing, and read again.
func planned(t *testing.T, d *Drawing) (*schema.Plan, *figures.Figures) {
	t.Helper()
	text, err := d.Plan("wall", "wall.svg")
	if err != nil {
		t.Fatal(err)
	}
	if text, err = layout.Format(text); err != nil {
		t.Fatal(err)
	}
	return decoded(t, text)
}

func decoded(t *testing.T, text []byte) (*schema.Plan, *figures.Figures) {
	t.Helper()
	p := schema.Decode("", []*source.File{source.Parse(source.NewText("plan.ohm.hcl", text))}, nil)
	for _, b := range p.Problems {
		t.Errorf("%s: %s\n%s", b.Rule, b.Message, text)
	}
	return p, figures.Prepare(p, figures.NewMemo())
}

// Every run of the plan that is written is as long as an independent library
// reads its drawing (testdata/lengths.py), in its order. What is written is
// rounded to 0.01 mm, which moves each end by 0.007 mm at most.
func TestLengths(t *testing.T) {
	text, err := os.ReadFile("testdata/lengths.txt")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]float64{}
	for l := range strings.Lines(string(text)) {
		f := strings.Fields(l)
		mm, err := strconv.ParseFloat(f[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		want[f[0]] = append(want[f[0]], mm)
	}
	worst, runs := 0.0, 0
	for _, file := range drawings(t) {
		name := filepath.Base(file)
		d := readFile(t, file)
		_, f := planned(t, d)
		got := f.Runs
		want[name] = want[name][:max(0, len(want[name])-len(d.Keepouts))] // which are drawn last
		if len(got) != len(want[name]) {
			t.Errorf("%s: %d runs, want %d", name, len(got), len(want[name]))
			continue
		}
		for i, r := range got {
			runs++
			off := r.Length*1000 - want[name][i]
			worst = max(worst, math.Abs(off))
			if math.Abs(off) > 0.03 {
				t.Errorf("%s: %s (line %d) is %.4f mm, want %.4f", name, r.Name, d.Shapes[i].Line, r.Length*1000, want[name][i])
			}
		}
	}
	t.Logf("%d runs of 20 drawings: off by %.4f mm at most", runs, worst)
}

// Lengths in closed form, mm; of drawings that programs exported, from what they
// were given (testdata/sources).
func TestClosedForms(t *testing.T) {
	// The perimeter of an ellipse: 4 a E(e), Abramowitz and Stegun 17.3.
	oval := func(a, b float64) (sum float64) {
		const n = 100_000
		for i := range n {
			sin, cos := math.Sincos((float64(i) + 0.5) * 2 * math.Pi / n)
			sum += math.Hypot(a*sin, b*cos)
		}
		return sum * 2 * math.Pi / n
	}
	const in, pt = 25.4, 25.4 / 72
	for file, want := range map[string]map[string]float64{
		"inkscape.svg": {"moon": 2 * math.Pi * 60, "pond": oval(100, 40), "Wave": 60 + 2*math.Hypot(30, 60)},
		"dia.svg":      {"Background-5": (3 + 4 + 4) * 17.0 / 323 * 200},
		"fig2dev.svg":  {"run-2": 2 * math.Pi * 900 * 570 * pt / 9044, "run-3": oval(1350, 450) * 570 * pt / 9044},
		"graphviz.svg": {"b": 2 * math.Pi * 18 * pt},
		"libreoffice.svg": {
			"run-1": 2 * (80 + 50), "run-2": 2 * math.Pi * 30, "run-3": 150, "run-4": 2*math.Hypot(30, 40) + 60},
		"pdftocairo.svg":    {"run-1": 360 * pt, "run-2": 2 * math.Pi * 50 * pt, "run-4": 300 * pt},
		"ipe.svg":           {"run-1": 2 * math.Pi * 50 * pt, "run-2": oval(60, 30) * pt, "run-3": 3 * math.Hypot(80, 50) * pt, "run-5": math.Pi / 2 * 50 * pt},
		"hand-commands.svg": {"after-z-1": 80, "after-z-3": 100, "arcs-1": math.Pi*15 + 2*math.Pi*15*0.75, "arcs-2": math.Pi * 15, "arcs-3": 30},
		"hand-packed.svg":   {"run-together-1": 40},
		"hand-transforms.svg": {
			"deep": 2 * (10 + 5*math.Pi) / 10 * in, "mirrored": 2 * math.Pi * 8 / 10 * in, "squeezed": oval(8, 4) / 10 * in,
			"about": 60 / 10.0 * in, "origin": 45 / 10.0 * in, "list": 350 * 0.1 / 10 * in, "half-turn": parabola(10, 10) / 10 * in},
		"hand-shapes.svg": {
			"beam": 500 * 2.5, "zigzag": 150 * 2.5, "triangle": 160 * 2.5, "disc": 2 * math.Pi * 50 * 2.5, "egg": oval(100, 50) * 2.5, "plain": 240 * 2.5,
			"rounded": (2*(60+20) + 2*math.Pi*10) * 2.5, "oval-corners": (2*(40+20) + oval(20, 10)) * 2.5, "too-round": (oval(40, 20)) * 2.5, "auto": 2 * math.Pi * 20 * 2.5},
		"hand-use.svg":       {"shield": 2 * math.Pi * 40, "inner": 300 * math.Sqrt2, "share": 150 * math.Sqrt2, "stretched": oval(100, 50), "chosen": 100, "linked": 100},
		"hand-styles.svg":    {"seen": 100, "lamp": 100, "light": 100, "shown": 110},
		"hand-inches.svg":    {"foot": 12 * in, "plate": 2 * math.Pi * 4 * in, "half": 30 * in, "mixed": 4 * in, "arch": 6 * math.Pi * in},
		"hand-letters.svg":   {"O-1": 600, "O-2": 440, "I": 460, "word-1": 400 + 2*math.Hypot(60, 120), "word-5": 200},
		"hand-latin.svg":     {"étoile-1": 4 * in, "étoile-2": parabola(18*2, 36) * pt, "étoile-3": 2 * math.Pi * 36 * pt},
		"hand-stretched.svg": {"flat": oval(160, 40), "upright": math.Pi * 30, "slope": math.Hypot(400, 100)},
	} {
		got := map[string]float64{}
		_, f := planned(t, readFile(t, "testdata/"+file))
		for _, r := range f.Runs {
			got[r.Name] = r.Length * 1000
		}
		for name, want := range want {
			if math.Abs(got[name]-want) > 0.03 {
				t.Errorf("%s: %s is %.4f mm, want %.4f", file, name, got[name], want)
			}
		}
	}
}

// parabola is the length of one with a half chord and a height, of a quadratic
// curve whose control point stands twice as high above the middle: the integral
// of sqrt(1 + (2 h x / c²)²) from -c to c.
func parabola(c, h float64) float64 {
	k := 2 * h / c
	return c * (math.Sqrt(1+k*k) + math.Asinh(k)/k)
}

// What is written has the shape of what is drawn within 0.03 mm, everywhere.
func TestShapes(t *testing.T) {
	for _, file := range drawings(t) {
		svg, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d := readFile(t, file)
		fine := units[d.unit.symbol]
		fine.digits += 5
		e, refused := readIn(svg, scaleOf[filepath.Base(file)], fine)
		if refused != nil {
			t.Fatal(refused)
		}
		for i := range d.Shapes {
			p, err1 := d.Shapes[i].Path()
			q, err2 := e.Shapes[i].Path()
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			for k := range 101 {
				x, y, _ := p.At(p.Length() * float64(k) / 100)
				u, v, _ := q.At(q.Length() * float64(k) / 100)
				if off := math.Hypot(x-u, y-v); off > 0.03e-3 {
					t.Errorf("%s: %s is off by %.3f mm at %d %%", file, d.Shapes[i].Name, off*1000, k)
					break
				}
			}
		}
	}
}

// Curves in place of part of an ellipse stay within near of it.
func TestEllipseAsCurves(t *testing.T) {
	fine := unit{"mm", 1e-3, 9}
	for _, size := range []float64{0.01, 1, 100, 5000} {
		p := round(complex(1, 2), size, size/3, 0.3, 5)
		p.u, p.v = p.u*cmplx.Rect(1, 0.7), p.v*cmplx.Rect(1, 0.7)
		p.to = p.at(1)
		steps := p.cubics(fine)
		from := p.at(0)
		for i, s := range steps {
			for k := range 21 {
				x := complex(float64(k)/20, 0)
				y := 1 - x
				z := y*y*y*from + 3*x*y*y*s.C1 + 3*x*x*y*s.C2 + x*x*x*s.To - p.centre
				// Back on the unit circle.
				w := z * cmplx.Conj(p.u) / complex(size*size, 0)
				if off := math.Abs(math.Hypot(real(w), imag(w)*3)-1) * size; off > near*1.01 {
					t.Fatalf("size %g, curve %d of %d: off by %g m", size, i, len(steps), off)
				}
			}
			from = s.To
		}
	}
}

func TestScale(t *testing.T) {
	const line = `><path id="a" d="M0 0H100" stroke="red"/></svg>`
	for _, tt := range []struct {
		head, scale string
		want        float64 // mm
		refused     string
	}{
		{`width="200mm" height="100mm" viewBox="0 0 200 100"`, "", 100, ""},
		{`width="200mm" height="100mm" viewBox="0 0 200 100"`, "1:20", 2000, ""},
		{`width="200mm" height="100mm" viewBox="0 0 200 100"`, "3 mm", 300, ""},
		{`width="20cm" viewBox="0 0 400 100"`, "", 50, ""},
		{`height="20cm" viewBox="0 0 400 200"`, "", 100, ""},
		{`width="10in" height="5in" viewBox="0 0 1000 500"`, "", 25.4, ""},
		{`width="72pt" height="72pt" viewBox="0 0 100 100"`, "", 25.4, ""},
		{`width="6pc" height="6pc" viewBox="0 0 100 100"`, "", 25.4, ""},
		{`width="800Q" height="400Q" viewBox="0 0 200 100"`, "", 100, ""},
		{`width="100mm" height="100mm"`, "", 100 / 96.0 * 25.4, ""},
		{`style="width:100mm;height:100mm" viewBox="0 0 100 100"`, "", 100, ""},
		{`width="200" height="100"`, "1 mm", 100, ""},
		{`width="200" height="100"`, "0.5in", 1270, ""},
		{`width="200px" height="100px" viewBox="0 0 400 200"`, "72 dpi", 50 / 72.0 * 25.4, ""},
		{`viewBox="0 0 400 200"`, "90dpi", 100 / 90.0 * 25.4, ""},
		{``, "2 cm", 2000, ""},
		{`width="200" height="100"`, "", 0, "its width and height (\"200 100\") are no real lengths; say how long one unit is, as in --scale \"1 mm\""},
		{``, "", 0, "(not given)"},
		{`width="100%" height="100%" viewBox="0 0 1 1"`, "", 0, "no real lengths"},
		{`width="10em" height="10em"`, "", 0, "no real lengths"},
		{`width="200" height="100"`, "1:20", 0, "a scale of 1:20 says nothing"},
		{`width="2mm" height="1mm"`, "big", 0, "the scale \"big\" is none"},
		{`width="2mm" height="1mm"`, "0 mm", 0, "is none"},
		{`width="2mm" height="1mm"`, "1e9 mm", 0, "is none"},
		{`width="200" height="100"`, "1000 m", 0, "it is 2e+05 m by 1e+05 m large; at most 10000 m are built"},
		{`width="2mm" height="1mm" viewBox="0 0 0 1"`, "", 0, "its viewBox \"0 0 0 1\" is none"},
		{`width="2mm" height="1mm" viewBox="0 0 1"`, "", 0, "its viewBox"},
	} {
		d, err := Read([]byte("<svg "+tt.head+line), tt.scale)
		switch {
		case tt.refused != "":
			if err == nil || !strings.Contains(err.Error(), tt.refused) {
				t.Errorf("%s at %q: %v, want %q", tt.head, tt.scale, err, tt.refused)
			}
		case err != nil:
			t.Errorf("%s at %q: %v", tt.head, tt.scale, err)
		case math.Abs(d.Length()*1000-tt.want) > 0.01:
			t.Errorf("%s at %q: %.4f mm, want %.4f", tt.head, tt.scale, d.Length()*1000, tt.want)
		default:
			planned(t, d)
		}
	}
}

const page = `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="200mm" viewBox="0 0 300 200" stroke="red" fill="none">` + "\n"

// Places are measured from the page's lower left corner, y up; what is drawn
// comes out the same way round.
func TestPlaces(t *testing.T) {
	d := readText(t, page+`<path id="a" d="M10 20H30V60A20 20 0 0 1 70 60"/><g id="Keep-out"><rect id="door" x="100" y="150" width="20" height="50"/></g></svg>`, "")
	s := d.Shapes[0]
	want := []Step{{To: 0.03 + 0.18i}, {To: 0.03 + 0.14i}, {To: 0.07 + 0.14i, Radius: 0.02}} // clockwise on the wall too
	for i, w := range want {
		if g := s.Steps[i]; cmplx.Abs(g.To-w.To) > 1e-9 || math.Abs(g.Radius-w.Radius) > 1e-9 || g.Left != w.Left || g.Curve {
			t.Errorf("step %d: %+v, want %+v", i, g, w)
		}
	}
	if cmplx.Abs(s.Start-(0.01+0.18i)) > 1e-9 || d.Width != 0.3 || d.Height != 0.2 {
		t.Errorf("start %v on %g by %g", s.Start, d.Width, d.Height)
	}
	k := d.Keepouts[0]
	if k.Name != "door" || cmplx.Abs(k.From-0.1) > 1e-9 || cmplx.Abs(k.To-(0.12+0.05i)) > 1e-9 {
		t.Errorf("%+v", k)
	}
	// Beyond the page, the surface grows by whole millimetres.
	d = readText(t, page+`<path d="M-10.5 20H310V210"/></svg>`, "")
	if s := d.Shapes[0]; cmplx.Abs(s.Start-(0.0005+0.19i)) > 1e-9 || math.Abs(d.Width-0.321) > 1e-9 || math.Abs(d.Height-0.21) > 1e-9 {
		t.Errorf("start %v on %g by %g", s.Start, d.Width, d.Height)
	}
}

// Each kind of thing that is not understood is told, with its line.
func TestNotes(t *testing.T) {
	for _, tt := range []struct{ svg, want string }{
		{`<text>Hi <tspan>there</tspan></text>`, `2: the text "Hi there" is not understood`},
		{`<image id="photo" href="x.png"/>`, `2: <image id="photo"> is not understood, and left out`},
		{`<script>alert(1)</script>`, `2: <script> is not understood`},
		{`<foreignObject/>`, `2: <foreignObject> is not understood`},
		{`<use href="other.svg#a"/>`, `2: <use> draws "other.svg#a", which is not in this file; nothing is loaded`},
		{`<use href="#none"/>`, `"#none", which is not in this file`},
		{"<g id=\"a\">\n<use href=\"#a\"/></g>", `3: <use> draws "#a", which it is part of`},
		{`<use id="u" href="#u"/>`, `draws "#u", which it is part of`},
		{`<path d="M0 0L10 0 X"/>`, `2: <path> breaks off at character 11, "X"; what stands before that is taken`},
		{`<path d="L10 0"/>`, `breaks off at character 1`},
		{`<path d="M0 0a1 1 0 2 0 10 10"/>`, `breaks off at character 12, "2 0 10 10"`},
		{`<path d="M0 0L10"/>`, `breaks off at character 8, ""`},
		{`<path d="M0 0L1e999 0"/>`, `breaks off at character 6`},
		{`<path d="M0 0LNaN 0"/>`, `breaks off at character 6`},
		{`<path d="M0 0L1e300 0"/>`, `cannot be built: it has a place or length beyond 10000 m`},
		{`<path d="M0 0A1e300 1e300 0 0 1 1 1"/>`, `cannot be built`},
		{`<path d="M5 5z"/>`, `draws nothing`},
		{`<path d="M5 5L5 5"/>`, `has a part without length`},
		{`<path/>`, `draws nothing`},
		{`<polyline points="0,0 10"/>`, `2: <polyline> breaks off at character 7`},
		{`<rect x="1em" width="10" height="10"/>`, `2: <rect> is left out: its x "1em" is not understood`},
		{`<circle r="red"/>`, `its r "red" is not understood`},
		{`<g transform="spin(3)"><path d="M0 0h9"/></g>`, `2: the transform "spin(3)" is not understood; <g> is left out`},
		{`<g transform="rotate(1 2)"/>`, `the transform "rotate(1 2)"`},
		{`<g transform="translate(5deg)"/>`, `the transform "translate(5deg)"`},
		{`<path transform="scale(0)" d="M0 0h9"/>`, `has a part without length`},
		{`<path style="transform:scale(2);transform-origin:a b" d="M0 0h9"/>`, `the transform-origin "a b"`},
		{`<svg viewBox="0 0 0 0"/>`, `its viewBox "0 0 0 0" is not understood`},
		{`<path clip-path="url(#c)" d="M0 0h9"/>`, `has a clip-path, which is not understood: it is taken whole`},
		{`<path mask="url(#c)" d="M0 0h9"/>`, `has a mask`},
		{`<style>@import "x.css"; g path{} .a:hover{}</style>`, `2: the style rule "@import" is not understood`},
		{`<style>g path{}</style>`, `the style rule "g path"`},
		{`<style>a{</style>`, ``},
		{`<style>@media x {a{}</style>`, `"@media"`},
		{`<path fill="red" stroke="none" d="M0 0h9v9zM2 2h3v3z"/>`, `is filled and has no stroke: the runs follow its outline`},
		{`<path display="none" d="M0 0h9"/>`, `2: <path> is hidden, and left out`},
		{`<g keepout="" id="keepouts"><circle r="5" cx="9" cy="9"/></g>`, `is no upright rectangle: the keepout is the rectangle around it`},
		{`<path id="a b" d="M0 0h9"/>`, `2: "a b" is called a-b`},
		{"<path id=\"a\" d=\"M0 0h9\"/>\n<path id=\"a\" d=\"M0 0h8\"/>", `3: the id "a" is there already in line 2`},
		{"<path id=\"a\" d=\"M0 0h9\"/>\n<path id=\"a\" d=\"M0 0h8\"/>", `3: "a" is called a-1`},
		{`<rect fill="white" stroke="none" width="100%" height="100%"/>`, `fills the whole page: it is taken for the background`},
		{`<path d="M-20 0h9"/>`, `what is drawn reaches beyond the page, so the surface is larger than that: its lower left corner lies 20 mm left`},
		{strings.Repeat(`<text>x</text>`, 23), `and 3 notes more of these kinds`},
	} {
		d := readText(t, page+tt.svg+"</svg>", "")
		var got []string
		for _, n := range d.Notes {
			got = append(got, fmt.Sprintf("%d: %s", n.Line, n.Text))
		}
		if all := strings.Join(got, "\n"); !strings.Contains(all, tt.want) || tt.want == "" && all != "" {
			t.Errorf("%s: %q, want %q", tt.svg, all, tt.want)
		}
	}
}

func TestNames(t *testing.T) {
	const shape = ` d="M0 0h9"/>`
	for _, tt := range []struct{ svg, want string }{
		{`<path` + shape + `<path id="path12"` + shape + `<path id="g3-7"` + shape, "run-1 run-2 run-3"},
		{`<path id="path12" xmlns:v="urn:v" v:label="lintel"` + shape, "lintel"},
		{`<path id="_"` + shape + `<path id="3rd"` + shape + `<path id="été"` + shape + `<path id="日本"` + shape, "run-1 n3rd été 日本"},
		{`<g id="word"><path` + shape + `<path id="x"` + shape + `<path` + shape + `</g>`, "word-1 x word-2"},
		{`<g id="word"><path` + shape + `</g>`, "word"},
		{`<path id="a" d="M0 0h9M0 9h9"/>`, "a-1 a-2"},
		{`<path id="a-1"` + shape + `<path id="a"` + shape + `<path id="a"` + shape, "a-1 a a-2"},
		{`<path><title>The Arch</title></path><path d="M0 0h9"><title>The Arch</title></path>`, "The-Arch"},
		{`<defs><path id="leaf"` + shape + `</defs><use href="#leaf"/><use href="#leaf" id="tip"/><use href="#leaf" x="2"/>`, "leaf tip leaf-1"},
		{`<path id="` + strings.Repeat("x", 200) + `"` + shape, strings.Repeat("x", 60)},
		{`<path id="&quot;]${a}&#10;# &lt;"` + shape, "a"},
	} {
		d := readText(t, page+tt.svg+"</svg>", "")
		var got []string
		for _, s := range d.Shapes {
			got = append(got, s.Name)
		}
		if all := strings.Join(got, " "); all != tt.want {
			t.Errorf("%s: %s, want %s", tt.svg, all, tt.want)
		}
		planned(t, d)
	}
}

// The pictures that this program writes at real size are read back: runs,
// keepouts and places on the surface are the plan's.
func TestOwnPictures(t *testing.T) {
	plan, f := decoded(t, []byte(`plan "p" {
  title = "p"
}
surface "wall" {
  width  = "2.5 m"
  height = "1.5 m"
  keepout "socket" {
    from = ["2 m", "0 m"]
    to   = ["2.1 m", "10 cm"]
  }
}
usual "run" {
  strip = catalog.ws2815_12v_60
  on    = surface.wall
}
run "arch" {
  path {
    start = ["30 cm", "20 cm"]
    line { length = "40 cm" }
    arc {
      radius = "55 cm"
      turn   = "right"
      sweep  = "200 deg"
    }
  }
}
run "wave" {
  through = [["20 cm", "10 cm"], ["90 cm", "30 cm"], ["1.6 m", "10 cm"]]
  shape   = "smooth"
}
`))
	for _, p := range drawing.Places(f) {
		d := readText(t, string(drawing.Template(f, p).SVG()), "")
		if len(d.Notes) > 0 || math.Abs(d.Width-2.5) > 1e-9 || math.Abs(d.Height-1.5) > 1e-9 {
			t.Errorf("%g by %g, %v", d.Width, d.Height, d.Notes)
		}
		back, g := planned(t, d)
		for i, r := range f.Runs {
			got := g.Runs[i]
			if got.Name != r.Name || math.Abs(got.Length-r.Length) > 0.03e-3 {
				t.Errorf("%s is %.6f m, want %s, %.6f m", got.Name, got.Length, r.Name, r.Length)
			}
			x, y, _ := r.Path.At(r.Length / 2)
			u, v, _ := got.Path.At(got.Length / 2)
			if math.Hypot(x-u, y-v) > 0.03e-3 {
				t.Errorf("%s: its middle is at (%.6f, %.6f), want (%.6f, %.6f)", r.Name, u, v, x, y)
			}
		}
		was, is := plan.Surfaces[0].Keepouts[0], back.Surfaces[0].Keepouts[0]
		if is.Name != was.Name || math.Abs(is.From.V.X-was.From.V.X) > 1e-9 || math.Abs(is.To.V.Y-was.To.V.Y) > 1e-9 {
			t.Errorf("%+v", is)
		}
	}
}
