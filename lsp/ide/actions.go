package ide

// The kinds of actions, as the language server protocol names them.
const (
	QuickFix        = "quickfix"
	RefactorExtract = "refactor.extract"
	RefactorInline  = "refactor.inline"
	RefactorRewrite = "refactor.rewrite"
	FixAll          = "source.fixAll"
)

// Action is a change that can be made at a place.
type Action struct {
	Title     string // a verb phrase
	Kind      string
	Edits     []TextEdit
	Preferred bool  // the one sensible answer to what it solves
	Solves    []int // indexes of v.Findings
}

// Actions lists the changes that make sense for a selection of v.File: remedies
// of the findings there first, then rewrites.
func Actions(v *View, at Range) []Action { return nil }

// FixAllSafe gives the edits of v.File of all remedies that keep the meaning,
// those of one rule or, without a name, of all. Of two that overlap the first
// is taken.
func FixAllSafe(v *View, rule string) (edits []TextEdit, solves []int) { return nil, nil }
