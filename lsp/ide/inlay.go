package ide

// Hints says which inlay hints to show.
type Hints struct {
	Pixels  bool   // how many pixels a run has
	Metres  bool   // how long it is
	Amps    bool   // the current of runs, leads and supplies
	Drop    bool   // what a lead loses, and the least voltage of a run
	Load    bool   // how much of its rating a supply gives
	Lengths bool   // the length of a lead that is estimated
	Case    string // the load case of the figures (see HoverAt)
}

// Inlay is a text shown within the code, at an offset of v.File.
type Inlay struct {
	Offset int
	Label  string
	Tip    string // Markdown
	// Insert is what makes the hint part of the plan; nil where nothing does.
	Insert []TextEdit
}

// Inlays lists the hints for a range of v.File.
func Inlays(v *View, at Range, h Hints) []Inlay { return nil }
