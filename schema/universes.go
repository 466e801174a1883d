package schema

// Universes gives an order its network addresses after ANSI E1.31.
type Universes struct {
	Header
	Order       Value[*Order] `attr:"order"`
	First       Value[int]    `attr:"first"`
	Slot        Value[int]    `attr:"slot"`
	WholePixels Value[bool]   `attr:"whole_pixels"`
	Priority    Value[int]    `attr:"priority"`
}

var universesType = &BlockType{
	Name: "universes", Label: "name",
	Doc:     "Gives an order of pixels its network addresses after ANSI E1.31.",
	Example: "universes \"eave\" {\n  order = order.eave\n  first = 1\n}",
	Attrs: []Attr{
		{Name: "order", Kind: Reference, Types: []string{"order"}, Required: true, Doc: "The pixels to address.", Example: "order.eave"},
		{Name: "first", Kind: Integer, Required: true, Least: 1, Most: 63999, Doc: "The first universe, 1 to 63999.", Example: "1"},
		{Name: "slot", Kind: Integer, Default: "1", Least: 1, Most: 512, Doc: "The first slot in the first universe, 1 to 512.", Example: "1"},
		{Name: "whole_pixels", Kind: Boolean, Default: "true", Doc: "Whether a pixel that does not fit goes whole into the next universe.", Example: "true"},
		{Name: "priority", Kind: Integer, Default: "100", Most: 200, Doc: "Priority that the source sends with, 0 to 200.", Example: "100"},
	},
	form: func() former { return new(Universes) },
}
