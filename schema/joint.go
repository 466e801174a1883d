package schema

import "ohmstead/calc/quantity"

// Joint is a splice or terminal that joins leads, plus with plus and minus with minus.
type Joint struct {
	Header
	Kind       Value[string]     `attr:"kind"`
	Ways       Value[int]        `attr:"ways"`
	Rating     Value[Quantity]   `attr:"rating"`
	Gauges     Value[[]Quantity] `attr:"gauges"`
	Resistance Value[Quantity]   `attr:"resistance"`
	Enclosure  Value[string]     `attr:"enclosure"`
	Exposure   Value[string]     `attr:"exposure"`
	On         Value[*Surface]   `attr:"on"`
	Place      Value[XY]         `attr:"at"`
	Price      Value[Quantity]   `attr:"price"`
	Source     Value[string]     `attr:"source"`
	Times      Value[int]        `attr:"times"`
}

var jointType = &BlockType{
	Name: "joint", Label: "name", Part: true,
	Doc: "Describes a splice or terminal that joins leads.",
	Example: `joint "hub" {
  like = catalog.lever_joint_5
  on   = surface.wall
  at   = ["20 cm", "15 cm"]
}`,
	Attrs: []Attr{
		{Name: "kind", Kind: Choice, Default: `"lever"`, Choices: []Option{{"lever", "lever splice"}, {"screw", "screw terminal"}, {"solder", "soldered"}, {"crimp", "crimped"}, {"busbar", "bus bar"}, {"plug", "plug and socket"}}, Doc: "How it joins.", Example: `"lever"`},
		{Name: "ways", Kind: Integer, Least: 1, Most: 1000, Doc: "Conductors that each side (plus, minus) takes.", Example: "5"},
		{Name: "rating", Kind: Measure, Dim: quantity.Current, Above: true, Most: mostCurrent, Doc: "Most current through one of its sides.", Example: `"20 A"`},
		{Name: "gauges", Kind: Measures, Dim: quantity.Gauge, Least: leastGauge, Most: mostGauge, Doc: "Smallest and largest conductor that it takes.", Example: `["24 AWG", "12 AWG"]`},
		{Name: "resistance", Kind: Measure, Dim: quantity.Resistance, Default: `"0 ohm"`, Most: 10, Doc: "Resistance of one contact.", Example: `"1 mohm"`},
		mountedOn(),
		spot("at", `["20 cm", "15 cm"]`, "Its place on the surface."),
		enclosure("Protection class of its case, or of the box it sits in."),
		exposure(inheritsExposure),
		price(" (of each side)", `"0.80 EUR"`),
		cited(`"maker's sheet"`),
		times("Makes so many joints of this kind.", "6"),
	},
	form: func() former { return new(Joint) },
}
