package ide

// Colour is a colour written in v.File; its channels are shares of one.
type Colour struct {
	Range
	Red, Green, Blue float64
}

// Colours finds the colours of v.File.
func Colours(v *View) []Colour { return nil }

// ColourTexts lists the ways to write a colour in place of what stands at a range.
func ColourTexts(v *View, at Range, red, green, blue float64) []TextEdit { return nil }
