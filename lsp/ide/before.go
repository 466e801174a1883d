package ide

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// judgedBefore gives a block and a view of it as it was when its network was judged last.
// It is false for one that is judged now.
func (v *View) judgedBefore(b schema.Block) (*View, schema.Block, bool) {
	if v.Before == nil || v.Figures == nil || b == nil || !v.Figures.Partial(b) {
		return nil, nil, false
	}
	was, ok := v.Before.Plan.Find(schema.HeaderOf(b).ID())
	if !ok || schema.HeaderOf(was).Type != schema.HeaderOf(b).Type {
		return nil, nil, false
	}
	return v.asOf(v.Before), was, true
}

// asOf is a view of an earlier version of the plan.
func (v *View) asOf(was *figures.Figures) *View {
	return &View{Plan: was.Plan, Figures: was, Rules: v.Rules, File: v.File, Pictures: v.Pictures}
}

const (
	old     = "before: "
	oldNote = "Not judged as the plan stands; before it could not be read this was worked out:"
)

// move is a figure that is not what it was.
type move struct {
	id, text string
	by       float64 // in parts of what it was
}

// mostMoves is how many of the figures that moved are told.
const mostMoves = 3

// moved says which figures of the plan are not what they were when it was saved, those
// that moved farthest first: "run.arch least 11.4 -> 11.1 V, supply.brick 85 -> 91 %".
func (v *View) moved(caseName string) string {
	if v.Saved == nil || v.Figures == nil || v.Saved == v.Figures {
		return ""
	}
	was := v.asOf(v.Saved)
	then, now := was.loadCase(caseName), v.loadCase(caseName)
	if then == nil || now == nil {
		return ""
	}
	var moves []move
	note := func(b schema.Block, name string, x, y float64, show func(float64) string) {
		if from, to := show(x), show(y); from != to {
			moves = append(moves, move{strings.TrimSpace(schema.HeaderOf(b).ID() + " " + name), arrow(from, to), math.Abs(y-x) / max(math.Abs(x), math.Abs(y))})
		}
	}
	for _, r := range v.Figures.Runs {
		before, ok := v.Saved.RunNamed(r.ID())
		if !ok {
			continue
		}
		if r.OK && before.OK {
			note(r.Run, "", float64(before.Pixels), float64(r.Pixels), func(n float64) string { return quantity.Count(int(n), "pixel") })
		}
		x, ok1 := was.runCase(before.Run, then)
		y, ok2 := v.runCase(r.Run, now)
		if ok1 && ok2 {
			note(r.Run, "least", x.MinVolts, y.MinVolts, volts)
		}
	}
	for _, l := range v.Figures.Leads {
		before, ok := v.Saved.LeadNamed(l.ID())
		if !ok {
			continue
		}
		x, ok1 := was.leadCase(before.Lead, then)
		y, ok2 := v.leadCase(l.Lead, now)
		if ok1 && ok2 {
			note(l.Lead, "", math.Abs(x.Amps), math.Abs(y.Amps), amps)
		}
	}
	for _, s := range v.Plan.Supplies {
		b, ok := v.Saved.Plan.Find(s.ID())
		before, isSupply := b.(*schema.Supply)
		if !ok || !isSupply {
			continue
		}
		x, ok1 := was.supplyCase(before, then)
		y, ok2 := v.supplyCase(s, now)
		if ok1 && ok2 && !math.IsNaN(x.Load) && !math.IsNaN(y.Load) {
			note(s, "", x.Load, y.Load, share)
		}
	}
	slices.SortStableFunc(moves, func(a, b move) int { return cmp.Compare(b.by, a.by) })
	var out []string
	for _, m := range moves[:min(len(moves), mostMoves)] {
		out = append(out, m.id+" "+m.text)
	}
	if rest := len(moves) - len(out); rest > 0 {
		out = append(out, fmt.Sprintf("%d more", rest))
	}
	return strings.Join(out, ", ")
}

// arrow writes two figures with their unit once, where it is the same.
func arrow(from, to string) string {
	if number, unit, ok := strings.Cut(from, " "); ok && strings.HasSuffix(to, " "+unit) {
		from = number
	}
	return from + " -> " + to
}
