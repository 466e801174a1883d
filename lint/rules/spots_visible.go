package rules

import (
	"fmt"

	"ohmstead/calc/pixels"
	"ohmstead/lint"
)

var SpotsVisible = &lint.Rule{
	Name:  "spots-visible",
	Title: "The LEDs will show as single spots",
	Level: lint.Hint,
	Why: `Behind an opal face the light of neighbouring LEDs runs together once the face is about as far from the LEDs as they are from each other.
Nearer than that, a line of dots shows through.`,
	Formula: "spots show where depth < 0.7 / density (opal; frosted faces need half as much again)",
	Do: `Take a deeper diffuser or a denser strip, or light the wall instead of the eye.
If dots are what you want, allow the hint and say so.`,
	Sources: []string{"common practice, no source: depth from 1 x (opal) to 1.5 x (frosted) the distance of the LEDs, give or take 30 %"},
	Bad: func() string {
		return instead(tubed(), "catalog.silicone_tube_side_bend", "catalog.silicone_tube_side_10x18")
	},
	Good:  tubed,
	Check: checkSpotsVisible,
}

func checkSpotsVisible(p *lint.Pass) {
	for _, r := range p.Plan.Runs {
		s, d := r.Strip.V, r.Diffuser.V
		if s == nil || d == nil || !r.Strip.Known() || !r.Diffuser.Known() || !s.Density.Known() || !d.Depth.Known() {
			continue
		}
		need := pixels.BlendDepth(pixels.Spacing(s.Density.V.SI))
		if d.Depth.V.SI >= need*(1-1e-9) {
			continue
		}
		spacing := p.Figures.Habit.Quantity(d.Depth.V.With(pixels.Spacing(s.Density.V.SI)))
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(r.Diffuser.At), Value: &lint.Value{Got: d.Depth.V.SI, Limit: need, Unit: "m"},
			Message: fmt.Sprintf("%s: the face of %s is %s from LEDs that stand %s apart, so that they show as spots; about %s blends them",
				r.ID(), d.ID(), p.Figures.Habit.Quantity(d.Depth.V), spacing, spacing),
		})
	}
}
