package schema

import "ohmstead/calc/quantity"

// Diffuser is a tube or channel that a strip goes into.
type Diffuser struct {
	Header
	Kind           Value[string]   `attr:"kind"`
	Material       Value[string]   `attr:"material"`
	Cover          Value[string]   `attr:"cover"`
	Enclosure      Value[string]   `attr:"enclosure"`
	MinTemperature Value[Quantity] `attr:"min_temperature"`
	Piece          Value[Quantity] `attr:"piece"`
	InnerWidth     Value[Quantity] `attr:"inner_width"`
	Depth          Value[Quantity] `attr:"depth"`
	BendRadius     Value[Quantity] `attr:"bend_radius"`
	BendPlane      Value[string]   `attr:"bend_plane"`
	PushLimit      Value[Quantity] `attr:"push_limit"`
	HeatLimit      Value[Quantity] `attr:"heat_limit"`
	Weight         Value[Quantity] `attr:"weight"`
	Joinable       Value[bool]     `attr:"joinable"`
	Caps           Value[int]      `attr:"caps"`
	CapPrice       Value[Quantity] `attr:"cap_price"`
	Price          Value[Quantity] `attr:"price"`
	Have           Value[Quantity] `attr:"have"`
	Source         Value[string]   `attr:"source"`
}

// materials are what diffusers are made of; calc/thermal knows how they grow.
var materials = []Option{
	{"aluminium", "extruded profile"}, {"silicone", "silicone rubber"}, {"pvc", "PVC"},
	{"polycarbonate", "PC"}, {"acrylic", "PMMA"},
}

func (d *Diffuser) check(*resolver, *effective) {
	if !d.Material.Set && d.Kind.Known() {
		d.Material.V, d.Material.Def = "silicone", true
		if d.Kind.V == "channel" {
			d.Material.V = "aluminium"
		}
	}
}

var diffuserType = &BlockType{
	Name: "diffuser", Label: "name", Part: true,
	Doc:     "Describes the silicone tube or channel that spreads the light of the pixels.",
	Example: "diffuser \"tube\" { like = catalog.silicone_tube_side_bend }",
	Attrs: []Attr{
		{Name: "kind", Kind: Choice, Required: true, Choices: []Option{{"tube", "flexible tube that the strip is pulled into"}, {"channel", "rigid profile with a cover"}}, Doc: "Whether it is a flexible tube or a rigid channel.", Example: `"tube"`},
		{Name: "material", Kind: Choice, Choices: materials, Doc: "What the tube or profile is made of.", Detail: "Silicone for a tube and aluminium for a channel when not given.", Example: `"silicone"`},
		{Name: "cover", Kind: Choice, Choices: materials, Doc: "What the cover of a channel is made of.", Example: `"polycarbonate"`},
		enclosure("Protection class of the tube or channel as closed with its caps."),
		minTemperature("Lowest temperature at which it may be bent.", `"-20 degC"`),
		{Name: "piece", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Length in which it is sold.", Example: `"5 m"`},
		{Name: "inner_width", Kind: Measure, Dim: quantity.Length, Above: true, Most: 1, Doc: "Clear width for the strip.", Example: `"10 mm"`},
		{Name: "depth", Kind: Measure, Dim: quantity.Length, Above: true, Most: 1, Doc: "Distance from the LEDs to the lit face.", Example: `"12 mm"`},
		{Name: "bend_radius", Kind: Measure, Dim: quantity.Length, Above: true, Most: 100, Doc: "Least radius that it may be bent to; a channel without one is straight.", Example: `"6 cm"`},
		{Name: "bend_plane", Kind: Choice, Choices: []Option{{"top", "bends towards and away from its lit face, as the strip does over its flat side"}, {"side", "bends to the side of its lit face, with the strip standing on edge inside"}}, Doc: "The plane that it bends in, seen from its lit face.", Example: `"side"`},
		{Name: "push_limit", Kind: Measure, Dim: quantity.Length, Above: true, Most: 100, Doc: "Length to which a strip can be pushed in without a cord.", Example: `"60 cm"`},
		{Name: "heat_limit", Kind: Measure, Dim: quantity.PowerPerLength, Above: true, Most: 1000, Doc: "Power per length that it carries away safely.", Example: `"10 W/m"`},
		{Name: "weight", Kind: Measure, Dim: quantity.MassPerLength, Above: true, Most: 100, Doc: "Mass per length.", Example: `"160 g/m"`},
		{Name: "joinable", Kind: Boolean, Default: "false", Doc: "Whether two pieces join without a visible gap.", Example: "true"},
		{Name: "caps", Kind: Integer, Default: "2", Most: 10, Doc: "End caps that each run needs.", Example: "2"},
		{Name: "cap_price", Kind: Measure, Dim: quantity.Money, Most: mostPrice, Doc: "Price of one end cap.", Example: `"0.60 EUR"`},
		price(" piece", `"19 EUR"`),
		have(`"2 m"`),
		cited(`"seller's sheet"`),
	},
	form: func() former { return new(Diffuser) },
}
