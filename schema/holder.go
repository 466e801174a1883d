package schema

import (
	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
)

// Holder is what the fuses of leads sit in: an in-line holder for each, or one
// block for several.
type Holder struct {
	Header
	Kind       Value[string]   `attr:"kind"`
	Voltage    Value[Quantity] `attr:"voltage"`
	Rating     Value[Quantity] `attr:"rating"`
	Ways       Value[int]      `attr:"ways"`
	Resistance Value[Quantity] `attr:"resistance"`
	Enclosure  Value[string]   `attr:"enclosure"`
	Price      Value[Quantity] `attr:"price"`
	Source     Value[string]   `attr:"source"`
}

var holderType = &BlockType{
	Name: "holder", Label: "name", Part: true,
	Doc:    "Describes what the fuses of leads sit in, and says which kind of fuse that is.",
	Detail: "With `ways` it is one block for the fuses of several leads. Without, it is an in-line holder: one for each lead that names it.",
	Example: `holder "block" {
  kind    = "blade"
  ways    = 6
  rating  = "30 A"
  voltage = "32 V"
}`,
	Attrs: []Attr{
		{Name: "kind", Kind: Choice, Default: `"blade"`, Choices: fuseKinds(), Doc: "Kind of fuse that it takes.", Example: `"blade"`},
		{Name: "voltage", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostMains, Doc: "Greatest direct voltage that its fuses, and it, are rated for; the lower of the two.", Detail: "Without it, what is usual for the kind counts.", Example: `"32 V"`},
		{Name: "rating", Kind: Measure, Dim: quantity.Current, Above: true, Most: mostCurrent, Doc: "Largest fuse that one of its ways takes.", Example: `"30 A"`},
		{Name: "ways", Kind: Integer, Least: 1, Most: 1000, Doc: "Fuses that one block takes.", Detail: "Without it, each lead that names it has one of its own.", Example: "6"},
		{Name: "resistance", Kind: Measure, Dim: quantity.Resistance, Default: `"0 ohm"`, Most: 10, Doc: "Resistance of the contacts of one way; that of the fuse is added.", Example: `"3 mohm"`},
		enclosure("Protection class of it, or of the box it sits in; it is judged where the leads begin whose fuses it holds."),
		price("", `"4 EUR"`),
		cited(`"maker's sheet"`),
	},
	form: func() former { return new(Holder) },
}

func fuseKinds() []Option {
	var out []Option
	for _, k := range fuse.Kinds() {
		doc := k.Doc
		if k.Standard != "" {
			doc += ", " + k.Standard
		}
		out = append(out, Option{k.Name, doc})
	}
	return out
}
