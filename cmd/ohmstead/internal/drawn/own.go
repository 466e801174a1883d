package drawn

import "strings"

// Pictures that this program writes say of each mark what it stands for
// (data-part) and of which block (data-of). Of those, runs, keepouts and the
// surface are taken back, and what else is drawn on them is left.

// ours notes that the drawing is such a picture.
func (w *walker) ours(n *node) { w.mine = w.mine || n.attrs["data-part"] == "run" }

// takeBack puts shapes of such a picture in their place.
func (w *walker) takeBack(n *node, shapes []found) {
	part, keepout := strings.CutPrefix(n.attrs["data-part"], "keepout ")
	_, of, _ := strings.Cut(n.attrs["data-of"], ".")
	for _, s := range shapes {
		switch {
		case keepout:
			s.own = part
			w.keep = append(w.keep, s)
		case part == "run":
			s.own = of
			w.found = append(w.found, s)
		case part == "surface":
			w.paper = s.extent()
		}
	}
}
