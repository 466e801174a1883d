package compare

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/lists"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// Part is a line of the shopping list that changed.
type Part struct {
	Part  string  `json:"part"`
	Kind  string  `json:"kind"`
	Unit  string  `json:"unit"`  // what Buys counts: "reel of 5 m"
	Metre bool    `json:"metre"` // Needs are metres; else pieces
	Was   Count   `json:"was"`
	Is    Count   `json:"is"`
	Cost  *Amount `json:"cost"` // the difference; nil where a price is not known
}

// Count is how much of a part one version needs and buys.
type Count struct {
	Need float64 `json:"need"`
	Buy  int     `json:"buy"`
	Each *Amount `json:"each"` // price of one unit
}

// Amount is a sum of money.
type Amount struct {
	Amount   float64 `json:"amount"`
	Currency string  `json:"currency"`
}

// Cost is what all that is bought costs, in one currency.
type Cost struct {
	Currency string  `json:"currency"`
	Was      float64 `json:"was"`
	Is       float64 `json:"is"`
}

// parts compares two shopping lists. Costs are listed only where they differ.
func parts(was, is lists.Purchase, m *matching) (out []Part, cost []Cost, unpriced int) {
	type entry struct{ was, is *lists.Item }
	entries := map[string]*entry{}
	key := func(l *lists.Item, rename func(string) string) string {
		return l.Kind + "\x00" + rename(l.Part) + "\x00" + l.Color
	}
	var order []string
	put := func(k string) *entry {
		if entries[k] == nil {
			entries[k] = &entry{}
			order = append(order, k)
		}
		return entries[k]
	}
	same := func(s string) string { return s }
	merge := func(old, l *lists.Item) *lists.Item { // one part at two prices
		if old == nil {
			return l
		}
		sum := *old
		sum.Need += l.Need
		sum.Buy += l.Buy
		if a, ok := old.Cost(); ok {
			if b, ok := l.Cost(); ok && a.Unit == b.Unit && sum.Buy > 0 {
				each := a.With((a.SI + b.SI) / float64(sum.Buy))
				sum.Each = &each
				return &sum
			}
		}
		sum.Each = nil
		return &sum
	}
	for i := range is.Items {
		e := put(key(&is.Items[i], same))
		e.is = merge(e.is, &is.Items[i])
	}
	for i := range was.Items {
		l := &was.Items[i]
		e := put(key(l, m.renamed))
		if e.is != nil && l.Use != nil && e.is.Use != nil {
			if before, after := product(l.Use, e.is.Use, m.rename); before != "" {
				old, now := *l, *e.is
				old.Part, now.Part = l.Part+" ("+before+")", e.is.Part+" ("+after+")"
				e.is = &now
				e = put(key(&old, same))
				at := slices.Index(order, key(l, m.renamed)) // the old one is told before the new one
				order = slices.Insert(order[:len(order)-1], at, order[len(order)-1])
				l = &old
			}
		}
		e.was = merge(e.was, l)
	}
	out = []Part{}
	for _, k := range order {
		if p, differs := difference(entries[k].was, entries[k].is); differs {
			if p.Cost == nil && p.Was.Buy != p.Is.Buy {
				unpriced++
			}
			out = append(out, p)
		}
	}
	return out, costs(was.Totals, is.Totals), unpriced
}

// buy fills in what has to be bought. Of a version that could not be worked out
// nobody knows what it needs: neither a part nor a sum is told then.
func (p *Plan) buy(m *matching) {
	was, is := lists.Shop(m.base.Figures), lists.Shop(m.head.Figures)
	p.Parts, p.Cost, p.Unpriced = parts(was, is, m)
	p.stocked = drawn(was, is)
	p.bought = [2][]bill{bills(was), bills(is)}
	if p.Unsolved != "" {
		p.Parts, p.Cost, p.Unpriced = []Part{}, []Cost{}, 0
	}
}

// identity lists the attributes that make a part another product when they
// change: what lies in the drawer is of no use then.
var identity = map[string][]string{
	"strip": {"chip", "voltage", "density", "channels", "group", "width", "enclosure"}, "diffuser": {"kind", "inner_width", "enclosure"}, "wire": {"gauge", "cores", "stranded"},
	"fixing": {"kind"}, "supply": {"output", "rating", "outputs", "enclosure"}, "controller": {"board"}, "joint": {"kind", "ways", "enclosure"}, "holder": {"kind", "ways", "enclosure"}, "consumable": {"what"},
}

// product says by what two versions of a part are different products; both are
// empty where they are one.
func product(was, is schema.Block, rename resolved.Rename) (before, after string) {
	x, y := byName(resolved.All(was)), byName(resolved.All(is))
	var a, b []string
	for _, name := range identity[schema.HeaderOf(is).Type.Name] {
		if p, q := x[name], y[name]; !resolved.Same(p.Value, q.Value, rename) {
			a, b = append(a, orNone(show(p))), append(b, orNone(show(q)))
		}
	}
	if x, y := likeOf(was, rename), likeOf(is, nil); len(a) > 0 && x != y && x != "" && y != "" {
		return x, y
	}
	return strings.Join(a, ", "), strings.Join(b, ", ")
}

func difference(was, is *lists.Item) (Part, bool) {
	one := is
	if is == nil {
		one = was
	}
	p := Part{Part: one.Name(), Kind: one.Kind, Unit: one.Unit, Metre: one.Long, Was: counted(was), Is: counted(is)}
	a, b := p.Was.Buy, p.Is.Buy
	if was != nil && is != nil && was.Unit != is.Unit {
		p.Unit = was.Unit + " → " + is.Unit
	}
	p.Cost = costOf(p)
	differs := a != b || !sameAmount(p.Was.Each, p.Is.Each) && (a > 0 || b > 0) || was != nil && is != nil && was.Unit != is.Unit
	return p, differs
}

func counted(l *lists.Item) Count {
	if l == nil {
		return Count{}
	}
	return Count{l.Need, l.Buy, amount(l.Each)}
}

func amount(q *schema.Quantity) *Amount {
	if q == nil {
		return nil
	}
	return &Amount{q.SI, q.Unit.Symbol}
}

func sameAmount(a, b *Amount) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}

// costOf is the difference in cost, where both sides are in one currency or
// one side buys nothing.
func costOf(p Part) *Amount {
	total := 0.0
	currency := ""
	for _, s := range []struct {
		c    Count
		sign float64
	}{{p.Was, -1}, {p.Is, 1}} {
		if s.c.Buy == 0 {
			continue
		}
		if s.c.Each == nil || currency != "" && currency != s.c.Each.Currency {
			return nil
		}
		currency = s.c.Each.Currency
		total += s.sign * float64(s.c.Buy) * s.c.Each.Amount
	}
	if currency == "" {
		return nil
	}
	return &Amount{total, currency}
}

func costs(was, is []schema.Quantity) []Cost {
	byCode := map[string]*Cost{}
	at := func(code string) *Cost {
		if byCode[code] == nil {
			byCode[code] = &Cost{Currency: code}
		}
		return byCode[code]
	}
	for _, q := range was {
		at(q.Unit.Symbol).Was = q.SI
	}
	for _, q := range is {
		at(q.Unit.Symbol).Is = q.SI
	}
	out := []Cost{}
	for _, c := range byCode {
		if d := c.Is - c.Was; d > 1e-9 || d < -1e-9 {
			out = append(out, *c)
		}
	}
	slices.SortFunc(out, func(a, b Cost) int { return strings.Compare(a.Currency, b.Currency) })
	return out
}

// need shows what is needed of a part.
func (p Part) need(c Count) string {
	if c.Need == 0 {
		return "–"
	}
	if p.Metre {
		return quantity.Show(quantity.Length, c.Need)
	}
	return quantity.Number(c.Need, 6)
}

func (a Amount) String() string { return fmt.Sprintf("%.2f %s", a.Amount, a.Currency) }

// signed shows a difference in money with its sign.
func (a Amount) signed() string {
	if a.Amount < 0 {
		return fmt.Sprintf("−%.2f %s", -a.Amount, a.Currency)
	}
	return fmt.Sprintf("+%.2f %s", a.Amount, a.Currency)
}
