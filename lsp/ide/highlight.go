package ide

// Highlight is a place of v.File where the thing at the cursor is declared
// (Write) or used.
type Highlight struct {
	Range
	Write bool
}

// Highlights finds the places of v.File that name the thing at an offset.
func Highlights(v *View, offset int) []Highlight { return nil }
