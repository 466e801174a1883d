package drawing

import (
	"context"
	"math"
	"strconv"
	"strings"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// worked decodes a plan that must have no problems and works it out.
func worked(t testing.TB, text string) *figures.Figures {
	t.Helper()
	f := figuresWith(t, text)
	for _, pr := range f.Plan.Problems {
		t.Errorf("%s: %s", pr.Rule, pr.Message)
	}
	return f
}

// figuresWith works out a plan whatever is wrong with it.
func figuresWith(t testing.TB, text string) *figures.Figures {
	t.Helper()
	p := schema.Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
	f, err := figures.Work(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// ring is a circle of 30 cm around (40 cm, 30 cm), drawn by two arcs.
const ring = `plan "x" {}
surface "board" {
  width  = "80 cm"
  height = "60 cm"
}
fixing "clip" {
  kind    = "clip"
  spacing = "20 cm"
}
run "ring" {
  strip  = catalog.ws2815_12v_60
  on     = surface.board
  fixing = fixing.clip
  path {
    start   = ["55 cm", "30 cm"]
    heading = "90 deg"
    arc {
      radius = "15 cm"
      sweep  = "200 deg"
      turn   = "left"
    }
    arc {
      to     = ["55 cm", "30 cm"]
      radius = "15 cm"
      turn   = "left"
    }
  }
}
`

// A circle of 30 cm over the tiles of A4 is whole: each degree of it lies on
// some tile, inside its clip, and nowhere off the circle by more than 0.01 mm; crosses of
// the same name lie in the same place of the template.
func TestCircleClosesAcrossTiles(t *testing.T) {
	f := worked(t, ring)
	s := Template(f, Places(f)[0])
	_, tiles, err := Tiles(s, Frame{Width: 210, Height: 297}, 7, 10)
	if err != nil {
		t.Fatal(err)
	}
	if len(tiles) < 4 {
		t.Fatalf("%d tiles", len(tiles))
	}
	seen := make([]int, 360)
	worst := 0.0
	crosses := map[string]Pt{}
	for _, tile := range tiles {
		c := tile.Map.At(0.40, 0.30)
		for _, l := range tile.Layers {
			for _, m := range l.Marks {
				if name, ok := strings.CutPrefix(m.About().Part, "cross "); ok {
					b := m.Bounds()
					at := Pt{b.X + b.W/2 - tile.Map.X, b.Y + b.H/2 - tile.Map.Y}
					if was, ok := crosses[name]; ok && math.Hypot(was.X-at.X, was.Y-at.Y) > 1e-9 {
						t.Errorf("cross %s lies at %v and at %v", name, was, at)
					}
					crosses[name] = at
				}
				p, ok := m.(*Path)
				if !ok || p.Part != "run" {
					continue
				}
				from := p.From
				for _, st := range p.Steps {
					for i := range 65 {
						q := bezier(from, st, float64(i)/64)
						worst = math.Max(worst, math.Abs(math.Hypot(q.X-c.X, q.Y-c.Y)-150))
						if l.Clip.Holds(Box{X: q.X, Y: q.Y}) {
							seen[(int(math.Round(math.Atan2(c.Y-q.Y, q.X-c.X)*180/math.Pi))+360)%360]++
						}
					}
					from = st.To
				}
				if d := math.Hypot(from.X-p.From.X, from.Y-p.From.Y); d > 0.01 {
					t.Errorf("tile %s: the circle ends %.4f mm from its start", tileName(tile.Column, tile.Row), d)
				}
			}
		}
	}
	if worst > 0.01 {
		t.Errorf("off the circle by %.4f mm", worst)
	}
	for a, n := range seen {
		if n == 0 {
			t.Errorf("%d degrees lie on no tile", a)
		}
	}
	if len(crosses) < 4 {
		t.Errorf("crosses: %v", crosses)
	}
}

// Each tile has two bars of 100 mm inside what a printer reaches.
func TestBars(t *testing.T) {
	f := worked(t, ring)
	_, tiles, err := Tiles(Template(f, Places(f)[0]), Frame{Width: 215.9, Height: 279.4}, 12, 8)
	if err != nil {
		t.Fatal(err)
	}
	for _, tile := range tiles {
		n := 0
		for _, m := range tile.Layers[len(tile.Layers)-1].Marks {
			if m.About().Part != "bar" {
				continue
			}
			n++
			p := m.(*Group).Marks[0].(*Path)
			if d := math.Hypot(p.Steps[0].To.X-p.From.X, p.Steps[0].To.Y-p.From.Y); math.Abs(d-100) > 1e-9 {
				t.Errorf("a bar of %.6f mm", d)
			}
			if b := m.Bounds(); !(Box{12, 12, 215.9 - 24, 279.4 - 24}).Holds(b) {
				t.Errorf("a bar in the margin: %v", b)
			}
		}
		if n != 2 {
			t.Errorf("%d bars on tile %s", n, tileName(tile.Column, tile.Row))
		}
	}
}

func TestTilesRefuse(t *testing.T) {
	s := &Scene{Width: 1000, Height: 1000}
	for _, c := range []struct{ w, h, margin, overlap float64 }{{100, 100, 5, 5}, {210, 297, 60, 5}, {210, 297, 5, 200}, {210, 297, 5, -1}, {math.NaN(), 297, 5, 5}} {
		if _, _, err := Tiles(s, Frame{Width: c.w, Height: c.h}, c.margin, c.overlap); err == nil {
			t.Errorf("%v: no error", c)
		}
	}
	if _, _, err := Tiles(&Scene{Width: 1e6, Height: 1e6}, Frame{Width: 210, Height: 297}, 5, 5); err == nil {
		t.Error("a square kilometre of paper")
	}
}

// What the DXF says, read back group by group: the ring is one polyline of arcs
// whose every place lies on the circle, and a smooth curve lies within 0.05 mm of the path.
func TestDXF(t *testing.T) {
	f := worked(t, ring+`run "wave" {
  strip   = catalog.ws2815_12v_60
  on      = surface.board
  through = [["5 cm", "5 cm"], ["20 cm", "12 cm"], ["35 cm", "4 cm"], ["70 cm", "10 cm"]]
  shape   = "smooth"
}
`)
	p := Places(f)[0]
	lines, circles := readDXF(t, string(DXF(f, p)))
	if want := len(f.Runs[0].Fixings()); len(circles) != want || want == 0 {
		t.Errorf("%d holes, want %d", len(circles), want)
	}
	var runs [][][3]float64
	squares := 0
	for _, l := range lines {
		switch l.layer {
		case "RUNS":
			runs = append(runs, l.at)
		case "NOTE":
			squares++
			if l.at[1][0]-l.at[0][0] != 100 || l.at[2][1]-l.at[1][1] != 100 {
				t.Errorf("the square is %v", l.at)
			}
		}
	}
	if len(runs) != 2 || squares != 1 {
		t.Fatalf("%d runs and %d squares", len(runs), squares)
	}
	for i, off := range []func(x, y float64) float64{
		func(x, y float64) float64 { return math.Abs(math.Hypot(x-400, y-300) - 150) },
		func(x, y float64) float64 { return offCurve(f.Runs[1], x, y) },
	} {
		worst := 0.0
		for k := 1; k < len(runs[i]); k++ {
			for j := range 17 {
				x, y := onBulge(runs[i][k-1], runs[i][k], float64(j)/16)
				worst = math.Max(worst, off(x, y))
			}
		}
		if worst > 0.05 {
			t.Errorf("run %d lies off its path by %.4f mm", i, worst)
		}
	}
}

// offCurve is how far a place, mm, lies from a run's path, by bisection of the nearest stretch.
func offCurve(r *figures.Run, x, y float64) float64 {
	d := func(s float64) float64 {
		px, py, _ := r.Path.At(s)
		return math.Hypot(px*1000-x, py*1000-y)
	}
	best := 0.0
	n := 400.0
	for i := 0.0; i <= n; i++ {
		if s := r.Length * i / n; d(s) < d(best) {
			best = s
		}
	}
	step := r.Length / n
	for range 40 {
		for _, s := range []float64{best - step, best + step} {
			if d(s) < d(best) {
				best = s
			}
		}
		step /= 2
	}
	return d(best)
}

// onBulge is a place on an arc between two vertices, by its centre.
func onBulge(a, b [3]float64, t float64) (x, y float64) {
	if a[2] == 0 {
		return a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])
	}
	sweep := 4 * math.Atan(a[2])
	mx, my, dx, dy := (a[0]+b[0])/2, (a[1]+b[1])/2, b[0]-a[0], b[1]-a[1]
	k := 1 / math.Tan(sweep/2) / 2
	cx, cy := mx-dy*k, my+dx*k
	sin, cos := math.Sincos(sweep * t)
	return cx + (a[0]-cx)*cos - (a[1]-cy)*sin, cy + (a[0]-cx)*sin + (a[1]-cy)*cos
}

type dxfLine struct {
	layer string
	at    [][3]float64 // x, y, bulge
}

// readDXF reads polylines and circles.
func readDXF(t *testing.T, s string) (lines []dxfLine, circles [][3]float64) {
	t.Helper()
	rows := strings.Split(strings.TrimSuffix(s, "\n"), "\n")
	if len(rows)%2 != 0 {
		t.Fatalf("%d lines", len(rows))
	}
	kind := ""
	for i := 0; i < len(rows); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(rows[i]))
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		v := rows[i+1]
		number := func() float64 {
			x, err := strconv.ParseFloat(v, 64)
			if err != nil {
				t.Fatalf("line %d: %v", i+2, err)
			}
			return x
		}
		switch {
		case code == 0:
			switch kind = v; kind {
			case "POLYLINE":
				lines = append(lines, dxfLine{})
			case "VERTEX":
				lines[len(lines)-1].at = append(lines[len(lines)-1].at, [3]float64{})
			case "CIRCLE":
				circles = append(circles, [3]float64{})
			}
		case kind == "POLYLINE" && code == 8:
			lines[len(lines)-1].layer = v
		case kind == "VERTEX" && (code == 10 || code == 20 || code == 42):
			at := lines[len(lines)-1].at
			at[len(at)-1][map[int]int{10: 0, 20: 1, 42: 2}[code]] = number()
		case kind == "CIRCLE" && (code == 10 || code == 20):
			circles[len(circles)-1][code/10-1] = number()
		}
	}
	if kind != "EOF" {
		t.Errorf("the file ends with %s", kind)
	}
	return lines, circles
}

// Each tile says where its corner lies: by hand, on A4 with 7 mm left free and 10 mm of overlap tiles
// show 185 mm by 268.5 mm, each 175 mm or 258.5 mm on from the one before, and the template begins 15 mm
// to the left of a surface that is 600 mm high and 15 mm above it.
func TestTilesSayWhere(t *testing.T) {
	f := worked(t, ring)
	_, tiles, err := Tiles(Template(f, Places(f)[0]), Frame{Width: 210, Height: 297}, 7, 10)
	if err != nil {
		t.Fatal(err)
	}
	across := []string{"15 mm left of", "160 mm right of", "335 mm right of", "510 mm right of"}
	up := []string{"346.5 mm above", "88 mm above", "170.5 mm below"}
	for _, tile := range tiles {
		want := "this corner of the frame lies " + across[tile.Column] + " and " + up[tile.Row] + " the lower left corner of board"
		if !texts(tile.Scene, "frame")[want] {
			t.Errorf("tile %s says %v, want %q", tileName(tile.Column, tile.Row), texts(tile.Scene, "frame"), want)
		}
	}
}
