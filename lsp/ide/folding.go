package ide

// FoldKind is the sort of thing that is folded.
type FoldKind int

// The kinds of folds.
const (
	BlockFold FoldKind = iota
	ListFold
	TextFold
	CommentFold
)

// Fold is a stretch over several lines that can be shown as one. Start is in
// the line that stays, End in the last line that is hidden.
type Fold struct {
	Range
	Kind FoldKind
	Text string // what to show for it, such as "{ 12 lines }"
}

// Folds finds what can be folded: blocks, lists, maps, heredocs, and comments
// over several lines.
func Folds(v *View) []Fold { return nil }
