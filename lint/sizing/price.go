package sizing

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Price is what the parts that sizes decide on cost.
type Price struct {
	Sum      float64 // in Currency; where there is none the copper in g, and 30 g for each part
	Currency string
	Grams    float64 // of copper
	Parts    int     // leads, fuses, joints, supplies
	Work     int     // blocks that are changed or new
}

// String says it in the words of a shop.
func (p Price) String() string {
	text := quantity.Show(quantity.Mass, p.Grams/1000) + " of copper, " + quantity.Count(p.Parts, "part")
	if p.Currency != "" {
		text = fmt.Sprintf("%.2f %s of wire (%s)", p.Sum, p.Currency, text)
	}
	return text
}

// prices say what the parts of a plan cost: money where every wire that a lead is made of
// has a price by the reel in one currency, and then only such wires are chosen; else
// copper and count.
type prices struct{ currency string }

func pricesOf(f *figures.Figures) prices {
	var p prices
	for _, l := range f.Leads {
		_, currency, ok := perMetre(l.Wire.V)
		if !ok || p.currency != "" && currency != p.currency {
			return prices{}
		}
		p.currency = currency
	}
	return p
}

// perMetre is what a metre of a wire costs.
func perMetre(w *schema.Wire) (price float64, currency string, ok bool) {
	if w == nil || !w.Price.Known() || !w.Price.Set || !w.Reel.Known() || !w.Reel.Set || !(w.Reel.V.SI > 0) {
		return 0, "", false
	}
	return w.Price.V.SI / w.Reel.V.SI / float64(max(w.Cores.V, 1)), w.Price.V.Unit.Symbol, true
}

// knows reports whether the price of a wire is known where prices count.
func (p prices) knows(w *schema.Wire) bool {
	if p.currency == "" {
		return true
	}
	_, currency, ok := perMetre(w)
	return ok && currency == p.currency
}

// lead is what all leads of one text cost with a size.
func (p prices) lead(f *figures.Figures, l *figures.Lead, x size) float64 {
	sum := 0.0
	for _, o := range together(f, l) {
		sum += p.wire(o, x.gauge, x.wire)
		if p.currency == "" {
			sum += partGrams
			if x.fuse > 0 {
				sum += partGrams
			}
		}
	}
	return sum
}

func (p prices) wire(l *figures.Lead, g wire.Gauge, w *schema.Wire) float64 {
	if p.currency != "" {
		each, _, _ := perMetre(w)
		return each * conductors(l)
	}
	return g.Area() * conductors(l) * copper * 1000
}

// conductors is the length of all conductors of a lead, m.
func conductors(l *figures.Lead) float64 {
	sides := 0.0
	for _, is := range []bool{l.Plus(), l.Minus()} {
		if is {
			sides++
		}
	}
	return l.Length * sides * float64(max(l.Parallel.V, 1))
}

// of is what a plan costs.
func (p prices) of(f *figures.Figures, work int) Price {
	out := Price{Currency: p.currency, Work: work}
	out.Grams, out.Parts = goods(f)
	if p.currency == "" {
		out.Sum = out.Grams + partGrams*float64(out.Parts)
		return out
	}
	for _, l := range f.Leads {
		out.Sum += p.wire(l, l.Gauge, l.Wire.V)
	}
	return out
}
