package lists

import "ohmstead/lint/figures"

// Named is a list by the name that the command and files give it.
type Named struct {
	Name, Doc string
	// Of makes the list. Some count what other plans need too that share the drawer of stock.
	Of func(f *figures.Figures, others ...*figures.Figures) *Table
}

func alone(of func(*figures.Figures) *Table) func(*figures.Figures, ...*figures.Figures) *Table {
	return func(f *figures.Figures, _ ...*figures.Figures) *Table { return of(f) }
}

// All lists the lists, in the order in which they are needed.
var All = []Named{
	{"shopping", "what is needed, what lies in the drawer, what to buy in whole reels, packs and pieces, and what it costs", Shopping},
	{"cutting", "which piece is cut from which reel, profile or spool, in what order, and what is left over", Cutting},
	{"wires", "every lead and signal: from, to, gauge, colour, cut length, fuse, current and drop at worst", alone(Wires)},
	{"labels", "what is written on both ends of each conductor", alone(Labels)},
	{"controller", "what each controller's firmware has to be told, run by run", alone(Controller)},
	{"pixels", "every pixel: its number, place, output and address", alone(Pixels)},
	{"points", "what a meter shows at each test point in each case that the ceilings let it show, with room for what it did show", alone(Points)},
}
