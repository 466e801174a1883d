package ide

// Hover is what to show about the thing at a place of v.File.
type Hover struct {
	Range
	Markdown string
}

// HoverAt describes what stands at an offset. Figures belong to the load case
// of that name; where the plan has none such, to the case full.
func HoverAt(v *View, offset int, caseName string) (Hover, bool) { return Hover{}, false }
