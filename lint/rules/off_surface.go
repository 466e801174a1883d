package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

var OffSurface = &lint.Rule{
	Name:  "off-surface",
	Title: "Something reaches past the edge of its surface",
	Level: lint.Warning,
	Why: `A run or a thing that is drawn beyond the width or height of the surface that it hangs on has nothing to hold it.
Most often a number is wrong: places count from the surface's lower left corner, x to the right and y up.`,
	Do:      `Correct the place, or the size of the surface.`,
	NoFix:   "Whether the place or the size of the surface is wrong is seen on the wall.",
	Sources: []string{"arithmetic"},
	Bad:     func() string { return instead(drawn(), "[\"110 cm\", \"60 cm\"]]", "[\"130 cm\", \"60 cm\"]]") },
	Good:    drawn,
	Check:   checkOffSurface,
}

func checkOffSurface(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if by := r.Outside(); by > 0 {
			reportOutside(p, &r.Run.Header, geometryAt(r.Run), r.On.V, by)
		}
	}
	eachMounted(p.Plan, func(h *schema.Header, on *schema.Surface, at schema.Value[schema.XY]) {
		if by := figures.PlaceOutside(on, at.V); by > 0 {
			reportOutside(p, h, h.At(at.At), on, by)
		}
	})
}

func reportOutside(p *lint.Pass, h *schema.Header, at source.Span, on *schema.Surface, by float64) {
	p.Report(lint.Finding{
		Subject: h.ID(), At: at, Value: &lint.Value{Got: by, Limit: 0, Unit: "m"}, Related: []lint.Related{{At: on.Head(), Message: "the surface"}},
		Message: fmt.Sprintf("%s: reaches %s past the edge of %s, which is %s wide and %s high; correct the place or the surface",
			h.ID(), p.Figures.Habit.Show(quantity.Length, by), on.ID(), on.Width.V, on.Height.V),
	})
}

// geometryAt is what a run says of its place.
func geometryAt(r *schema.Run) source.Span {
	if r.Shift.Set && r.At(r.Shift.At) == r.Shift.At {
		return r.Shift.At
	}
	return r.DrawnAt()
}
