package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var SameSpot = &lint.Rule{
	Name:  "same-spot",
	Title: "Two things lie in the same place of a surface",
	Level: lint.Warning,
	Why: `Where two runs lie over each other one shades the other and warms it; a supply or controller on a run has to go somewhere else on the wall.
Most often a copy was not moved, or a number is wrong.
A run that lies beside another one comes back to itself where that leaves too little room, as in the neck of a bottle.
Runs that touch with an end are left out, and so are joints, which sit at the ends of runs.`,
	Formula: "centre lines nearer than half of both strips' `width` together over at least twice that, or crossing; a run beside another one nearer to itself than its strip is wide; a supply or controller within half a width of a run, or where another one is",
	Do: `Move one of them, with other places or with ` + "`shift`" + `.
Where two strips share a channel on purpose, a comment says so.`,
	NoFix:   "Which of the two belongs elsewhere, and where there is room, is seen on the wall.",
	Sources: []string{"arithmetic; a strip without a width is taken 5 mm wide: common practice, no source"},
	Bad: func() string {
		return instead(drawn(), "[\"10 cm\", \"30 cm\"], [\"110 cm\", \"30 cm\"]", "[\"10 cm\", \"60.5 cm\"], [\"110 cm\", \"60.5 cm\"]")
	},
	Good:  drawn,
	Check: checkSameSpot,
}

func checkSameSpot(p *lint.Pass) {
	show := func(m float64) string { return p.Figures.Habit.Show(quantity.Length, m) }
	for _, m := range p.Figures.Meetings() {
		f := lint.Finding{Subject: m.Run.ID(), At: geometryAt(m.Run.Run), Related: []lint.Related{{At: geometryAt(m.Other.Run), Message: m.Other.ID()}}}
		if m.From == m.To {
			f.Message = fmt.Sprintf("%s: crosses %s on %s, %s from its start; move one of them, or end a run there", m.Run.ID(), m.Other.ID(), m.Run.On.V.ID(), show(m.From))
		} else {
			f.Message = fmt.Sprintf("%s: lies over %s on %s, from %s to %s of its length: their centre lines are less than %s apart; move one of them", m.Run.ID(), m.Other.ID(), m.Run.On.V.ID(),
				show(m.From), show(m.To), show(m.Near))
		}
		p.Report(f)
	}
	for _, r := range p.Figures.Runs {
		if at, again, ok := r.MeetsItself(); ok {
			p.Report(lint.Finding{
				Subject: r.ID(), At: geometryAt(r.Run), Related: []lint.Related{{At: geometryAt(r.Beside.V), Message: r.Beside.V.ID()}},
				Message: fmt.Sprintf("%s: lies over itself: its places %s and %s from its start are less than %s apart, which its strip is wide; lay it nearer to %s, or on the other side of that", r.ID(), show(at), show(again), show(r.Width()), r.Beside.V.ID()),
			})
		}
	}
	type spot struct {
		on *schema.Surface
		at schema.XY
	}
	taken := map[spot]*schema.Header{}
	eachMounted(p.Plan, func(h *schema.Header, on *schema.Surface, at schema.Value[schema.XY]) {
		if h.Type.Name == "joint" {
			return
		}
		f := lint.Finding{Subject: h.ID(), At: h.At(at.At)}
		if other, ok := taken[spot{on, at.V}]; ok {
			f.Message = fmt.Sprintf("%s: sits at [%s, %s] on %s, where %s sits too; move one of them", h.ID(), show(at.V.X), show(at.V.Y), on.ID(), other.ID())
			f.Related = []lint.Related{{At: other.Head(), Message: other.ID()}}
			p.Report(f)
			return
		}
		taken[spot{on, at.V}] = h
		for _, r := range p.Figures.Runs {
			along, ok := r.Covers(on, at.V)
			if !ok {
				continue
			}
			f.Message = fmt.Sprintf("%s: sits over %s on %s, %s from that run's start and less than %s from its centre line; move one of them", h.ID(), r.ID(), on.ID(), show(along), show(r.Width()/2))
			f.Related = []lint.Related{{At: geometryAt(r.Run), Message: r.ID()}}
			p.Report(f)
			return
		}
	})
}
