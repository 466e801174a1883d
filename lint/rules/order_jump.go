package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

var OrderJump = &lint.Rule{
	Name:  "order-jump",
	Title: "An order jumps where a run turned round would meet",
	Level: lint.Hint,
	Why: `An effect that runs along an order leaves one run at its last pixel and goes on at the first pixel of the next.
Where those lie far apart, and the other end of the next run is near, the light jumps across the wall for no reason.
Rows of a picture that all begin on the same side are meant so and are left out.`,
	Formula: "the way between runs, summed over the order, is made least by turning runs round, their sequence kept; reported where the longest way exceeds 10 cm and twice the longest one so left",
	Do: `Write from_end(run.NAME) for the runs that the message names.
Places must be known: runs drawn on one surface.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return instead(drawn(), "from_end(run.low)", "run.low") },
	Good:    drawn,
	Check:   checkOrderJump,
}

// drawn is the shelf with its runs drawn one above the other.
func drawn() string {
	return instead(shelf,
		"controller \"brain\"", `surface "wall" {
  width  = "1.2 m"
  height = "80 cm"
}

controller "brain"`,
		"run \"top\" {\n  strip  = strip.led\n  length = \"1 m\"", "run \"top\" {\n  strip   = strip.led\n  on      = surface.wall\n  through = [[\"10 cm\", \"60 cm\"], [\"110 cm\", \"60 cm\"]]",
		"run \"low\" {\n  strip  = strip.led\n  length = \"1 m\"", "run \"low\" {\n  strip   = strip.led\n  on      = surface.wall\n  through = [[\"10 cm\", \"30 cm\"], [\"110 cm\", \"30 cm\"]]",
		"length = \"40 cm\"", "length = \"60 cm\"", "length = \"30 cm\"", "length = \"1.2 m\"",
		"run.low]", "from_end(run.low)]")
}

func checkOrderJump(p *lint.Pass) {
	for _, o := range p.Figures.Orders {
		if o.Raster() {
			continue
		}
		gaps, fromEnd, ok := o.Turns()
		if !ok {
			continue
		}
		worst := gaps[0]
		left := 0.0
		for _, g := range gaps {
			if g.Written > worst.Written {
				worst = g
			}
			left = max(left, g.Turned)
		}
		if !figures.Jump(worst.Written, left) {
			continue
		}
		var turn []string
		for i, s := range o.Spans {
			if fromEnd[i] != s.FromEnd {
				turn = append(turn, s.Run.ID())
			}
		}
		p.Report(lint.Finding{
			Subject: o.ID(), At: o.At(refIn(o.Order, worst.After.Run)), Value: &lint.Value{Got: worst.Written, Limit: left, Unit: "m"},
			Message: fmt.Sprintf("%s: jumps %s from %s to %s; with %s turned round the longest way is %s",
				o.ID(), p.Figures.Habit.Show(quantity.Length, worst.Written), worst.Before.ID(), worst.After.ID(), named(turn), p.Figures.Habit.Show(quantity.Length, left)),
			Fixes: turnRuns(o, fromEnd),
		})
	}
}

// refIn is where an order names a run.
func refIn(o *schema.Order, r *schema.Run) source.Span {
	for _, ref := range o.Runs.V {
		if ref.Run == r {
			return ref.At
		}
	}
	return o.Runs.At
}

// turnRuns rewrites the order's list so that each run begins where it is best
// to; only where every run is named by itself.
func turnRuns(o *figures.Order, fromEnd []bool) []lint.Fix {
	a, ok := o.Node.Assign("runs")
	if !ok || len(a.Val.Listed()) != len(o.Spans) {
		return nil
	}
	var edits []lint.Edit
	for i, item := range a.Val.Listed() {
		if fromEnd[i] == o.Spans[i].FromEnd {
			continue
		}
		text := o.Spans[i].Run.ID()
		if fromEnd[i] {
			text = "from_end(" + text + ")"
		}
		edits = append(edits, lint.Edit{At: item.At, New: text})
	}
	return []lint.Fix{{Title: "Turn the runs round", Edits: edits}}
}
