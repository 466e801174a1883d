package ide

// Renaming is a name that can be given anew.
type Renaming struct {
	Range        // in v.File, without quotes
	Name  string // as it is
}

// PrepareRename finds the name at an offset, or says why it cannot be renamed.
func PrepareRename(v *View, offset int) (Renaming, error) { return Renaming{}, nil }

// Rename gives the thing at an offset another name everywhere in the plan and
// its stock, or says why it cannot have that name.
func Rename(v *View, offset int, name string) ([]TextEdit, error) { return nil, nil }
