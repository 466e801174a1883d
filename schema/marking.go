package schema

// Marking says how the cores of leads and signals are marked.
type Marking struct {
	Header
	Plus  Value[string] `attr:"plus"`
	Minus Value[string] `attr:"minus"`
	Data  Value[string] `attr:"data"`
}

var marks = []Option{
	{"BK", "black"}, {"BN", "brown"}, {"RD", "red"}, {"OG", "orange"}, {"YE", "yellow"}, {"GN", "green"},
	{"BU", "blue"}, {"VT", "violet"}, {"GY", "grey"}, {"WH", "white"}, {"PK", "pink"}, {"TQ", "turquoise"}, {"none", "not marked by colour"},
}

// ColorName is the colour that letters of IEC 60757 stand for; empty where they stand for none.
func ColorName(letters string) string {
	for _, m := range marks {
		if m.Value == letters && letters != "none" {
			return m.Doc
		}
	}
	return ""
}

var markingType = &BlockType{
	Name: "marking", Once: true, Part: true,
	Doc:     "Says how the cores of leads and signals are marked, in the letters of IEC 60757.",
	Example: "marking {\n  plus  = \"RD\"\n  minus = \"BK\"\n  data  = \"GN\"\n}",
	Attrs: []Attr{
		{Name: "plus", Kind: Choice, Choices: marks, Doc: "Marking of plus.", Example: `"RD"`},
		{Name: "minus", Kind: Choice, Choices: marks, Doc: "Marking of minus.", Example: `"BK"`},
		{Name: "data", Kind: Choice, Choices: marks, Doc: "Marking of data.", Example: `"GN"`},
	},
	form: func() former { return new(Marking) },
}
