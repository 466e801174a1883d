package figures

import (
	"errors"
	"fmt"
	"math"

	"ohmstead/calc/circuit"
	"ohmstead/calc/path"
	"ohmstead/calc/pixels"
	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// measure works out a run's geometry, pixels and the law of one pixel.
func (f *Figures) measure(r *schema.Run, run *Run) {
	*run = Run{Run: r, Least: math.Inf(1), strip: -1}
	s := r.Strip.V
	stripKnown := r.Strip.Known() && s != nil && s.Density.Known() && s.Group.Known() && s.Cut.Known()
	facts := pixels.Strip{}
	if stripKnown {
		facts = pixels.Strip{Density: s.Density.V.SI, Group: s.Group.V, Cut: s.Cut.V}
		run.Pitch = facts.Pitch()
		run.Volts = s.Voltage.V.SI
	}
	if !f.geometry(run, stripKnown, facts) || !stripKnown {
		return
	}
	fit, err := pixels.Fit(facts, run.Length)
	if err != nil {
		run.Why = quantity.ErrorIn(err, f.Habit)
		return
	}
	run.Counted = fit
	run.Pixels = fit.Pixels
	if r.Pixels.Set && !r.Pixels.Bad {
		run.Pixels = r.Pixels.V
	}
	l := f.law(s)
	run.Law, run.PixelMax, run.OK = l.law, l.full, l.law != nil
}

// law is that of one pixel of a strip, and what it draws at 100 %, A.
type law struct {
	law  *circuit.Law // nil where a value is missing
	full float64
}

// law works a strip's law out, once for all runs of it.
func (f *Figures) law(s *schema.Strip) law {
	l, ok := f.laws[s]
	if !ok {
		if l.law = s.Law(); l.law != nil {
			l.full = l.law.Full()
		}
		f.laws[s] = l
	}
	return l
}

// geometry sets the run's length and path; false when it has none to work with.
func (f *Figures) geometry(run *Run, stripKnown bool, facts pixels.Strip) bool {
	r := run.Run
	switch {
	case r.Misdrawn():
		return false
	case r.Length.Set:
		run.Length = r.Length.V.SI
		return true
	case r.Drawing() == nil && !r.Through.Set && !r.Beside.Set:
		if !r.Pixels.Set || r.Pixels.Bad || !stripKnown {
			return false
		}
		run.Length = float64(r.Pixels.V) * facts.Pitch()
		return run.Length > 0
	}
	p, err := drawn(r, 0)
	if err == errUnknown {
		return false
	}
	if err != nil {
		run.Why = quantity.ErrorIn(err, f.Habit)
		return false
	}
	run.Path = &p
	if r.On.Known() {
		run.frames = f.frames[r.On.V]
	}
	run.Length = p.Length()
	run.Least, run.LeastAt = p.LeastRadius()
	return true
}

// errUnknown says that the shape of a run cannot be read, which is told where it is written.
var errUnknown = errors.New("not known")

// mostBeside is how many runs may lie beside each other in turn.
const mostBeside = 50

// drawn works out the path of a run that lies beside another one that does, and so on, so many times before.
func drawn(r *schema.Run, before int) (p path.Path, err error) {
	switch {
	case r.Misdrawn():
		return p, errUnknown
	case r.Through.Set:
		points := make([]path.Point, 0, len(r.Through.V))
		for _, xy := range r.Through.V {
			points = append(points, point(xy))
		}
		switch {
		case r.Shape.V == "smooth" && r.Closed.V:
			p, err = path.Loop(points)
		case r.Shape.V == "smooth":
			p, err = path.Smooth(points)
		default:
			p, err = path.Rounded(points, r.Closed.V, r.Corner.V.SI)
		}
	case r.Path != nil:
		p, err = draw(r.Path)
	case r.Circle != nil:
		c := r.Circle
		p, err = path.Circle(point(c.Centre.V), c.Radius.V.SI, c.Start.V.SI, c.Sweep.V.SI, hand(c.Turn.V))
	case r.Rectangle != nil:
		c := r.Rectangle
		p, err = path.Rectangle(point(c.From.V), point(c.To.V), c.Corner.V.SI, hand(c.Turn.V))
	case r.Polygon != nil:
		c := r.Polygon
		p, err = path.Polygon(point(c.Centre.V), c.Sides.V, c.Radius.V.SI, c.Start.V.SI, c.Corner.V.SI, hand(c.Turn.V))
	case r.Beside.Set:
		if p, err = besideOf(r, before); err == nil {
			p, err = p.Offset(r.Distance.V.SI)
		}
	default:
		return p, errShapeless
	}
	if m := r.Motion(); err == nil && !m.None() {
		p, err = p.Moved(m)
	}
	return p, err
}

var errShapeless = errors.New("no shape")

// besideOf is the path that a run lies beside.
func besideOf(r *schema.Run, before int) (path.Path, error) {
	o := r.Beside.V
	for x, n := o, 0; x != nil && n <= mostBeside; x, n = x.Beside.V, n+1 {
		if x == r {
			return path.Path{}, errUnknown // beside itself, which the decoder tells of
		}
	}
	if before == mostBeside {
		return path.Path{}, fmt.Errorf("%d runs lie beside each other in turn before it; at most %d are followed", before, mostBeside)
	}
	p, err := drawn(o, before+1)
	var bad *path.Error
	switch {
	case errors.Is(err, errShapeless) && !o.Length.Bad:
		err = fmt.Errorf("%s, beside which it lies, has no shape; draw it with through or a path", o.ID())
	case errors.As(err, &bad):
		err = errUnknown // told there
	}
	return p, err
}

func hand(turn string) path.Turn {
	if turn == "right" {
		return path.Right
	}
	return path.Left
}

func point(at schema.XY) path.Point { return path.Point{X: at.X, Y: at.Y} }

// draw builds a path from a path block.
func draw(b *schema.Path) (path.Path, error) {
	var pieces []path.Piece
	for _, s := range b.Steps {
		switch s := s.(type) {
		case *schema.Line:
			if s.To.Set {
				pieces = append(pieces, path.LineTo{To: point(s.To.V)})
			} else {
				pieces = append(pieces, path.Line{Length: s.Length.V.SI})
			}
		case *schema.Arc:
			if s.To.Set {
				pieces = append(pieces, path.ArcTo{To: point(s.To.V), Radius: s.Radius.V.SI, Turn: hand(s.Turn.V), Long: s.Long.V})
			} else {
				pieces = append(pieces, path.Arc{Radius: s.Radius.V.SI, Sweep: s.Sweep.V.SI, Turn: hand(s.Turn.V)})
			}
		case *schema.Curve:
			pieces = append(pieces, path.Bezier{C1: point(s.Away.V), C2: point(s.Toward.V), To: point(s.To.V)})
		default:
			return path.Path{}, fmt.Errorf("a step of a kind that cannot be drawn")
		}
	}
	p, err := path.New(point(b.Start.V), b.Heading.V.SI, pieces...)
	if err != nil || !b.Closed.V {
		return p, err
	}
	return p.Closed()
}

// StripLength is the length of strip that the run's pixels take, m.
func (run *Run) StripLength() float64 { return float64(run.Pixels) * run.Pitch }

// Snap finds the pad that a point on this run means.
func (run *Run) Snap(pt *schema.Point) pixels.Snap {
	switch pt.Where {
	case schema.AtStart:
		return pixels.Snap{}
	case schema.AtEnd:
		return pixels.Snap{Pixel: run.Pixels, At: run.StripLength()}
	case schema.AtPixel:
		return run.Counted.Nearest(float64(pt.Pixel)*run.Pitch, run.Pixels)
	}
	return run.Counted.Nearest(pt.Distance.SI, run.Pixels)
}

// XY is where a distance along the run lies on its surface; false when the
// run's place is not known.
func (run *Run) XY(at float64) (x, y float64, ok bool) {
	if run.Path == nil || !run.On.Known() {
		return 0, 0, false
	}
	x, y, _ = run.Path.At(at)
	return x, y, true
}
