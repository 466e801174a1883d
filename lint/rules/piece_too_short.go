package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var PieceTooShort = &lint.Rule{
	Name:  "piece-too-short",
	Title: "A run is longer than the piece it is cut from",
	Level: lint.Warning,
	Why: `A diffuser comes in pieces; two that do not join without a visible gap cannot make one run.
A strip comes on reels; a run longer than one needs a soldered joint from pad to pad, which is a hint.`,
	Do: `Make two runs that meet where a gap does not show, or take a diffuser that is sold longer or joins.
If yours does join, write joinable = true in the diffuser.
Where strips are joined by solder, feed the run near the joint.`,
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(tubed(), "diffuser \"tube\" { like = catalog.silicone_tube_side_bend }", "diffuser \"tube\" {\n  like  = catalog.silicone_tube_side_bend\n  piece = \"80 cm\"\n}")
	},
	Good:  tubed,
	Check: checkPieceTooShort,
}

func checkPieceTooShort(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if !r.OK {
			continue
		}
		d := r.Diffuser.V
		if d != nil && r.Diffuser.Known() && d.Piece.Known() && d.Joinable.Known() && !d.Joinable.V && r.Length > d.Piece.V.SI*(1+1e-9) {
			p.Report(lint.Finding{
				Subject: r.ID(), At: r.At(r.Diffuser.At), Value: &lint.Value{Got: r.Length, Limit: d.Piece.V.SI, Unit: "m"},
				Message: fmt.Sprintf("%s: is %s long, but %s comes in pieces of %s that do not join; make two runs of it, or take a longer piece",
					r.ID(), p.Figures.Habit.ShowAgainst(quantity.Length, r.Length, d.Piece.V.SI), d.ID(), p.Figures.Habit.Quantity(d.Piece.V)),
				Propose: func() [][]lint.Proposal {
					return exchange(p.Plan, &r.Header, "diffuser", p.Plan.Diffusers, func(x *schema.Diffuser) bool {
						return x.Kind.V == d.Kind.V && holds(x, r.Strip.V) && (x.Joinable.V || x.Piece.Known() && x.Piece.V.SI >= r.Length)
					})
				},
			})
		}
		s := r.Strip.V
		if s.Reel.Known() && !s.Rigid() && r.StripLength() > s.Reel.V.SI*(1+1e-9) {
			p.Report(lint.Finding{
				Subject: r.ID(), At: r.At(r.Strip.At), Level: lint.Hint, Value: &lint.Value{Got: r.StripLength(), Limit: s.Reel.V.SI, Unit: "m"},
				Message: fmt.Sprintf("%s: takes %s of %s, which comes on reels of %s; solder a joint from pad to pad, and feed the run near it",
					r.ID(), p.Figures.Habit.ShowAgainst(quantity.Length, r.StripLength(), s.Reel.V.SI), s.ID(), p.Figures.Habit.Quantity(s.Reel.V)),
			})
		}
	}
}
