package ide

// Item is one proposal of completion.
type Item struct {
	Range         // what it replaces, on one line
	Label  string // what the list shows
	Kind   ItemKind
	Detail string // short, beside the label: a unit, "12 V", "unconnected"
	Note   string // where it comes from, at the far end: "catalogue", "stock"
	Text   string // what it inserts, plain
	// Snippet is what it inserts where the editor knows tab stops, in the
	// snippet syntax of the language server protocol; empty where it is Text.
	Snippet string
	Sort    string // orders the list
	Filter  string // what the editor compares with what was typed; empty where it is Label
	Doc     string // Markdown; filled in by Resolve
	Key     string // what Resolve knows the item by
	Again   bool   // completion goes on right behind it: "supply."
	Worse   bool   // possible, but not to be chosen without need: shown struck through
}

// ItemKind is the sort of thing that an item stands for.
type ItemKind int

// The kinds of items.
const (
	BlockItem ItemKind = iota
	AttributeItem
	ReferenceItem // a block of the plan or its stock
	EntryItem     // a catalogue entry
	StepItem      // a step behind a dot: out, start, power
	UnitItem
	ValueItem // one of a fixed set: "push", true, a pin
	FunctionItem
	LetItem
	RuleItem
	FolderItem
	ColourItem
	SnippetItem // a whole block, ready to fill in
	WordItem
)

// Complete proposes what may stand at an offset, best first. It works in
// half-typed text. Documentation comes with Resolve.
func Complete(v *View, offset int) []Item { return nil }

// Resolve adds an item's documentation. Only Key and Label need to be set.
func Resolve(v *View, item Item) Item { return item }
