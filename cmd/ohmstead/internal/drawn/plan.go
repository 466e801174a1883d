package drawn

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/sizing"
	"ohmstead/schema/source"
)

// Plan writes the drawing as the beginning of a plan, to be laid out. from is
// what the drawing is called. An error says what is too large for a plan.
func (d *Drawing) Plan(name, from string) ([]byte, error) {
	w := &writer{unit: d.unit}
	w.line("# The runs are the paths of %s.", from)
	w.line("# What the drawing does not say is still to be decided: answer the comments with # ?")
	w.line("# and take each out then, and see what ohmstead check says is missing.")
	w.line("")
	w.line("plan %q {\ntitle = %[1]q\n}\n", name)
	w.line("# ? Is this your strip? ohmstead catalog strip lists others.")
	w.line("strip \"main\" { like = catalog.ws2815_12v_60 }\n")
	on := ""
	if d.Width > 0 && d.Height > 0 { // a single line has no page to hang on
		on = fmt.Sprintf("on = surface.%s\n", name)
		w.line(`# ? Of what is it? Write material = "wood" or what it is: fixings hang on it.`)
		w.line("surface %q {", name)
		w.line("width = %s", w.length(d.Width))
		w.line("height = %s", w.length(d.Height))
		for _, k := range d.Keepouts {
			w.line("keepout %q {\nfrom = %s\nto = %s\n}", k.Name, w.place(k.From), w.place(k.To))
		}
		w.line("}\n")
	}
	w.line("# ? What are the runs in, and held by? Write diffuser and fixing: ohmstead catalog lists some.")
	w.line("usual \"run\" {\nstrip = strip.main\n%s}\n", on)
	for i := range d.Shapes {
		s := &d.Shapes[i]
		before := w.Len()
		w.run(s)
		// The layout indents each line, and aligns what stands in it.
		if size := w.Len() - before + 16*strings.Count(w.String()[before:], "\n"); size > source.MaxPiece {
			return nil, fmt.Errorf("%s (line %d) has %s, more than one run of a plan can say; simplify it or cut it into several", s.Name, s.Line, quantity.Count(len(s.Steps), "piece"))
		}
	}
	w.line("%s", sizing.Undrafted)
	if w.Len() > source.MaxFile*3/4 || len(d.Shapes) > source.MaxPieces/2 {
		return nil, fmt.Errorf("what is drawn, %s, is more than a plan of one file can say; simplify it or cut it into several", quantity.Count(len(d.Shapes), "run"))
	}
	return []byte(w.String()), nil
}

// Length of all that is drawn, m.
func (d *Drawing) Length() (sum float64) {
	for i := range d.Shapes {
		if p, err := d.Shapes[i].Path(); err == nil {
			sum += p.Length()
		}
	}
	return sum
}

type writer struct {
	strings.Builder
	unit unit
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }

func (w *writer) length(x float64) string {
	return fmt.Sprintf("%q", w.unit.number(x)+" "+w.unit.symbol)
}

func (w *writer) place(z complex128) string {
	return "[" + w.length(real(z)) + ", " + w.length(imag(z)) + "]"
}

// run writes a shape in the shortest way that says it.
func (w *writer) run(s *Shape) {
	w.line("run %q {", s.Name)
	switch {
	case w.rectangle(s):
	case s.lines():
		w.through(s)
	case s.Radius > 0:
		w.circle(s)
	default:
		w.path(s)
	}
	w.line("}\n")
}

func (w *writer) through(s *Shape) {
	places := []string{w.place(s.Start)}
	for _, t := range s.Steps {
		places = append(places, w.place(t.To))
	}
	if s.closes() {
		places = places[:len(places)-1]
	}
	text := strings.Join(places, ", ")
	if len(text) > 100 {
		text = "\n" + strings.Join(places, ",\n") + ",\n"
	}
	w.line("through = [%s]", text)
	if s.closes() {
		w.line("closed = true")
	}
}

// closes reports whether the last step is the straight line back to the start.
func (s *Shape) closes() bool {
	n := len(s.Steps)
	return s.Closed && n > 2 && s.Steps[n-1].To == s.Start && !s.Steps[n-1].Curve && s.Steps[n-1].Radius == 0
}

// circle writes a whole circle.
func (w *writer) circle(s *Shape) {
	w.line("circle {\ncentre = %s\nradius = %s", w.place(s.Centre), w.length(s.Radius))
	if start := math.Round(cmplx.Phase(s.Start-s.Centre)*180/math.Pi*1e4) / 1e4; start != 90 {
		w.line("start = %q", quantity.Number(start, 9)+" deg")
	}
	w.line("%s}", s.Steps[0].unusualHand())
}

// rectangle writes a shape that is an upright rectangle, with round corners or
// without.
func (w *writer) rectangle(s *Shape) bool {
	r, ok := s.rectangle()
	if ok {
		w.line("rectangle {\nfrom = %s\nto = %s", w.place(r.from), w.place(r.to))
		if r.corner > 0 {
			w.line("corner = %s", w.length(r.corner))
		}
		w.line("%s}", Step{Left: r.left}.unusualHand())
	}
	return ok
}

// unusualHand says the turn of a closed shape that goes round to the left.
func (t Step) unusualHand() string {
	if t.Left {
		return "turn = \"left\"\n"
	}
	return ""
}

// hand is the one to which an arc turns.
func (t Step) hand() string {
	if t.Left {
		return "left"
	}
	return "right"
}

func (w *writer) path(s *Shape) {
	w.line("path {")
	w.line("start = %s", w.place(s.Start))
	steps := s.Steps
	if s.closes() {
		w.line("closed = true")
		steps = steps[:len(steps)-1]
	}
	for _, t := range steps {
		switch {
		case t.Curve:
			w.line("curve {\naway = %s\ntoward = %s\nto = %s\n}", w.place(t.C1), w.place(t.C2), w.place(t.To))
		case t.Radius > 0:
			w.line("arc {\nto = %s\nradius = %s\nturn = %q", w.place(t.To), w.length(t.Radius), t.hand())
			if t.Long {
				w.line("long = true")
			}
			w.line("}")
		default:
			w.line("line { to = %s }", w.place(t.To))
		}
	}
	w.line("}")
}
