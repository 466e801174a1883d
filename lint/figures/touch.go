package figures

import (
	"slices"

	"ohmstead/calc/protect"
	"ohmstead/schema"
)

// touches finds what conductors of two supplies that lie in one cable or conduit
// can do to each other: a plus of the one that touches the minus of the other
// sends its current back through whatever joins the two minuses. What leads of
// one supply do to each other is judged where they end.
func (is *Island) touches(f *Figures, end func(*schema.Point) [2]int) {
	if len(is.Supplies) < 2 {
		return
	}
	cables := map[*schema.Lead][]*Lead{}
	for _, l := range is.Leads {
		c := f.cable(l.Lead)
		cables[c] = append(cables[c], l)
	}
	for _, l := range is.Leads {
		beside := cables[f.cable(l.Lead)]
		if !l.Plus() || len(beside) < 2 {
			continue
		}
		from := f.feeding(l.To.V)
		var loads []protect.Load // of this plus: one thing touches at a time
		for _, o := range beside {
			if o == l || !o.Minus() {
				continue
			}
			for _, pt := range []*schema.Point{o.From.V, o.To.V} {
				of := f.feeding(pt)
				if len(of) == 0 || slices.ContainsFunc(of, func(s *schema.Supply) bool { return slices.Contains(from, s) }) {
					continue
				}
				// Behind its fuse, at its from end.
				loads = append(loads, protect.Load{Plus: end(l.To.V)[0], Minus: end(pt)[1]})
			}
		}
		if len(loads) > 0 {
			is.touching = append(is.touching, loads)
		}
	}
}

// touched records on the minus conductors what such a touch drives through them.
func (is *Island) touched() {
	for _, loads := range is.touching {
		g := is.Grid
		g.Loads = loads
		all, err := protect.Walk(g)
		if err != nil {
			continue
		}
		for i := range all {
			if is.Grid.Conductors[i].Side == protect.Plus {
				all[i] = protect.Exposure{}
			}
		}
		is.protection(all)
	}
}

// feeding lists the supplies whose plus is joined with that of a place.
func (f *Figures) feeding(pt *schema.Point) []*schema.Supply {
	if pt.Supply != nil {
		return []*schema.Supply{pt.Supply}
	}
	var out []*schema.Supply
	for _, o := range f.Connectivity().Plus(pt.Block()) {
		out = append(out, o.Supply)
	}
	return out
}
