package compare

import (
	"bytes"
	"strings"
	"testing"
)

// The page pictures what hangs elsewhere, and nothing where all stays; names in it do no harm.
func TestPageShowsWhatMoved(t *testing.T) {
	const text = `plan "p" {}
surface "wall" {
  width  = "2 m"
  height = "1 m"
}
run "r" {
  strip   = catalog.ws2815_12v_60
  on      = surface.wall
  through = [["10 cm", "50 cm"], ["1.9 m", "50 cm"]]
}
`
	page := func(head string) string {
		var b bytes.Buffer
		p := Plans(sideOf(text, ""), sideOf(head, ""), DefaultThreshold)
		if err := HTML(&b, &Report{Plans: []*Plan{p}, Total: 1}); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if s := page(replaced(text, `["1.9 m", "50 cm"]`, `["1.9 m", "60 cm"]`)); !strings.Contains(s, `data-part="before"`) || !strings.Contains(s, "What hangs elsewhere") {
		t.Error("a run that moved is not pictured")
	}
	if s := page(replaced(text, "ws2815_12v_60", "ws2815_12v_30")); strings.Contains(s, `data-part="before"`) {
		t.Error("another strip is pictured as a move")
	}
	if s := page(replaced(text, `run "r"`, `run "<b>r"`, `["1.9 m", "50 cm"]`, `["1.8 m", "50 cm"]`)); strings.Contains(s, "<b>") {
		t.Error("a name is markup in a picture")
	}
}
