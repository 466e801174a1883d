package rules

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

// Which fuse or wire a message names, from tables and what is worked out already: whoever does what it says is not to
// get the next error for it.

// loads keeps the greatest current of the leads of one text, A: what is said of one copy, or of one lead of a feed, is
// mended in all.
type loads map[*schema.Node]float64

func (x loads) of(f *figures.Figures, l *figures.Lead) float64 {
	text := l.Node.Text()
	amps, known := x[text]
	if !known {
		for _, o := range f.Leads {
			if o.Node.Text() == text {
				amps = max(amps, sizing.LoadOf(f, o))
			}
		}
		x[text] = amps
	}
	return amps
}

// fusesFor lists the ratings that suit a lead and its load in A, of the kind that its holder takes; where none says it, of
// the commonest that carries the load, which is what such a rating is taken for.
func fusesFor(f *figures.Figures, l *figures.Lead, load float64) (*fuse.Kind, []float64) {
	kind := l.Device
	if l.Holder.V == nil {
		k := fuse.Commonest()
		if kind = &k; !k.Carries(k.Largest(), load) {
			k = fuse.Likely(load / k.Share)
		}
	}
	return kind, sizing.FusesFor(f, l, kind, load)
}

// fuseThatSuits says which fuse to fit; where none suits, what has to change for one. ok tells whether one does.
func fuseThatSuits(f *figures.Figures, l *figures.Lead, load float64) (text string, ok bool) {
	text, ok = suitingFuse(f, l, load)
	if f.Backwards(l) { // a fuse protects nothing at its other end
		text = fmt.Sprintf("make %s its from and %s", l.To.V, text)
	}
	return text, ok
}

func suitingFuse(f *figures.Figures, l *figures.Lead, load float64) (text string, ok bool) {
	kind, suit := fusesFor(f, l, load)
	rail := l.RailLimit()
	switch {
	case !f.WorstLead(l).OK: // its load is not known
		if most, some := kind.LargestFor(min(l.Ampacity, f.Behind(l))); some {
			return fmt.Sprintf("fit a %s fuse of %s or less", kind.Name, fuseOf(most).Exact()), true
		}
		return "use a thicker wire", false
	case len(suit) > 0 && kind.Protects(suit[0], rail):
		return fmt.Sprintf("fit a %s fuse of %s", kind.Name, oneOf(suit)), true
	}
	carries, some := kind.SmallestFor(load)
	if some && !kind.Protects(carries, rail) {
		return fmt.Sprintf("feed the run at more places through leads with a fuse each, as none that carries %s protects its copper", showAmps(load)), false
	}
	if g, thick := sizing.Thinnest(f, l, func(ampacity float64) bool { return kind.Protects(carries, ampacity) }); some && thick {
		return fmt.Sprintf("use %s wire with a %s fuse of %s", g, kind.Name, fuseOf(carries).Exact()), false
	}
	return "share its " + showAmps(load) + " among more leads with a fuse each", false
}

// oneOf writes fuse ratings as a choice, the three smallest: "5 A", "5 A or 7.5 A", "4 A, 5 A or 7.5 A".
func oneOf(ratings []float64) string {
	var names []string
	for _, a := range ratings[:min(3, len(ratings))] {
		names = append(names, fuseOf(a).Exact())
	}
	return quantity.Or(names)
}
