package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var PlaceOffRun = &lint.Rule{
	Name:  "place-off-run",
	Title: "A place lies beyond the end of its run",
	Level: lint.Error,
	Why: `A lead or a reading names a place on a run that the run does not reach.
There is nothing to solder to; the figures take the end of the run instead.`,
	Do:      `Name a place on the run, or its end: run.NAME.end.`,
	Sources: []string{"arithmetic"},
	Bad: func() string {
		return instead(shelf, "run.low.start\n  wire   = wire.feed", "run.low[\"1.5 m\"]\n  wire   = wire.feed")
	},
	Good: func() string {
		return instead(shelf, "run.low.start\n  wire   = wire.feed", "run.low[\"50 cm\"]\n  wire   = wire.feed")
	},
	Check: checkPlaceOffRun,
}

func checkPlaceOffRun(p *lint.Pass) {
	look := func(h *schema.Header, name string, v schema.Value[*schema.Point]) {
		if !v.Known() || v.V.Run == nil {
			return
		}
		r, ok := p.Figures.Run(v.V.Run)
		if !ok || !r.OK {
			return
		}
		if r.Beyond(v.V) == 0 {
			return
		}
		f := lint.Finding{Subject: h.ID(), At: h.At(v.At), Related: []lint.Related{{At: r.Head(), Message: "the run"}}}
		switch v.V.Where {
		case schema.AtPixel:
			f.Value = &lint.Value{Got: float64(v.V.Pixel), Limit: float64(r.Pixels)}
			f.Message = fmt.Sprintf("%s: %s lies beyond the run, which has %s, counted from 0", h.ID(), v.V, count(r.Pixels, "pixel", "pixels"))
		default:
			f.Value = &lint.Value{Got: v.V.Distance.SI, Limit: r.Length, Unit: "m"}
			f.Message = fmt.Sprintf("%s: %s lies beyond the run, which is %s long", h.ID(), v.V, p.Figures.Habit.Show(quantity.Length, r.Length))
		}
		f.Message += fmt.Sprintf("; write %s.end for its end", r.ID())
		if a, own := h.Node.Assign(name); own && a.Val.Kind == schema.RefVal {
			step := a.Val.Steps[len(a.Val.Steps)-1]
			f.Fixes = []lint.Fix{{Title: "Write .end", Edits: []lint.Edit{{At: step.At, New: ".end"}}}}
		}
		p.Report(f)
	}
	for _, l := range p.Plan.Leads {
		look(&l.Header, "from", l.From)
		look(&l.Header, "to", l.To)
	}
	for _, x := range p.Plan.Readings {
		look(&x.Header, "at", x.Place)
	}
}
