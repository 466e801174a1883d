package ide

// SymbolKind is the sort of thing that a symbol is.
type SymbolKind int

// The kinds of symbols: those of block types, and what stands in blocks.
const (
	PlanSymbol      SymbolKind = iota // plan
	SettingSymbol                     // policy, marking
	PartSymbol                        // strip, diffuser, wire, fixing, board
	SurfaceSymbol                     // surface, keepout
	PowerSymbol                       // supply, joint, lead
	ControlSymbol                     // controller, port, pin, signal
	RunSymbol                         // run, path, line, arc
	OrderSymbol                       // order, universes
	CaseSymbol                        // case, reading
	LetSymbol                         // let and its values
	AttributeSymbol                   // an attribute
)

// Symbol is a block or attribute of v.File.
type Symbol struct {
	Range    // all of it
	Selected Range
	Name     string // run arch
	Detail   string // 216 pixels, 3.6 m
	Kind     SymbolKind
	Children []Symbol
}

// Symbols lists the blocks of v.File with what stands in them.
func Symbols(v *View) []Symbol { return nil }

// WorkspaceSymbol is a block, port or named value of a plan or its stock.
type WorkspaceSymbol struct {
	Location
	Name      string // run.arch
	Container string // the plan's title
	Kind      SymbolKind
	Score     int // how well it fits the query; more is better
}

// WorkspaceSymbols finds the blocks, ports and named values of the plan whose
// address holds the letters of the query in their order, best first; all for
// an empty query. v.File is not looked at.
func WorkspaceSymbols(v *View, query string) []WorkspaceSymbol { return nil }
