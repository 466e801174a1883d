package ide

import "ohmstead/schema"

// BlockAt is the address of the block that a place of v.File is in, of copies
// that of the first; "" for none.
func BlockAt(v *View, offset int) string {
	s, ok := v.spot(offset)
	if !ok {
		return ""
	}
	for _, n := range schema.NodesIn(s.piece) {
		if n.Whole.Start > s.at || n.Whole.End < s.at {
			continue
		}
		for _, list := range [][]schema.Block{v.Plan.Blocks, v.Plan.Stock} {
			for _, b := range list {
				if h := schema.HeaderOf(b); h.Node == n {
					return h.ID()
				}
			}
		}
	}
	return ""
}
