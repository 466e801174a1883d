package figures

import "testing"

// By hand: 2 m of aluminium from -15 to 25 degC, 23.6e-6 x 2 x 40, and its cover
// of polycarbonate, 65e-6 x 2 x 40; the surface's own air wins over the plan's.
func TestGrowth(t *testing.T) {
	f := worked(t, `plan "x" { coldest = "0 degC" }
surface "wall" {
  width   = "5 m"
  height  = "2 m"
  coldest = "-15 degC"
}
diffuser "edge" {
  kind  = "channel"
  cover = "polycarbonate"
  piece = "2 m"
}
run "r" {
  strip    = catalog.ws2812b_5v_60
  diffuser = diffuser.edge
  on       = surface.wall
  through  = [["0 m", "1 m"], ["5 m", "1 m"]]
}
`)
	g, ok := f.Growth(f.Runs[0])
	if !ok {
		t.Fatal("not known")
	}
	near(t, "body, m", g.Body, 23.6e-6*2*40, 1e-12)
	near(t, "cover, m", g.Cover, 65e-6*2*40, 1e-12)
}
