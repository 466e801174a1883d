package schema

import "ohmstead/calc/quantity"

// Fixing holds a run to its surface.
type Fixing struct {
	Header
	Kind           Value[string]   `attr:"kind"`
	Spacing        Value[Quantity] `attr:"spacing"`
	Holds          Value[Quantity] `attr:"holds"`
	HoldsDownTo    Value[Quantity] `attr:"holds_down_to"`
	HoldsUpTo      Value[Quantity] `attr:"holds_up_to"`
	Material       Value[string]   `attr:"material"`
	Width          Value[Quantity] `attr:"width"`
	MinTemperature Value[Quantity] `attr:"min_temperature"`
	Pack           Value[int]      `attr:"pack"`
	Price          Value[Quantity] `attr:"price"`
	Source         Value[string]   `attr:"source"`
}

var fixingType = &BlockType{
	Name: "fixing", Label: "name", Part: true,
	Doc:     "Describes what holds runs to a surface.",
	Example: "fixing \"clip\" {\n  kind    = \"clip\"\n  spacing = \"40 cm\"\n  pack    = 10\n}",
	Attrs: []Attr{
		{Name: "kind", Kind: Choice, Required: true, Choices: []Option{{"clip", "clip that the diffuser snaps into"}, {"adhesive", "tape or glue"}, {"screw", "screwed through or with brackets"}, {"magnet", "magnets"}, {"tie", "cable ties"}, {"hook", "hooks or hangers"}}, Doc: "How it holds.", Example: `"clip"`},
		{Name: "spacing", Kind: Measure, Dim: quantity.Length, Above: true, Most: 100, Doc: "Most distance between two.", Detail: "Ends, corners, joints of the diffuser's pieces, and where bends begin and end are held besides.", Example: `"40 cm"`},
		{Name: "holds", Kind: Measure, Dim: quantity.Mass, Above: true, Most: 1000, Doc: "Mass that one holds.", Detail: "At room temperature: a magnet and an acrylic adhesive hold less where it gets warm, which is counted.", Example: `"500 g"`},
		{Name: "holds_down_to", Kind: Measure, Dim: quantity.Temperature, Least: -100, Most: 90, Doc: "Coldest at which it holds.", Detail: "min_temperature is that at which it may be applied.", Example: `"10 degC"`},
		{Name: "holds_up_to", Kind: Measure, Dim: quantity.Temperature, Least: 0, Most: 300, Doc: "Warmest at which it holds.", Example: `"40 degC"`},
		{Name: "material", Kind: Choice, Choices: []Option{{"acrylic", "the usual tapes and glues"}, {"silicone", "silicone adhesive, the only one that wets silicone"}}, Doc: "What an adhesive is made of; acrylic when not given.", Example: `"acrylic"`},
		{Name: "width", Kind: Measure, Dim: quantity.Length, Above: true, Most: 1, Doc: "Width of a tape that goes along the whole run.", Example: `"10 mm"`},
		minTemperature("Lowest temperature at which an adhesive may be applied.", `"10 degC"`),
		{Name: "pack", Kind: Integer, Default: "1", Least: 1, Most: 100000, Doc: "Pieces in one pack.", Example: "10"},
		price(" pack", `"4.50 EUR"`),
		cited(`"seller's sheet"`),
	},
	form: func() former { return new(Fixing) },
}
