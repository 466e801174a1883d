package ide

// References finds every place of the plan and its stock that names the thing
// at an offset, in the order of the files.
func References(v *View, offset int, declaration bool) []Location { return nil }
