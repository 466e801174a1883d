package figures

import (
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
	if !run.geometry(f.Habit, stripKnown, facts) || !stripKnown {
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
func (run *Run) geometry(habit quantity.Habit, stripKnown bool, facts pixels.Strip) bool {
	r := run.Run
	var p path.Path
	var err error
	switch {
	case r.Length.Bad || r.Through.Bad || r.Shape.Bad || r.Closed.Bad || r.Path != nil && r.Path.Broken || r.Shift.Bad:
		return false
	case r.Length.Set:
		run.Length = r.Length.V.SI
		return true
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
			if p, err = path.Polyline(points); err == nil && r.Closed.V {
				p, err = p.Closed()
			}
		}
	case r.Path != nil:
		p, err = draw(r.Path)
	case r.Pixels.Set && !r.Pixels.Bad && stripKnown:
		run.Length = float64(r.Pixels.V) * facts.Pitch()
		return run.Length > 0
	default:
		return false
	}
	if err == nil && r.Shift.Set {
		p, err = p.Moved(path.Shift(r.Shift.V.X, r.Shift.V.Y))
	}
	if err != nil {
		run.Why = quantity.ErrorIn(err, habit)
		return false
	}
	run.Path = &p
	run.Length = p.Length()
	run.Least, run.LeastAt = p.LeastRadius()
	return true
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
			turn := path.Left
			if s.Turn.V == "right" {
				turn = path.Right
			}
			if s.To.Set {
				pieces = append(pieces, path.ArcTo{To: point(s.To.V), Radius: s.Radius.V.SI, Turn: turn, Long: s.Long.V})
			} else {
				pieces = append(pieces, path.Arc{Radius: s.Radius.V.SI, Sweep: s.Sweep.V.SI, Turn: turn})
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
