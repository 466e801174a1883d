package figures

import "ohmstead/schema"

// Grounds says which blocks have their minus joined.
type Grounds struct {
	g       *groups
	sourced map[string]bool // root -> a supply is among them
}

// Grounds follows the minus conductors of all leads. A run counts as one
// place: its minus rail goes from end to end.
func (f *Figures) Grounds() Grounds {
	out := Grounds{newGroups(), map[string]bool{}}
	for _, l := range f.Plan.Leads {
		if l.From.Known() && l.To.Known() && l.From.V != nil && l.To.V != nil && l.Minus() {
			out.g.join(schema.HeaderOf(l.From.V.Block()).ID(), schema.HeaderOf(l.To.V.Block()).ID())
		}
	}
	for _, s := range f.Plan.Supplies {
		out.sourced[out.g.root(s.ID())] = true
	}
	return out
}

// Joined reports whether the minus of two blocks hangs together.
func (g Grounds) Joined(a, b schema.Block) bool {
	return g.g.root(schema.HeaderOf(a).ID()) == g.g.root(schema.HeaderOf(b).ID())
}

// Sourced reports whether the minus of a block leads to a supply of the plan.
func (g Grounds) Sourced(b schema.Block) bool {
	return g.sourced[g.g.root(schema.HeaderOf(b).ID())]
}
