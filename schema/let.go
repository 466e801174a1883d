package schema

// Let holds named values; the resolver reads them from the text on demand.
type Let struct{ Header }

var letType = &BlockType{
	Name: "let", Part: true,
	Doc:    "Gives names to values that are used in several places.",
	Detail: "A value is used as let.NAME. Values may build on one another, and on the functions sum, difference, scale, least, greatest and round_to.",
	Example: `let {
  gap   = "16 in"
  shelf = difference("90 cm", let.gap)
}`,
	Attrs: []Attr{{Name: "*", Kind: Values, Doc: "A value under a name of your own.", Example: `"16 in"`}},
	form:  func() former { return new(Let) },
}
