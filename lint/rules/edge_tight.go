package rules

import (
	"fmt"
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// mostTwist is how far a run may be twisted at an edge, degrees.
const mostTwist = 10

var EdgeTight = &lint.Rule{
	Name:  "edge-tight",
	Title: "A run is folded or twisted over an edge of the room",
	Level: lint.Warning,
	Why: `Where two walls meet, or wall and ceiling, a run that is drawn across the edge has to follow it: its strip folds over its flat side, with its diffuser.
Over a sharp edge the copper cracks; with a radius the strip's and the diffuser's least radius hold as in any bend.
A tube that bends to the side of its lit face, a straight channel, a ring and a panel cannot follow an edge at all.
Led across it off the square, the strip is twisted besides, which strains its solder joints and peels it off.`,
	Formula: "bend radius = radius of the edge / cos² a, twist = fold sin a, a = angle off the square; limit = the greater of the strip's and the diffuser's bend_radius",
	Do: `Lead it round with a radius and say so in the edge, cross the edge squarely, or end the run there and begin another one.
Where the channel is mitred and the strip cut and joined by wire, write mitred = true.`,
	Sources: []string{"radii: as bend-tight", "twist of 10 degrees: common practice, no source"},
	Bad: func() string {
		return instead(cornered(), "    side   = \"right\"\n    to     = surface.next\n    radius = \"5 cm\"\n", "    side = \"right\"\n    to   = surface.next\n")
	},
	Good:  cornered,
	Check: checkEdgeTight,
}

// cornered is a run that goes round the corner of a room.
func cornered() string {
	return instead(drawn(), "  height = \"80 cm\"\n}", `  height = "80 cm"
  edge {
    side   = "right"
    to     = surface.next
    radius = "5 cm"
  }
}

surface "next" {
  width  = "1 m"
  height = "80 cm"
}`, "width  = \"1.2 m\"", "width  = \"1 m\"", "[[\"10 cm\", \"30 cm\"], [\"110 cm\", \"30 cm\"]]", "[[\"0 cm\", \"30 cm\"], [\"100 cm\", \"30 cm\"]]")
}

func checkEdgeTight(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if !r.OK || r.Run.Mitred.V || r.Run.Mitred.Bad || r.Run.Diffuser.Bad {
			continue
		}
		if s := r.Strip.V; r.Diffuser.V == nil && !s.Tape() && !s.Rigid() {
			continue // pixels on wire follow any edge
		}
		for _, x := range r.Folds() {
			edgeTight(p, r, x)
			if r.Strip.V.Rigid() {
				break // once is enough to say that it must not
			}
		}
	}
}

func edgeTight(p *lint.Pass, r *figures.Run, x figures.Fold) {
	limit, of := bendLimit(r)
	d := r.Diffuser.V
	show := p.Figures.Habit.Show
	where := fmt.Sprintf("%s: passes the edge from %s to %s %s from its start", r.ID(), x.From.ID(), x.Edge.To.V.ID(), show(quantity.Length, x.At))
	f := lint.Finding{Subject: r.ID(), At: r.DrawnAt(), Related: []lint.Related{{At: x.Edge.Head(), Message: "the edge"}}}
	switch {
	case r.Strip.V.Rigid():
		f.Level = lint.Error
		f.Message = fmt.Sprintf("%s, and %s is rigid; draw it on one surface", where, r.Strip.V.ID())
	case d != nil && d.Kind.V == "channel" && !d.BendRadius.Set:
		f.Message = fmt.Sprintf("%s, but %s is a straight channel; write mitred = true where it is mitred and the strip joined by wire, or end the run there", where, d.ID())
	case d != nil && d.BendPlane.Known() && d.BendPlane.V == "side":
		f.Message = fmt.Sprintf("%s, where %s, which bends to the side only, would have to bend over its lit face; end the run there and begin another one", where, d.ID())
	case x.Radius == 0:
		f.Level = lint.Error
		if d == nil {
			f.Level = lint.Warning
		}
		f.Message = fmt.Sprintf("%s, which is sharp, so that the strip would fold; lead it round and say so, radius = %q in the edge, or cut it there and join it by wire, mitred = true", where, lengthLike(limit, max(limit.SI, 0.03)))
	case x.Radius < limit.SI*(1-1e-9):
		f.Value = &lint.Value{Got: x.Radius, Limit: limit.SI, Unit: "m"}
		f.Message = fmt.Sprintf("%s with a radius of %s, tighter than the %s that %s allows; lead it round more widely, or cut it there, mitred = true",
			where, p.Figures.Habit.Quantity(limit.With(x.Radius)), p.Figures.Habit.Quantity(limit), of)
	case x.Twist > mostTwist*(1+1e-9):
		f.Value = &lint.Value{Got: x.Twist, Limit: mostTwist, Unit: "deg"}
		f.Message = fmt.Sprintf("%s, %.3g deg off the square, which twists the strip by %.3g deg, more than %d deg; lead it square across the edge, or cut it there, mitred = true", where, x.Oblique, x.Twist, mostTwist)
	default:
		return
	}
	if !r.Strip.V.Rigid() {
		f.Propose = func() [][]lint.Proposal {
			mitred := proposal("Cut it there, and join it by wire: write mitred = true", schema.SetAttr(&r.Header, "mitred", "true"))
			if f.Level == lint.Warning && d != nil && d.Kind.V == "channel" || x.Radius >= limit.SI*(1-1e-9) && x.Radius > 0 {
				return [][]lint.Proposal{{mitred}}
			}
			wide := lengthLike(limit, max(limit.SI, 0.03))
			round := proposal(fmt.Sprintf("Lead it round: write radius = %q in the edge", wide), schema.SetAttr(&x.Edge.Header, "radius", strconv.Quote(wide)))
			round.Grade = schema.GradeFact // of what is there
			return [][]lint.Proposal{{mitred}, {round}}
		}
	}
	p.Report(f)
}
