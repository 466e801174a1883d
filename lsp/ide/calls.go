package ide

// Part is a thing in the flow of power and data: a supply, joint, controller,
// port or run.
type Part struct {
	ID     string // run.arch
	Detail string // 216 pixels, 3.6 m
	Kind   SymbolKind
	Name   Location
	Whole  Location
}

// Flow is a part that another one feeds or is fed by, and the leads and
// signals that do so: the places of their from or to.
type Flow struct {
	Part
	Through []Location
}

// PartAt finds the part at an offset: a block's own, or the one that a
// reference leads to; both ends where it stands on a lead or signal.
func PartAt(v *View, offset int) []Part { return nil }

// FedBy lists what feeds a part, along leads and signals against their direction.
func FedBy(v *View, id string) []Flow { return nil }

// Feeds lists what a part feeds, along leads and signals.
func Feeds(v *View, id string) []Flow { return nil }
