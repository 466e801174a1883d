package sizing

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Which fuse or wire a message and an editor name, from tables and what is worked out already: whoever does what they say
// is not to get the next error for it.

// Loads keeps the greatest current of the leads of one text, A: what is said of one copy, or of one lead of a feed, is
// mended in all.
type Loads map[*schema.Node]float64

// Of is the greatest current of the leads that share a lead's text, A; 0 where none is known.
func (x Loads) Of(f *figures.Figures, l *figures.Lead) float64 {
	text := l.Node.Text()
	amps, known := x[text]
	if !known {
		for _, o := range OfText(f, l) {
			if w := f.WorstLead(o); w.OK {
				amps = max(amps, w.Value)
			}
		}
		x[text] = amps
	}
	return amps
}

// OfText lists the leads that share a lead's text: its copies, and the other leads of a feed.
func OfText(f *figures.Figures, l *figures.Lead) []*figures.Lead {
	text := l.Node.Text()
	var out []*figures.Lead
	for _, o := range f.Leads {
		if o.Node.Text() == text {
			out = append(out, o)
		}
	}
	return out
}

// Fusing is what is said of the fuse that a lead needs.
type Fusing struct {
	Kind    *fuse.Kind
	Ratings []float64 // A, that suit, smallest first; none where none does, or the load is not known
	Do      string    // which to fit; where none suits, what has to change for one
	Fits    bool      // there is one
}

// KindFor is the kind of fuse that a lead's holder takes; where none says it, the commonest that carries the load in A,
// which is what such a rating is taken for.
func KindFor(l *figures.Lead, load float64) *fuse.Kind {
	if l.Holder.V != nil {
		return l.Device
	}
	k := fuse.Commonest()
	if !k.Carries(k.Largest(), load) {
		k = fuse.Likely(load / k.Share)
	}
	return &k
}

// FuseFor says which fuses suit a lead and its load in A. One that suits protects its wire, and the copper of the runs at
// its ends.
func FuseFor(f *figures.Figures, l *figures.Lead, load float64) Fusing {
	kind := KindFor(l, load)
	out := Fusing{Kind: kind}
	if suit := FusesFor(f, l, kind, load); len(suit) > 0 && kind.Protects(suit[0], l.RailLimit()) {
		out.Ratings = suit
	}
	out.Do, out.Fits = out.remedy(f, l, load)
	if f.Backwards(l) { // a fuse protects nothing at its other end
		out.Do = fmt.Sprintf("make %s its from and %s", l.To.V, out.Do)
	}
	return out
}

func (x *Fusing) remedy(f *figures.Figures, l *figures.Lead, load float64) (text string, fits bool) {
	kind, rail := x.Kind, l.RailLimit()
	switch {
	case !f.WorstLead(l).OK: // its load is not known
		if most, some := kind.LargestFor(min(l.Ampacity, f.Behind(l))); some {
			return fmt.Sprintf("fit a %s fuse of %s or less", kind.Name, amps(most)), true
		}
		return "use a thicker wire", false
	case len(x.Ratings) > 0:
		return fmt.Sprintf("fit a %s fuse of %s", kind.Name, AnyFuse(x.Ratings)), true
	}
	flows := quantity.Show(quantity.Current, load)
	carries, some := kind.SmallestFor(load)
	if some && !kind.Protects(carries, rail) {
		return fmt.Sprintf("feed the run at more places through leads with a fuse each, as none that carries %s protects its copper", flows), false
	}
	if g, thick := Thinnest(f, l, func(ampacity float64) bool { return kind.Protects(carries, ampacity) }); some && thick {
		return fmt.Sprintf("use %s wire with a %s fuse of %s", g, kind.Name, amps(carries)), false
	}
	return "share its " + flows + " among more leads with a fuse each", false
}

// AnyFuse writes ratings in A as a choice, the three smallest: "5 A", "5 A or 7.5 A", "4 A, 5 A or 7.5 A".
func AnyFuse(ratings []float64) string {
	var names []string
	for _, a := range ratings[:min(3, len(ratings))] {
		names = append(names, amps(a))
	}
	return quantity.Or(names)
}
