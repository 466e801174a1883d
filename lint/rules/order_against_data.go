package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var OrderAgainstData = &lint.Rule{
	Name:  "order-against-data",
	Title: "An order goes otherwise than the data of its runs",
	Level: lint.Hint,
	Why: `A controller counts pixels along its data line. Where an order goes another way, the firmware or the program that sends the picture needs a map of it; without one the light jumps.
That may well be meant. A run that is wired the other way round, or two that were exchanged, look just the same.
Rows of a picture that all begin on the same side are meant so, and so is a run that the order itself takes from_end: they are left out. ` + "`ohmstead show`" + ` lists where each run stands on its port and in its orders.`,
	Do: `If it is meant, put the map into the firmware, and say so: allow order-against-data because ...
Else write the runs in the way of their data, or lay the signals in the way of the order.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return instead(drawn(), "run.top, from_end(run.low)", "run.low, run.top") },
	Good:    drawn,
	Check:   checkOrderAgainstData,
}

func checkOrderAgainstData(p *lint.Pass) {
	for _, o := range p.Figures.Orders {
		if !o.OK || o.Raster() {
			continue
		}
		jumps, first := 0, ""
		var at *schema.Run
		say := func(r *figures.Run, format string, args ...any) {
			if jumps++; jumps == 1 {
				at, first = r.Run, fmt.Sprintf(format, args...)
			}
		}
		before := map[*figures.Port]*figures.Run{}
		for _, s := range o.Spans {
			r := s.Run
			if r.Port == nil {
				continue
			}
			if b := before[r.Port]; b != nil && r.First < b.First {
				say(r, "takes %s before %s, and the data of %s reaches %s first", b.ID(), r.ID(), r.Port.ID(), r.ID())
			}
			before[r.Port] = r
			if !s.FromEnd && s.Against() {
				say(r, "takes %s from its start, and its data enters at its end; write from_end(%s) if it is to follow the data", r.ID(), r.ID())
			}
		}
		if jumps == 0 {
			continue
		}
		if jumps > 1 {
			first += fmt.Sprintf(" (the first of %d jumps)", jumps)
		}
		p.Report(lint.Finding{
			Subject: o.ID(), At: o.At(refIn(o.Order, at)),
			Message: fmt.Sprintf("%s: %s; if that is meant, give the firmware a map of the pixels", o.ID(), first),
			Fixes:   alongData(o),
		})
	}
}

// alongData rewrites an order that names each of its runs by itself, all on one
// port, in the way of their data.
func alongData(o *figures.Order) []lint.Fix {
	a, ok := o.Node.Assign("runs")
	if !ok || len(a.Val.Listed()) != len(o.Spans) {
		return nil
	}
	port := o.Spans[0].Run.Port
	if port == nil {
		return nil
	}
	place := map[*figures.Run]int{}
	for i, s := range o.Spans {
		if s.Run.Port != port {
			return nil
		}
		place[s.Run] = i
	}
	var edits []lint.Edit
	i := 0
	for _, r := range port.Runs {
		if _, in := place[r]; !in {
			continue
		}
		text := r.ID()
		if r.DataEnters.V == "end" {
			text = "from_end(" + text + ")"
		}
		if s := o.Spans[i]; s.Run != r || s.Against() {
			edits = append(edits, lint.Edit{At: a.Val.Listed()[i].At, New: text})
		}
		i++
	}
	if i != len(o.Spans) || len(edits) == 0 {
		return nil // a run stands in it twice
	}
	return []lint.Fix{{Title: "Write the runs in the way of their data", Edits: edits}}
}
