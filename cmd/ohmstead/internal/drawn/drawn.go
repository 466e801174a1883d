// Package drawn reads a drawing in SVG and writes it as the beginning of a
// plan: each path a run, each rectangle in a layer called "keepout" a keepout.
// It takes bytes and gives bytes; it knows no files.
//
// Source: W3C, Scalable Vector Graphics (SVG) 2, Candidate Recommendation 2018.
package drawn

import (
	"fmt"
	"strings"
)

// Drawing is what is understood of a drawing, in m, from the lower left corner
// of its surface, y up.
type Drawing struct {
	Width, Height float64 // of its page, or of all that is drawn where that sticks out
	Shapes        []Shape
	Keepouts      []Keepout
	Notes         []Note // in the order of the file
	unit          unit   // that its lengths are written in
}

// Note says what was not understood, or was changed.
type Note struct {
	Line int
	Text string
}

// Read reads a drawing. scale says how large it is where its own width and
// height do not: "1 mm" is the length of one unit, "96 dpi" how many are an
// inch; "1:20" is the scale of one with real units. An error is an *Error.
func Read(file []byte, scale string) (*Drawing, error) {
	d, err := readIn(file, scale, unit{})
	if err != nil {
		return nil, err
	}
	return d, nil
}

// readIn reads a drawing and rounds it to a unit, or to that of the drawing.
func readIn(file []byte, scale string, u unit) (*Drawing, *Error) {
	root, err := parse(file)
	if err != nil {
		return nil, err
	}
	w := &walker{ids: map[string]*node{}, told: map[string]int{}}
	w.prepare(root)
	page, err := w.page(root, scale)
	if err != nil {
		return nil, err
	}
	if u != (unit{}) {
		w.unit = u
	}
	if t := w.sheet.value(root, "transform"); t != "" {
		w.note(root.line, "transform", "the transform %q of the whole drawing is not understood, and left out", short(t))
	}
	if err := w.children(root, w.painted(root, page)); err != nil {
		return nil, err
	}
	return w.drawing()
}

// walker goes through a drawing as it is painted.
type walker struct {
	sheet  sheet
	ids    map[string]*node
	open   []*node // that are being drawn, to notice a use of itself
	work   int     // bytes gone through
	pieces int
	paper  extent
	unit   unit
	found  []found
	keep   []found
	notes  []Note
	told   map[string]int // how many notes of a kind there were
	mine   bool           // see own.go
}

// found is one contour with what is to be known for its name.
type found struct {
	Shape
	of    *node // the element that it is a contour of
	group string
	own   string // its own name, "" where a program made it up
	again bool   // own is the name of a use, which may draw more than this
	parts int    // how many contours the element has
}

// state is what an element takes over from those around it.
type state struct {
	to           affine  // from its units, px, to m with y up
	w, h         float64 // of the viewport, px
	hidden       bool
	fill, stroke string
	group        string // the name of the nearest group that has one
	keepout      bool
	name         string // of the use that draws it
}

// prepare notes ids and style rules before anything is drawn.
func (w *walker) prepare(n *node) {
	if id := n.attrs["id"]; id != "" {
		if was, ok := w.ids[id]; ok {
			w.note(n.line, "twice", "the id %q is there already in line %d; a use of it draws that one", short(id), was.line)
		} else {
			w.ids[id] = n
		}
	}
	w.ours(n)
	if n.name == "style" {
		for _, s := range w.sheet.read(n.text) {
			w.note(n.line, "style", "the style rule %q is not understood; what it hides is drawn", short(s))
		}
	}
	for _, k := range n.kids {
		w.prepare(k)
	}
}

// mostTold is how many notes of one kind are told one by one.
const mostTold = 20

func (w *walker) note(line int, kind, format string, args ...any) {
	if w.told[kind]++; w.told[kind] <= mostTold {
		w.notes = append(w.notes, Note{line, fmt.Sprintf(format, args...)})
	}
}

// children draws what an element holds.
func (w *walker) children(n *node, s state) *Error {
	if len(w.open) > maxDepth {
		return refuse(n.line, "its groups and uses lie more than %d deep", maxDepth)
	}
	w.open = append(w.open, n)
	defer func() { w.open = w.open[:len(w.open)-1] }()
	for _, k := range n.kids {
		if n.name == "switch" && (k.name == "foreignObject" || k.attrs["requiredExtensions"] != "") {
			continue
		}
		if err := w.draw(k, s); err != nil {
			return err
		}
		if n.name == "switch" {
			break
		}
	}
	return nil
}

// draw draws an element.
func (w *walker) draw(n *node, s state) *Error {
	switch n.name {
	case "defs", "style", "title", "desc", "metadata", "symbol", "clipPath", "mask", "marker", "pattern", "filter",
		"linearGradient", "radialGradient", "view", "cursor", "font", "font-face", "color-profile", "stop":
		return nil // draws nothing where it stands
	}
	if w.work += n.bytes(); w.work > maxWork {
		return refuse(n.line, "too much is drawn by here: use elements that draw each other make it large; expand or simplify them")
	}
	value := func(property string) string { return w.sheet.value(n, property) }
	if value("display") == "none" || zero(value("opacity")) {
		w.hide(n)
		return nil
	}
	s = w.painted(n, s)
	if t := value("transform"); t != "" {
		m, ok := transform(t)
		if !ok {
			w.note(n.line, "transform", "the transform %q is not understood; %s is left out", short(t), w.describe(n))
			return nil
		}
		z := sizer{sheet: &w.sheet, n: n, w: s.w, h: s.h}
		about, ok := origin(value("transform-origin"), s.w, s.h)
		if !ok || z.bad != "" {
			w.note(n.line, "transform", "the transform-origin %q is not understood; %s is left out", value("transform-origin"), w.describe(n))
			return nil
		}
		s.to = s.to.times(affine{1, 0, about}).times(m).times(affine{1, 0, -about})
	}
	for _, p := range []string{"clip-path", "mask"} {
		if v := value(p); v != "" && v != "none" {
			w.note(n.line, p, "%s has a %s, which is not understood: it is taken whole", w.describe(n), p)
		}
	}
	switch n.name {
	case "g", "a", "switch":
		return w.children(n, w.named(n, s))
	case "svg":
		s, ok := w.viewport(n, s, value("width"), value("height"))
		if !ok {
			return nil
		}
		return w.children(n, w.named(n, s))
	case "use":
		return w.use(n, s)
	case "path", "line", "polyline", "polygon", "circle", "ellipse", "rect":
		if s.hidden {
			w.hide(n)
			return nil
		}
		return w.shape(n, s)
	case "text":
		if !s.hidden && !w.mine {
			w.note(n.line, "text", "the text %q is not understood: have its letters made paths, or draw them with lines", short(strings.Join(strings.Fields(n.text), " ")))
		}
	default:
		if !s.hidden {
			w.note(n.line, "element", "%s is not understood, and left out", w.describe(n))
		}
	}
	return nil
}

// painted is the state with what an element hands down of how it is painted.
func (w *walker) painted(n *node, s state) state {
	switch w.sheet.value(n, "visibility") {
	case "hidden", "collapse":
		s.hidden = true
	case "visible":
		s.hidden = false
	}
	for of, property := range map[*string]string{&s.fill: "fill", &s.stroke: "stroke"} {
		switch v := w.sheet.value(n, property); v {
		case "", "inherit":
		case "transparent":
			*of = "none"
		default:
			*of = v
		}
	}
	return s
}

// hide notes what is left out as nobody sees it.
func (w *walker) hide(n *node) { w.note(n.line, "hidden", "%s is hidden, and left out", w.describe(n)) }

// named is the state in a group.
func (w *walker) named(n *node, s state) state {
	if name := ownName(n); name != "" {
		s.group = name
	}
	for _, name := range []string{n.attrs["id"], n.attrs["label"], n.title()} {
		s.keepout = s.keepout || isKeepout(name)
	}
	return s
}

// use draws another element in its place.
func (w *walker) use(n *node, s state) *Error {
	href := strings.TrimSpace(n.attrs["href"])
	id, local := strings.CutPrefix(href, "#")
	of := w.ids[id]
	if !local || of == nil {
		w.note(n.line, "use", "%s draws %q, which is not in this file; nothing is loaded", w.describe(n), short(href))
		return nil
	}
	for _, o := range w.open {
		if o == of {
			w.note(n.line, "cycle", "%s draws %q, which it is part of; it is left out", w.describe(n), short(href))
			return nil
		}
	}
	z := sizer{sheet: &w.sheet, n: n, w: s.w, h: s.h}
	s.to = s.to.times(affine{1, 0, complex(z.of("x"), z.of("y"))})
	if z.bad != "" {
		w.bad(n, z.bad)
		return nil
	}
	if name := ownName(n); name != "" {
		s.name = name
	}
	// The use is open while it draws, so that depth counts it.
	w.open = append(w.open, n)
	defer func() { w.open = w.open[:len(w.open)-1] }()
	if len(w.open) > maxDepth {
		return refuse(n.line, "its groups and uses lie more than %d deep", maxDepth)
	}
	if of.name != "symbol" && of.name != "svg" {
		return w.draw(of, s)
	}
	size := func(property string) string {
		if v := w.sheet.value(n, property); v != "" && v != "auto" {
			return v
		}
		return w.sheet.value(of, property)
	}
	in, ok := w.viewport(of, s, size("width"), size("height"))
	if !ok {
		return nil
	}
	return w.children(of, w.named(of, in))
}

// viewport is the state in an svg or symbol element of a size.
func (w *walker) viewport(n *node, s state, width, height string) (state, bool) {
	z := sizer{sheet: &w.sheet, n: n, w: s.w, h: s.h}
	at := complex(z.of("x"), z.of("y"))
	side := func(text, property string, whole float64) float64 {
		if text == "" || text == "auto" {
			return whole
		}
		px, _, ok := length(text, whole)
		if !ok && z.bad == "" {
			z.bad = property
		}
		return px
	}
	s.w, s.h = side(width, "width", s.w), side(height, "height", s.h)
	if z.bad != "" {
		w.bad(n, z.bad)
		return s, false
	}
	s.to = s.to.times(affine{1, 0, at})
	if text := n.attrs["viewBox"]; text != "" {
		view, ok := viewBox(text)
		if !ok || !(s.w > 0 && s.h > 0) {
			w.bad(n, "viewBox")
			return s, false
		}
		s.to = s.to.times(fit(view, s.w, s.h, n.attrs["preserveAspectRatio"]))
		s.w, s.h = view.w, view.h
	}
	return s, true
}

// bad notes an element that is left out for one of its attributes.
func (w *walker) bad(n *node, property string) {
	v := w.sheet.value(n, property)
	w.note(n.line, "value", "%s is left out: its %s %q is not understood", w.describe(n), property, short(v))
}

// describe names an element for a note.
func (w *walker) describe(n *node) string {
	if id := n.attrs["id"]; id != "" {
		return fmt.Sprintf("<%s id=%q>", short(n.name), short(id))
	}
	return "<" + short(n.name) + ">"
}

// short cuts a text that a note cites.
func short(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return text
}

// zero reports whether a text is a number that is 0.
func zero(text string) bool {
	s := scanner{text: text}
	x, ok := s.number()
	return ok && x == 0
}

// origin reads a transform-origin; without one it is the origin.
func origin(text string, w, h float64) (complex128, bool) {
	if text == "" {
		return 0, true
	}
	var at [3]float64
	words := strings.Fields(text)
	if len(words) > 3 {
		return 0, false
	}
	if len(words) == 1 {
		words = append(words, "center")
	}
	for i, word := range words {
		whole := [3]float64{w, h, 0}[i]
		switch word {
		case "left", "top":
			word = "0"
		case "center":
			word = "50%"
		case "right", "bottom":
			word = "100%"
		}
		px, _, ok := length(word, whole)
		if !ok {
			return 0, false
		}
		at[i] = px
	}
	return complex(at[0], at[1]), true
}
