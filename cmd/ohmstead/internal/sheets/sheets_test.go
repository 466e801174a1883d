package sheets

import (
	"math"
	"os"
	"strings"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// made makes the sheets of a plan's text.
func made(t testing.TB, text string, change func(*Job)) *Document {
	t.Helper()
	fig := worked(t, text)
	v, err := lint.Run(t.Context(), fig.Plan, fig, rules.All)
	if err != nil {
		t.Fatal(err)
	}
	job := Job{Figures: fig, Verdict: v, Program: "ohmstead", Rules: len(rules.All), Paper: papers[0], Margin: 10}
	if change != nil {
		change(&job)
	}
	return Of(job, func() {})
}

func worked(t testing.TB, text string) *figures.Figures {
	t.Helper()
	plan := schema.Decode("plan", []*source.File{source.Parse(source.NewText("plan/plan.ohm.hcl", []byte(text)))}, nil)
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	return fig
}

func demo(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../../../testdata/plans/" + name + "/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The test page's bars are 100 mm long, and pages are as large as the paper, on every paper.
func TestBarsAreAsLongAsTheySay(t *testing.T) {
	for _, p := range papers {
		d := made(t, demo(t, "porch-arch"), func(j *Job) { j.Paper, j.Only = p, []string{"template"} })
		file, err := d.PDF(t.Context(), p, 10)
		if err != nil {
			t.Fatal(err)
		}
		texts := contents(t, file)
		for i, page := range readPDF(t, file) {
			if across, upright := page.bars(); (across == 0 || upright == 0) && !strings.Contains(said(t, texts[i]), " tiles") { // but the map of tiles

				t.Errorf("%s, page %d: %d bars across, %d upright", p.Name, i+1, across, upright)
			}
			if d := page.width - p.Width; d < -0.01 || d > 0.01 {
				t.Errorf("%s, page %d is %g mm wide", p.Name, i+1, page.width)
			}
			if d := page.height - p.Height; d < -0.01 || d > 0.01 {
				t.Errorf("%s, page %d is %g mm high", p.Name, i+1, page.height)
			}
		}
	}
}

// A circle of 30 cm is printed on several tiles. Laid on each other by their crosses, it closes: all its points lie
// on one circle within 0.3 mm, and none of it is missing.
func TestCircleCloses(t *testing.T) {
	const plan = `plan "ring" {}
surface "wall" {
  width  = "60 cm"
  height = "60 cm"
}
run "ring" {
  strip = catalog.ws2815_12v_60
  on    = surface.wall
  path {
    start   = ["45 cm", "30 cm"]
    heading = "90 deg"
    arc {
      radius = "15 cm"
      sweep  = "360 deg"
      turn   = "left"
    }
  }
}
`
	d := made(t, plan, func(j *Job) { j.Only = []string{"template"} })
	file, err := d.PDF(t.Context(), papers[0], 10)
	if err != nil {
		t.Fatal(err)
	}
	pages := readPDF(t, file)[2:] // behind the test page and the map
	texts := contents(t, file)[2:]
	type tile struct {
		printed
		column, row int
		dx, dy      float64
		laid        bool
	}
	var tiles []*tile
	for i, p := range pages {
		name := tileName.FindStringSubmatch(said(t, texts[i]))
		if name == nil {
			t.Fatalf("page %d has no name", i+3)
		}
		tiles = append(tiles, &tile{printed: p, column: int(name[1][0] - 'A'), row: int(name[2][0] - '1')})
	}
	if len(tiles) < 4 {
		t.Fatalf("%d tiles", len(tiles))
	}
	tiles[0].laid = true
	for range tiles {
		for _, a := range tiles {
			for _, b := range tiles {
				if !a.laid || b.laid {
					continue
				}
				right, below := b.column == a.column+1 && b.row == a.row, b.row == a.row+1 && b.column == a.column
				if !right && !below {
					continue
				}
				// The crosses on the right of the one lie on those on the left of the other, the upper on the upper.
				pa, pb := a.cross(right, below), b.cross(false, false)
				b.dx, b.dy, b.laid = a.dx+pa[0]-pb[0], a.dy+pa[1]-pb[1], true
			}
		}
	}
	var points [][2]float64
	for _, x := range tiles {
		if !x.laid {
			t.Fatalf("tile %c%d lies beside none", 'A'+x.column, x.row+1)
		}
		for _, p := range x.thick() {
			points = append(points, [2]float64{p[0] + x.dx, p[1] + x.dy})
		}
	}
	// The centre is that of the box around the points.
	left, top, right, bottom := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range points {
		left, right, top, bottom = min(left, p[0]), max(right, p[0]), min(top, p[1]), max(bottom, p[1])
	}
	worst, degrees := 0.0, map[int]bool{}
	for _, p := range points {
		x, y := p[0]-(left+right)/2, p[1]-(top+bottom)/2
		worst = max(worst, math.Abs(math.Hypot(x, y)-150))
		degrees[int(math.Floor(math.Atan2(y, x)*180/math.Pi))] = true
	}
	t.Logf("%d tiles, %d points, at most %.3f mm off the circle, %d of 360 degrees", len(tiles), len(points), worst, len(degrees))
	if worst > 0.3 {
		t.Errorf("a point lies %.3f mm off the circle", worst)
	}
	if len(degrees) < 359 {
		t.Errorf("%d degrees of the circle are there", len(degrees))
	}
}
