package ide

import (
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// swapEnds lets from and to of a lead change places, and with them those of leads that take over an end from it. What names
// one of its ends then names the same place by its new name. A fuse sits at from: where it is at the supply's end, the lead
// stays as it is, and where it is not, the swap brings it there, which the title says.
func (v *View) swapEnds(h *hit) []Action {
	if len(h.nodes) == 0 || h.nodes[0].Type != "lead" || len(h.nodes[0].Piece().Problems()) > 0 {
		return nil
	}
	n := h.nodes[0]
	onEnd := len(h.nodes) == 1 && h.assign != nil && (h.assign.Name == "from" || h.assign.Name == "to")
	if !touches(n.Head, h.at) && !onEnd {
		return nil
	}
	leads := v.turnedWith(n)
	if len(leads) == 0 {
		return nil
	}
	fused := false
	for _, l := range leads {
		if l.Broken || !l.From.Known() || !l.To.Known() || schema.HeaderOf(l).Home != schema.InPlan || l.MadeBy() != nil {
			return nil
		}
		if l.Fuse.Set || l.Holder.Set {
			if flow, ok := v.flow(l); !ok || flow >= 0 || v.Figures.SuppliedAt(l.From.V, l) {
				return nil
			}
			fused = true
		}
	}
	var edits []schema.Edit
	var done []*schema.Node
	for _, l := range leads {
		nodes := slices.Clone(l.Written())
		for _, w := range l.Written() {
			nodes = append(nodes, w.Blocks...) // copies, in which some say what is different
		}
		for _, w := range nodes {
			if slices.Contains(done, w) {
				continue
			}
			done = append(done, w)
			more, ok := v.swapped(w, l, n)
			if !ok {
				return nil
			}
			edits = append(edits, more...)
		}
	}
	turned := func(b schema.Block) bool {
		l, ok := b.(*schema.Lead)
		return ok && slices.ContainsFunc(leads, func(o *schema.Lead) bool { return o.ID() == l.ID() })
	}
	for _, p := range pieces(v.Plan.Files) {
		for _, r := range refsIn(p) {
			steps := r.val.Steps
			if len(steps) != 3 || steps[0].Name != "lead" {
				continue
			}
			if t, used := v.follow(steps); used == 2 && t.block != nil && turned(t.block) {
				if steps[2].Name == "to_fuse" {
					return nil // that is counted from the end that from is, which holds the fuse
				}
				if name, ok := otherEnd[steps[2].Name]; ok {
					edits = append(edits, schema.Edit{At: steps[2].At, New: name})
				}
			}
		}
	}
	changed, err := v.Plan.With(edits)
	if err != nil || !resolved.AlikeBut(v.Plan, changed, func(a, b schema.Block) bool { return swapOf(a, b, turned) }) || !readsTheSame(v.Plan, changed, turned) {
		return nil
	}
	title := "Swap the ends of lead." + n.Label()
	if more := len(leads) - len(v.copies(n)); more > 0 {
		title += fmt.Sprintf(" and of %s like it", quantity.Count(more, "lead"))
	}
	if fused {
		if _, ok := v.bears(edits, nil); !ok {
			return nil
		}
		title += ", which puts the fuse at the supply's end"
	}
	return v.offer(Action{Title: title, Kind: RefactorRewrite}, edits)
}

var otherEnd = map[string]string{"from": "to", "to": "from"}

// turnedWith lists the leads of a text, and those that take over an end from one of them.
func (v *View) turnedWith(n *schema.Node) (out []*schema.Lead) {
	in := func(b schema.Block) bool {
		return b != nil && slices.ContainsFunc(out, func(l *schema.Lead) bool { return schema.HeaderOf(b) == &l.Header })
	}
	for _, b := range v.copies(n) {
		if l, ok := b.(*schema.Lead); ok {
			out = append(out, l)
		}
	}
	for more := true; more; {
		more = false
		for _, l := range v.Plan.Leads {
			if l.Like == nil || in(l) || !in(l.Like) {
				continue
			}
			_, from := l.Node.Assign("from")
			_, to := l.Node.Assign("to")
			if !from || !to {
				out, more = append(out, l), true
			}
		}
	}
	return out
}

// flow is the current of a lead in the case full, A: positive where from is the supply's end.
func (v *View) flow(l *schema.Lead) (float64, bool) {
	if v.Figures == nil || len(v.Figures.Cases) == 0 {
		return 0, false
	}
	c, ok := v.leadCase(l, v.Figures.Cases[0])
	return c.Amps, ok && c.OK
}

// swapped are the edits of one node that a lead is written in. Where both ends stand in it, their values change places, or,
// where a comment is about one of them, their names do, so that it stays with it.
func (v *View) swapped(w *schema.Node, l *schema.Lead, first *schema.Node) (out []schema.Edit, ok bool) {
	from, hasFrom := w.Assign("from")
	to, hasTo := w.Assign("to")
	name := func(a *schema.Assign) { out = append(out, schema.Edit{At: a.NameAt, New: otherEnd[a.Name]}) }
	switch {
	case hasFrom && hasTo && (commented(from.Whole) || commented(to.Whole)):
		name(from)
		name(to)
	case hasFrom && hasTo:
		out = append(out, schema.Edit{At: from.Val.At, New: text(to.Val.At)}, schema.Edit{At: to.Val.At, New: text(from.Val.At)})
	case hasFrom:
		name(from)
	case hasTo:
		name(to)
	}
	if w == first && !(hasFrom && hasTo) { // what it takes over is not turned: it says that end itself now
		attrs, _ := schema.Says(l)
		for _, a := range attrs {
			if a.Name != "from" && a.Name != "to" || a == from || a == to {
				continue
			}
			value, ok := v.carried(a.Val, 0)
			if !ok {
				return nil, false
			}
			e := schema.InsertAttr(w, otherEnd[a.Name], value)
			if e.At == w.Inside { // on one line, which is written anew
				return nil, false
			}
			out = append(out, e)
		}
	}
	return out, true
}

// swapOf reports whether a block is another one with its ends swapped, or names a place on such a lead.
func swapOf(a, b schema.Block, turned func(schema.Block) bool) bool {
	switch x := a.(type) {
	case *schema.Lead:
		y, ok := b.(*schema.Lead)
		if !ok || x.ID() != y.ID() || !turned(x) || !x.From.V.Same(y.To.V) || !x.To.V.Same(y.From.V) {
			return false
		}
		for _, is := range resolved.All(y) {
			if !slices.ContainsFunc(resolved.All(x), func(was resolved.Attr) bool {
				return was.Name == is.Name && (otherEnd[is.Name] != "" || resolved.Same(was.Value, is.Value, nil))
			}) {
				return false
			}
		}
		return len(resolved.All(x)) == len(resolved.All(y))
	case *schema.Reading:
		_, ok := b.(*schema.Reading)
		return ok
	}
	return false
}

// readsTheSame reports whether each reading is of the place that it was of.
func readsTheSame(before, after *schema.Plan, turned func(schema.Block) bool) bool {
	if len(before.Readings) != len(after.Readings) {
		return false
	}
	for i, x := range before.Readings {
		y := after.Readings[i]
		if x.Place.Known() != y.Place.Known() {
			return false
		}
		if !x.Place.Known() {
			continue
		}
		was, is := *x.Place.V, y.Place.V
		if was.Lead != nil && turned(was.Lead) {
			switch was.Where {
			case schema.AtStart:
				was.Where = schema.AtEnd
			case schema.AtEnd:
				was.Where = schema.AtStart
			}
		}
		if !was.Same(is) {
			return false
		}
	}
	return true
}
