package compare

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
)

// Drawer is a part of stock of which some is there already, and which several plans
// take from: each has it for itself only once.
type Drawer struct {
	Part  string   `json:"part"`
	Plans []string `json:"plans"` // directories
	Unit  string   `json:"unit"`  // what Buy counts
	Metre bool     `json:"metre"` // Need and Have are metres
	Was   Contents `json:"was"`
	Is    Contents `json:"is"`
	Cost  *Amount  `json:"cost"` // the difference; nil where a price is not known
}

// Contents is what is there of a part, and what all plans together need and buy of it.
type Contents struct {
	Have float64 `json:"have"`
	Count
}

// Drawn lists the parts of stock of a plan, of either version, of which some is there.
func (p *Plan) Drawn() []string { return p.stocked }

func drawn(purchases ...lists.Purchase) (out []string) {
	for _, l := range purchases {
		for _, x := range l.Items {
			if x.Have > 0 && Stocked(x) && !slices.Contains(out, x.Part) {
				out = append(out, x.Part)
			}
		}
	}
	return out
}

// bill is what is paid for a part.
type bill struct {
	part string
	cost Amount
}

func bills(l lists.Purchase) (out []bill) {
	for _, x := range l.Items {
		if cost, ok := x.Cost(); ok && x.Buy > 0 {
			out = append(out, bill{x.Part, *amount(&cost)})
		}
	}
	return out
}

// Stocked reports whether an item is a part of stock.
func Stocked(x lists.Item) bool {
	return x.Use != nil && schema.HeaderOf(x.Use).Home == schema.InStock
}

// Share tells a part once that several plans take from one drawer: was and is are all
// those plans. What a plan says of it alone is taken out.
func (r *Report) Share(part string, dirs []string, was, is []*figures.Figures) {
	drawers := map[string]*Drawer{}
	var order []string
	for k, of := range [][]*figures.Figures{was, is} {
		for _, x := range pooled(part, of) {
			d := drawers[x.Name()]
			if d == nil {
				d = &Drawer{Part: x.Name(), Plans: dirs}
				drawers[d.Part] = d
				order = append(order, d.Part)
			}
			d.Unit, d.Metre = x.Unit, x.Long
			*[]*Contents{&d.Was, &d.Is}[k] = Contents{x.Have, Count{x.Need + x.Others, x.Buy, amount(x.Each)}}
		}
	}
	for _, p := range r.Plans {
		p.Parts = without(p.Parts, part)
		p.Cost = p.costWithout(part)
	}
	for _, name := range order {
		d := drawers[name]
		if d.Was.Have == d.Is.Have && d.Was.Buy == d.Is.Buy && sameAmount(d.Was.Each, d.Is.Each) {
			continue
		}
		d.Cost = costOf(Part{Was: d.Was.Count, Is: d.Is.Count})
		r.Drawers = append(r.Drawers, *d)
	}
}

// pooled is what the shopping list says of a part that all these plans take from one drawer, by its colours.
func pooled(part string, of []*figures.Figures) []lists.Item {
	items := map[string]lists.Item{}
	for i, f := range of {
		others := slices.Concat(of[:i], of[i+1:])
		for _, x := range lists.Shop(f, others...).Items {
			if _, ok := items[x.Name()]; !ok && x.Part == part && Stocked(x) {
				items[x.Name()] = x
			}
		}
	}
	var out []lists.Item
	for _, name := range slices.Sorted(maps.Keys(items)) {
		out = append(out, items[name])
	}
	return out
}

func without(parts []Part, part string) []Part {
	out := []Part{}
	for _, p := range parts {
		if name, _, _ := strings.Cut(p.Part, " ("); name != part {
			out = append(out, p)
		}
	}
	return out
}

// costWithout is what the plan costs before and after, one part apart.
func (p *Plan) costWithout(part string) []Cost {
	if p.Unsolved != "" {
		return p.Cost
	}
	byCode := map[string]*Cost{}
	for i := range p.bought {
		p.bought[i] = slices.DeleteFunc(p.bought[i], func(b bill) bool { return b.part == part })
		for _, b := range p.bought[i] {
			c := byCode[b.cost.Currency]
			if c == nil {
				c = &Cost{Currency: b.cost.Currency}
				byCode[b.cost.Currency] = c
			}
			*[]*float64{&c.Was, &c.Is}[i] += b.cost.Amount
		}
	}
	out := []Cost{}
	for _, code := range slices.Sorted(maps.Keys(byCode)) {
		if c := *byCode[code]; math.Abs(c.Is-c.Was) > 1e-9 {
			out = append(out, c)
		}
	}
	return out
}

// sentence tells what all plans together need, have and buy.
func (d Drawer) sentence() string {
	show := func(v float64) string {
		if d.Metre {
			return quantity.Show(quantity.Length, v)
		}
		return quantity.Number(v, 6)
	}
	s := fmt.Sprintf("%s, of which %d plans take: %s needed, %s → %s in the drawer", d.Part, len(d.Plans), show(d.Is.Need), show(d.Was.Have), show(d.Is.Have))
	if d.Was.Buy == d.Is.Buy {
		s += fmt.Sprintf("; %d × %s to buy, as before", d.Is.Buy, d.Unit)
	} else {
		s += fmt.Sprintf("; %d → %d × %s to buy", d.Was.Buy, d.Is.Buy, d.Unit)
	}
	if d.Cost != nil && d.Cost.Amount != 0 {
		s += ", " + d.Cost.signed()
	}
	return s
}
