package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/lint/figures"
)

// all draws everything that there is to draw of a plan.
func all(f *figures.Figures) []*Scene {
	var out []*Scene
	for _, p := range Places(f) {
		t := Template(f, p)
		out = append(out, Elevation(f, p, Sheet), t)
		for _, c := range f.Cases {
			out = append(out, Voltage(f, p, c, Sheet))
		}
		if overview, tiles, err := Tiles(t, Frame{Width: 210, Height: 297}, 7, 10); err == nil {
			out = append(out, overview)
			for _, tile := range tiles[:min(3, len(tiles))] {
				out = append(out, tile.Scene)
			}
		}
	}
	for _, r := range f.Runs[:min(3, len(f.Runs))] {
		out = append(out, Profile(f, r, Small))
	}
	return append(out, Wiring(f, Sheet)...)
}

// Every plan of the collections of sound and hazardous ones is drawn: at places that are numbers, as sound
// documents, without a text on another one or on a line, and each conductor from terminal to terminal.
func TestCollections(t *testing.T) { collections(t, thorough.Or(1, 4)) }

// collections draws every nth plan.
func collections(t *testing.T, nth int) {
	paths, err := filepath.Glob("../../testdata/judged*/*/*")
	if err != nil || len(paths) < 100 {
		t.Fatalf("%d plans, %v", len(paths), err)
	}
	for i, path := range paths {
		if i%nth != 0 {
			continue
		}
		text, err := planText(path)
		if err != nil {
			t.Fatal(err)
		}
		f := figuresWith(t, text)
		scenes := all(f)
		for _, s := range scenes {
			name := filepath.Base(path) + " " + s.Name
			checkNumbers(t, name, s)
			checkSound(t, name, s.SVG())
			if !strings.HasPrefix(s.Name, "template") {
				checkTexts(t, name, s)
				checkLines(t, name, s)
			}
		}
		checkWiring(t, filepath.Base(path), f, Wiring(f, Sheet))
	}
}

// planText reads a plan file, or all of those in a directory.
func planText(path string) (string, error) {
	if strings.HasSuffix(path, ".hcl") {
		b, err := os.ReadFile(path)
		return string(b), err
	}
	files, err := filepath.Glob(filepath.Join(path, "*.hcl"))
	text := ""
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			return "", err
		}
		text += string(b) + "\n"
	}
	return text, err
}

func checkNumbers(t *testing.T, name string, s *Scene) {
	t.Helper()
	b := s.Bounds()
	for _, x := range []float64{s.Width, s.Height, b.X, b.Y, b.W, b.H} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s: %g x %g, bounds %v", name, s.Width, s.Height, b)
			return
		}
	}
}

func checkSound(t *testing.T, name string, svg []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
}

// checkLines refuses labels that lie on runs, wires or signs: those of the layer of labels against the
// lines of the layers below it but the ground's grid.
func checkLines(t *testing.T, name string, s *Scene) {
	t.Helper()
	var lines [][2]Pt
	for _, l := range s.Layers {
		switch l.Name {
		case "runs", "marks", "wires", "symbols":
			eachIn(l.Marks, func(m Mark) {
				if p, ok := m.(*Path); ok && p.Stroke != None {
					lines = append(lines, flat(p)...)
				}
			})
		case "labels":
			eachIn(l.Marks, func(m Mark) {
				x, ok := m.(*Text)
				if !ok {
					return
				}
				b := x.Bounds().Grown(-0.05)
				for _, k := range lines {
					if hits(b, k) {
						t.Errorf("%s: a line from %v to %v runs through %q at %v", name, k[0], k[1], x.S, b)
						return
					}
				}
			})
		}
	}
}

// hits reports whether a straight line has a part in a box (Liang and Barsky's clipping).
func hits(b Box, k [2]Pt) bool {
	from, to := 0.0, 1.0
	for _, e := range [4][2]float64{{k[0].X - k[1].X, k[0].X - b.X}, {k[1].X - k[0].X, b.X + b.W - k[0].X}, {k[0].Y - k[1].Y, k[0].Y - b.Y}, {k[1].Y - k[0].Y, b.Y + b.H - k[0].Y}} {
		switch p, q := e[0], e[1]; {
		case p == 0 && q < 0:
			return false
		case p < 0:
			from = math.Max(from, q/p)
		case p > 0:
			to = math.Min(to, q/p)
		}
	}
	return from < to
}

// Equal plans give equal bytes.
func TestSameBytes(t *testing.T) {
	for name, f := range demos(t) {
		again := demos(t)[name]
		a, b := all(f), all(again)
		if len(a) != len(b) {
			t.Fatalf("%s: %d scenes and %d", name, len(a), len(b))
		}
		for i := range a {
			if !bytes.Equal(a[i].SVG(), b[i].SVG()) {
				t.Errorf("%s: %s comes out otherwise", name, a[i].Name)
			}
		}
	}
}

// Sizes at the ends of what a plan may say, names that hurt, and frames too small for anything.
func TestExtremes(t *testing.T) {
	for _, text := range []string{
		"plan \"p\" {}\n",
		"plan \"p\" {}\nsurface \"s\" {\n  width  = \"1000 m\"\n  height = \"1 mm\"\n}\nrun \"r\" {\n  strip   = catalog.ws2815_12v_60\n  on      = surface.s\n  through = [[\"-1000 m\", \"-1000 m\"], [\"1000 m\", \"1000 m\"]]\n}\n",
		"plan \"p\" {}\nsurface \"s\" {\n  width  = \"1 mm\"\n  height = \"1 mm\"\n  keepout \"k\" {\n    from = [\"-5 m\", \"-5 m\"]\n    to   = [\"5 m\", \"5 m\"]\n    why  = \"<script>alert(1)</script>\"\n  }\n}\nrun \"r\" {\n  strip   = catalog.ws2815_12v_60\n  on      = surface.s\n  through = [[\"0 m\", \"0 m\"], [\"0.1 mm\", \"0 m\"]]\n}\n",
		"plan \"p\" {}\nrun \"r\" {\n  strip  = catalog.ws2815_12v_60\n  length = \"1 mm\"\n}\nrun \"t\" {\n  strip  = catalog.ws2815_12v_60\n  length = \"900 m\"\n}\n",
		"plan \"p\" { title = \"" + strings.Repeat("\u202e<x>&", 2500) + "\" }\nrun \"" + strings.Repeat("long", 100) + "\" {\n  strip  = catalog.ws2815_12v_60\n  length = \"1 m\"\n}\nsupply \"s\" {\n  output = \"12 V\"\n  rating = \"5 A\"\n}\nlead \"l\" {\n  from   = supply.s.out\n  to     = run." + strings.Repeat("long", 100) + ".start\n  wire   = catalog.awg_16\n  length = \"1 m\"\n}\n",
	} {
		f := figuresWith(t, text)
		for _, s := range all(f) {
			checkNumbers(t, s.Name, s)
			checkSound(t, s.Name, s.SVG())
			if !strings.HasPrefix(s.Name, "template") {
				checkTexts(t, s.Name, s)
			}
			if strings.Contains(string(s.SVG()), "<script") {
				t.Errorf("%s holds a script", s.Name)
			}
		}
		for _, p := range Places(f) {
			checkNumbers(t, "small", Elevation(f, p, Frame{}))
			checkNumbers(t, "small", Voltage(f, p, f.Cases[0], Frame{Width: 1, Height: 1}))
			DXF(f, p)
		}
		for _, r := range f.Runs {
			Profile(f, r, Frame{})
		}
		Wiring(f, Frame{})
	}
}
