package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

var BendTight = &lint.Rule{
	Name:  "bend-tight",
	Title: "A run bends more tightly than strip or diffuser allow",
	Level: lint.Error,
	Why: `Bent too tightly, the copper of a strip cracks and its LEDs lift off their pads, and a tube kinks and pinches the strip.
A tube cannot follow a corner, and a channel without a bend radius is straight: those are errors.
A bend below the stated radius is a warning, and so is a corner of a bare strip or of a channel, where the strip has to be cut and joined.`,
	Formula: "least radius of the drawn path, at a corner of a degree or more 0; limit = the greater of the strip's and the diffuser's bend_radius",
	Do: `Draw the bend with a larger radius, or take a thinner tube.
At a corner end the run and begin another one: the strip is cut and joined with wire, a channel is mitred.
For places that a curve goes through, shape = "smooth" takes the corners out.`,
	Sources: []string{"common practice, no source: tubes of 6-8 mm 30-50 mm, of 10-12 mm 60-80 mm, of 16-20 mm 100-150 mm; a seller's note for strips: 30 mm"},
	Bad:     func() string { return instead(tubed(), "radius = \"10 cm\"", "radius = \"5 cm\"") },
	Good:    tubed,
	Check:   checkBendTight,
}

func checkBendTight(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if !r.OK || r.Path == nil || math.IsInf(r.Least, 1) || !r.Strip.V.Tape() {
			continue
		}
		limit, of := bendLimit(r)
		corners := r.Path.Corners()
		f := lint.Finding{Subject: r.ID(), At: bendAt(r), Value: &lint.Value{Got: r.Least, Limit: limit.SI, Unit: "m"}}
		shown := p.Figures.Habit.Quantity
		where := p.Figures.Habit.Show(quantity.Length, r.LeastAt) + " from its start"
		d := r.Diffuser.V
		straight := d != nil && r.Diffuser.Known() && d.Kind.V == "channel" && !d.BendRadius.Set
		switch {
		case straight && len(corners) > 0:
			f.Level, f.Value = lint.Warning, nil
			f.Message = fmt.Sprintf("%s: has %s, but %s is a straight channel; end the run there and begin another one, mitred", r.ID(), cornersSay(len(corners), where), d.ID())
		case straight:
			f.Value = nil
			f.Message = fmt.Sprintf("%s: bends %s, but %s is a straight channel; draw it straight, or take a tube%s", r.ID(), where, d.ID(), fitting(r, "tube"))
		case len(corners) > 0:
			f.Message = fmt.Sprintf("%s: has %s, where the strip would have to fold; draw an arc%s, or end the run there and begin another one",
				r.ID(), cornersSay(len(corners), where), ofAtLeast(p.Figures, limit))
			if d == nil {
				f.Level = lint.Warning
			}
			f.Fixes = smooth(r, limit)
		case r.Least < limit.SI*(1-1e-9):
			f.Level = lint.Warning
			f.Message = fmt.Sprintf("%s: bends to a radius of %s (%s), tighter than the %s that %s allows; draw it with %s or more",
				r.ID(), shown(limit.With(r.Least)), where, shown(limit), of, shown(limit))
			f.Fixes = widen(r, limit)
		default:
			continue
		}
		p.Report(f)
	}
}

// bendLimit is the least radius that strip and diffuser both allow, and whose
// it is; 0 where neither says.
func bendLimit(r *figures.Run) (limit schema.Quantity, of string) {
	if s := r.Strip.V; s.BendRadius.Known() {
		limit, of = s.BendRadius.V, s.ID()
	}
	if d := r.Diffuser.V; d != nil && r.Diffuser.Known() && d.BendRadius.Known() && d.BendRadius.V.SI > limit.SI {
		limit, of = d.BendRadius.V, d.ID()
	}
	return limit, of
}

func cornersSay(n int, where string) string {
	if n == 1 {
		return "a corner " + where
	}
	return fmt.Sprintf("%d corners, the first %s", n, where)
}

func ofAtLeast(f *figures.Figures, limit schema.Quantity) string {
	if limit.SI == 0 {
		return ""
	}
	return fmt.Sprintf(" of %s or more", f.Habit.Quantity(limit))
}

// bendAt is what the run says of its tightest bend: the radius of the arc, the
// curve, the place of the corner, else its geometry.
func bendAt(r *figures.Run) source.Span {
	switch {
	case r.Run.Path != nil:
		for _, s := range r.Run.Path.Steps {
			if a, ok := s.(*schema.Arc); ok && a.Radius.Known() && a.Radius.V.SI == r.Least && r.At(a.Radius.At) == a.Radius.At {
				return a.Radius.At
			}
		}
		if i := r.Path.PartAt(r.LeastAt); i < len(r.Run.Path.Steps) {
			if c, ok := r.Run.Path.Steps[i].(*schema.Curve); ok {
				return r.At(c.Head())
			}
		}
		return r.At(r.Run.Path.Head())
	case r.Through.Set:
		if a, ok := r.Node.Assign("through"); ok && a.Val.Kind == schema.ListVal && r.Shape.V != "smooth" && !r.Corner.Set {
			if i := r.PointAt(r.LeastAt); i < len(a.Val.Items) {
				return a.Val.Items[i].At
			}
		}
	}
	return r.DrawnAt()
}

// smooth offers to go through the places of a run in a curve, where that is
// wide enough.
func smooth(r *figures.Run, limit schema.Quantity) []lint.Fix {
	if _, own := r.Node.Assign("through"); !own || r.Smoothed() < limit.SI || r.Diffuser.V == nil && r.On.V != nil {
		return nil // a bare strip on a surface cannot bend across its width either
	}
	return []lint.Fix{{Title: `Write shape = "smooth"`, Edits: []lint.Edit{schema.SetAttr(&r.Header, "shape", `"smooth"`)}}}
}

// widen offers the least radius that is allowed for an arc that is drawn by
// its sweep: an arc to a place would need another place.
func widen(r *figures.Run, limit schema.Quantity) []lint.Fix {
	if r.Run.Path == nil {
		return nil
	}
	var edits []lint.Edit
	for _, s := range r.Run.Path.Steps {
		a, ok := s.(*schema.Arc)
		if !ok || !a.Radius.Known() || a.Radius.V.SI >= limit.SI {
			continue
		}
		if a.To.Set || r.At(a.Radius.At) != a.Radius.At {
			return nil
		}
		edits = append(edits, lint.Edit{At: a.Radius.At, New: `"` + lengthLike(a.Radius.V, limit.SI) + `"`})
	}
	if len(edits) == 0 {
		return nil
	}
	return []lint.Fix{{Title: "Widen the bends to " + limit.String(), Edits: edits}}
}
