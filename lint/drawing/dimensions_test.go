package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Each run of the demo plans has the places of both of its ends among the dimensions of its elevation,
// and none is left out.
func TestDimensionsOfDemos(t *testing.T) {
	for name, f := range demos(t) {
		for _, p := range Places(f) {
			if p.Straight {
				continue
			}
			l := p.layout()
			s := Elevation(f, p, Sheet)
			has := texts(s, "dimensions")
			for i, r := range p.Runs {
				for _, at := range []float64{0, r.Length} {
					x, y, _ := l.paths[i].At(at)
					for _, v := range []float64{x - l.edge.MinX, y - l.edge.MinY} {
						if want := fmt.Sprint(math.Round(v * 1000)); !has[want] {
							t.Errorf("%s: %s has a place at %s mm, which is no dimension", name, r.ID(), want)
						}
					}
				}
			}
		}
	}
}

// Where there is no room for all, ends of runs give way before their starts, and the
// legend names what has no dimension: 30 runs whose ends lie 1 mm before the next one's start.
func TestDimensionsLeftOut(t *testing.T) {
	var b strings.Builder
	b.WriteString("plan \"x\" {}\nsurface \"board\" {\n  width  = \"9.1 m\"\n  height = \"9 m\"\n}\n")
	for i := range 30 {
		fmt.Fprintf(&b, "run \"r%d\" {\n  strip   = catalog.ws2815_12v_60\n  on      = surface.board\n  through = [[\"%d mm\", \"1 m\"], [\"%d mm\", \"1 m\"]]\n}\n", i, 300*i+50, 300*i+349)
	}
	f := worked(t, b.String())
	count := func(width float64) (starts, ends int, left bool) {
		s := Elevation(f, Places(f)[0], Frame{Width: width, Height: 175})
		has := texts(s, "dimensions")
		for i := range 30 {
			if has[fmt.Sprint(300*i+50)] {
				starts++
			}
			if has[fmt.Sprint(300*i+349)] {
				ends++
			}
		}
		for text := range texts(s, "legend") {
			left = left || strings.HasPrefix(text, "no room for the dimensions in x")
		}
		return
	}
	if s, e, left := count(277); s != 30 || e == 30 || !left {
		t.Errorf("on a sheet: %d starts, %d ends, left out %v", s, e, left)
	}
	if s, e, left := count(95); s == 30 || s < 5 || e != 0 || !left {
		t.Errorf("on a narrow sheet: %d starts, %d ends, left out %v", s, e, left)
	}
}

// texts are what a layer says.
func texts(s *Scene, layer string) map[string]bool {
	out := map[string]bool{}
	for _, l := range s.Layers {
		if l.Name == layer {
			eachIn(l.Marks, func(m Mark) {
				if x, ok := m.(*Text); ok {
					out[x.S] = true
				}
			})
		}
	}
	return out
}
