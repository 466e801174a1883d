package compare

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// brief says in a few words what a block is.
func brief(b schema.Block, f *figures.Figures) string {
	id := func(x schema.Block) string { return schema.HeaderOf(x).ID() }
	var parts []string
	say := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	switch b := b.(type) {
	case *schema.Run:
		if r, ok := f.Run(b); ok && r.OK {
			say("%s, %s", f.Habit.Show(quantity.Length, r.Length), quantity.Count(r.Pixels, "pixel"))
		}
		if b.Strip.V != nil {
			say("of %s", id(b.Strip.V))
		}
		if b.Diffuser.V != nil {
			say("in %s", id(b.Diffuser.V))
		}
	case *schema.Lead:
		if b.From.V != nil && b.To.V != nil {
			say("%s to %s,", b.From.V, b.To.V)
		}
		if l, ok := f.Lead(b); ok && l.OK {
			say("%s", f.Habit.Show(quantity.Length, l.Length))
		}
		if b.Wire.V != nil {
			say("of %s", id(b.Wire.V))
		}
		if b.Fuse.Set && !b.Fuse.Bad {
			say("with a fuse of %s", b.Fuse.V.Exact())
			if b.Holder.V != nil {
				say("in %s", id(b.Holder.V))
			}
		}
	case *schema.Signal:
		if b.From.V != nil && b.To.V != nil {
			say("%s to %s", b.From.V, b.To.V)
		}
	case *schema.Order:
		say("%s", quantity.Count(len(b.Runs.V), "run"))
	case *schema.Supply:
		if b.Output.Known() && b.Rating.Known() {
			say("%s, %s", b.Output.V, b.Rating.V)
		}
	default:
		if like := likeOf(b, nil); like != "" {
			return "like " + like
		}
		for _, a := range resolved.Attrs(b) {
			if a.Name == "source" || a.Name == "note" {
				continue
			}
			if say("%s %s", a.Name, clip(show(a), 30)); len(parts) == 3 {
				break
			}
		}
		return strings.Join(parts, ", ")
	}
	return strings.Join(parts, " ")
}

// clip shortens a text to about n characters, between words where it can.
func clip(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	short := string(r[:n-1])
	if i := strings.LastIndexByte(short, ' '); i > n/2 {
		short = short[:i]
	}
	return strings.TrimRight(short, " ,") + " …"
}
