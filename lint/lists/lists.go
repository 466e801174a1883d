package lists

import "ohmstead/lint/figures"

// Named is a list by the name that the command and files give it.
type Named struct {
	Name, Doc string
	Of        func(*figures.Figures) *Table
}

// All lists the lists, in the order in which they are needed.
var All = []Named{
	{"wires", "every lead and signal: from, to, gauge, colour, cut length, fuse, current and drop at worst", Wires},
	{"labels", "what is written on both ends of each conductor", Labels},
	{"controller", "what each controller's firmware has to be told, run by run", Controller},
	{"pixels", "every pixel: its number, place, output and address", Pixels},
	{"points", "what a meter shows at each test point in each case, with room for what it did show", Points},
}
