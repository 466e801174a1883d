package ide

// Target is a place that a reference leads to.
type Target struct {
	Origin Range    // the reference, in v.File
	Name   Location // what to put the cursor on
	Whole  Location // all of the block or value
}

// Definition finds where the thing at an offset is declared: a block, a port,
// a named value; also in stock and in the catalogue.
func Definition(v *View, offset int) []Target { return nil }

// TypeDefinition finds the part that the thing at an offset is made of: from
// a run to its strip, from a lead or signal to its wire, from a controller to
// its board, and from any other block to the one that it is like.
func TypeDefinition(v *View, offset int) []Target { return nil }
