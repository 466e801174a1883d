package figures

import "ohmstead/schema"

// bundles counts for each lead the loaded pairs that lie together in its cable
// or conduit: its own parallel ones, those of the leads that it lies within,
// and those of all that lie within the same.
func bundles(leads []*schema.Lead) map[*schema.Lead]int {
	outer := make(map[*schema.Lead]*schema.Lead, len(leads))
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
		if l.Within.Known() && l.Within.V != nil {
			if a, b := root(l), root(l.Within.V); a != b {
				outer[a] = b
			}
		}
	}
	conductors := make(map[*schema.Lead]int, len(leads))
	for _, l := range leads {
		n := max(l.Parallel.V, 1)
		if l.Plus() && l.Minus() {
			n *= 2
		}
		conductors[root(l)] += n
	}
	pairs := make(map[*schema.Lead]int, len(leads))
	for _, l := range leads {
		pairs[l] = (conductors[root(l)] + 1) / 2
	}
	return pairs
}
