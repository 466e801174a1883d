package ide

// TokenTypes and TokenModifiers are the legend of Tokens, in names of the
// language server protocol.
var (
	TokenTypes     = []string{"keyword", "type", "class", "property", "variable", "function", "string", "number", "enumMember", "comment", "operator", "parameter"}
	TokenModifiers = []string{"declaration", "readonly", "defaultLibrary", "deprecated", "documentation"}
)

// Token is a word with its meaning: Type and the bits of Modifiers are indexes
// of the legend. A token lies within one line.
type Token struct {
	Start, Length int
	Type          int
	Modifiers     uint32
}

// Tokens lists the tokens that lie in a range of v.File, in their order.
func Tokens(v *View, at Range) []Token { return nil }
