package ide

import "ohmstead/schema"

// BlockAt is the address of the block that a place of v.File is in, of copies
// that of the first; "" for none.
func BlockAt(v *View, offset int) string {
	s, ok := v.spot(offset)
	if !ok {
		return ""
	}
	id, start := "", -1
	for _, list := range [][]schema.Block{v.Plan.Blocks, v.Plan.Stock} {
		for _, b := range list {
			h := schema.HeaderOf(b)
			if whole := h.Node.Whole; h.Node.Piece() == s.piece && whole.Start <= s.at && s.at <= whole.End && whole.Start > start {
				id, start = h.ID(), whole.Start
			}
		}
	}
	return id
}
