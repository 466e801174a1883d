package ide

// Selections lists the stretches around an offset that make sense to select,
// each within the next: word, step, value, attribute, block, file.
func Selections(v *View, offset int) []Range { return nil }
