package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var BendPlane = &lint.Rule{
	Name:  "bend-plane",
	Title: "A strip is drawn bent across its width",
	Level: lint.Warning,
	Why: `A strip bends over its flat side only; bent across its width its copper tears.
Drawn in curves on a surface that it lies flat on, it would have to bend that way.
A tube that bends to the side holds the strip on edge, so that it can follow the drawing; a tube that bends towards its lit face can follow it only lying on its side, with the light going along the surface (a hint).`,
	Do: `For curves on a wall take a tube whose bend_plane is "side".
Without a diffuser, lay the curve out in short straight runs joined by wire.
If the light is to go along the surface, allow the hint and say so.`,
	Sources: []string{"common practice, no source"},
	Bad: func() string {
		return instead(tubed(), "  diffuser = diffuser.tube\n  insert   = \"cord\"\n", "", "  strip    = strip.led", "  strip = strip.led", "  on       = surface.wall", "  on    = surface.wall")
	},
	Good:  tubed,
	Check: checkBendPlane,
}

func checkBendPlane(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if !r.OK || r.Path == nil || !r.Strip.V.Tape() || !r.On.Known() || math.IsInf(r.Least, 1) || r.Least == 0 || r.Run.Diffuser.Bad {
			continue // corners are bend-tight's
		}
		f := lint.Finding{Subject: r.ID(), At: bendAt(r)}
		where := p.Figures.Habit.Show(quantity.Length, r.LeastAt) + " from its start"
		d := r.Diffuser.V
		switch {
		case d == nil:
			f.Message = fmt.Sprintf("%s: lies flat on %s and bends across its width %s, which tears its copper; put it into a tube that bends to the side", r.ID(), r.On.V.ID(), where)
		case d.BendPlane.Known() && d.BendPlane.V == "top":
			f.Level = lint.Hint
			f.At = r.At(r.Diffuser.At)
			f.Message = fmt.Sprintf("%s: follows its curve on %s only with the light going along the surface, as %s bends towards its lit face; take a tube that bends to the side where the light is to face the room",
				r.ID(), r.On.V.ID(), d.ID())
		default:
			continue
		}
		f.Propose = func() [][]lint.Proposal {
			return exchange(p.Plan, &r.Header, "diffuser", p.Plan.Diffusers, func(d *schema.Diffuser) bool { return d.BendPlane.V == "side" && holds(d, r.Strip.V) })
		}
		p.Report(f)
	}
}

// holds reports that a strip is not known to be too wide for a diffuser.
func holds(d *schema.Diffuser, s *schema.Strip) bool {
	return s == nil || !s.Width.Known() || !d.InnerWidth.Known() || s.Width.V.SI <= d.InnerWidth.V.SI*(1+1e-9)
}
