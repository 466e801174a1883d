package drawing

import (
	"strings"
	"testing"
)

// A run that is moved, one that is new, one that is gone and a supply elsewhere
// are drawn; what stays makes no picture.
func TestCompared(t *testing.T) {
	const board = `plan "x" {}
surface "board" {
  width  = "2 m"
  height = "1 m"
}
supply "s" {
  output = "12 V"
  rating = "5 A"
  on     = surface.board
  at     = ["20 cm", "20 cm"]
}
run "a" {
  strip   = catalog.ws2815_12v_60
  on      = surface.board
  through = [["10 cm", "50 cm"], ["1.9 m", "50 cm"]]
}
run "b" {
  strip   = catalog.ws2815_12v_60
  on      = surface.board
  through = [["10 cm", "70 cm"], ["1.9 m", "70 cm"]]
}
`
	before := worked(t, board)
	if s := Compared(before, worked(t, strings.Replace(board, `rating = "5 A"`, `rating = "9 A"`, 1)), Sheet); len(s) != 0 {
		t.Errorf("%d pictures of a change of rating", len(s))
	}
	if s := Compared(before, worked(t, strings.Replace(board, `run "b"`, `run "c"`, 1)), Sheet); len(s) != 0 {
		t.Errorf("%d pictures of another name", len(s))
	}
	for _, c := range []struct {
		name, old, new string
		want           string // block and part that must be drawn
	}{
		{"moved", `"70 cm"], ["1.9 m", "70 cm"]`, `"80 cm"], ["1.9 m", "70 cm"]`, "run.b before"},
		{"turned round", "run \"b\" {\n", "run \"b\" {\n  data_enters = \"end\"\n", "run.b before"},
		{"gone", board[strings.Index(board, `run "b"`):], "", "run.b before"},
		{"gone and new", "run \"b\" {\n  strip   = catalog.ws2815_12v_60\n  on      = surface.board\n  through = [[\"10 cm\"", "run \"c\" {\n  strip   = catalog.ws2815_12v_60\n  on      = surface.board\n  through = [[\"20 cm\"", "run.b before"},
		{"supply", `["20 cm", "20 cm"]`, `["40 cm", "20 cm"]`, "supply.s before"},
	} {
		after := worked(t, strings.Replace(board, c.old, c.new, 1))
		scenes := Compared(before, after, Sheet)
		if len(scenes) != 1 {
			t.Errorf("%s: %d pictures", c.name, len(scenes))
			continue
		}
		found := false
		each(scenes[0], func(m Mark) {
			a := m.About()
			found = found || a.Of+" "+a.Part == c.want
		})
		if !found {
			t.Errorf("%s: no %s", c.name, c.want)
		}
		checkTexts(t, c.name, scenes[0])
		checkSound(t, c.name, scenes[0].SVG())
	}
}
