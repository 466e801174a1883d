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
	Others   float64 // of Sum, the supplies and holders that say their price in it
	Grams    float64 // of copper
	Parts    int     // leads, fuses, joints, supplies
	Work     int     // blocks that are changed or new
	Dims     bool    // a ceiling goes down, and light is lost
}

// String says it in the words of a shop.
func (p Price) String() string {
	text := quantity.Show(quantity.Mass, p.Grams/1000) + " of copper, " + quantity.Count(p.Parts, "part")
	if p.Currency != "" {
		money := fmt.Sprintf("%.2f %s of wire", p.Sum-p.Others, p.Currency)
		if p.Others > 0 {
			money += fmt.Sprintf(" and %.2f %s of supplies and holders", p.Others, p.Currency)
		}
		text = fmt.Sprintf("%s (%s)", money, text)
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
	return gramsOf(l, g)
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
	out.Others = p.others(f)
	out.Sum += out.Others
	return out
}

// others is what the supplies and holders cost that say a price in the currency of the wire.
// No choice of a lead's wire and fuse changes it: a fuse that is new has no holder yet, and one
// that is there stays. A supply of a larger rating is taken to cost what it did.
func (p prices) others(f *figures.Figures) (sum float64) {
	in := func(v schema.Value[schema.Quantity]) float64 {
		if !v.Known() || !v.Set || v.V.Unit.Symbol != p.currency {
			return 0
		}
		return v.V.SI
	}
	for _, s := range f.Plan.Supplies {
		sum += in(s.Price)
	}
	held := map[*schema.Holder]int{}
	for _, l := range f.Leads {
		if h := l.Holder.V; h != nil && l.Fused() {
			if held[h]++; !h.Ways.Set || held[h] == 1 { // a block for all of them, or one for each
				sum += in(h.Price)
			}
		}
	}
	return sum
}
