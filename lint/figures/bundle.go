package figures

import "ohmstead/schema"

// bundles counts for each lead the loaded pairs that lie together in its cable
// or conduit: its own parallel ones, those of the leads that it lies within,
// and those of all that lie within the same. cable is one lead that stands for
// all of them.
func bundles(leads []*schema.Lead) (together func(*schema.Lead) int, cable func(*schema.Lead) *schema.Lead) {
	outer := map[*schema.Lead]*schema.Lead{}
	var root func(l *schema.Lead) *schema.Lead
	root = func(l *schema.Lead) *schema.Lead {
		o, ok := outer[l]
		if !ok || o == l {
			return l
		}
		outer[l] = root(o)
		return outer[l]
	}
	for _, l := range leads {
		if l.Within.Known() {
			if a, b := root(l), root(l.Within.V); a != b {
				outer[a] = b
			}
		}
	}
	own := func(l *schema.Lead) int {
		n := max(l.Parallel.V, 1)
		if l.Plus() && l.Minus() {
			n *= 2
		}
		return n
	}
	conductors := map[*schema.Lead]int{} // of those that lie with others, by root
	for l := range outer {
		conductors[root(l)] = 0
	}
	for _, l := range leads {
		r := root(l)
		if n, ok := conductors[r]; ok {
			conductors[r] = n + own(l)
		}
	}
	return func(l *schema.Lead) int {
		if n, ok := conductors[root(l)]; ok {
			return (n + 1) / 2
		}
		return (own(l) + 1) / 2
	}, root
}
