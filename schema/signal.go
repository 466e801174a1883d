package schema

import "ohmstead/calc/quantity"

// Signal is a data conductor.
type Signal struct {
	Header
	From     Value[*Point]   `attr:"from"`
	To       Value[*Point]   `attr:"to"`
	Wire     Value[*Wire]    `attr:"wire"`
	Length   Value[Quantity] `attr:"length"`
	Within   Value[*Lead]    `attr:"within"`
	Resistor Value[Quantity] `attr:"resistor"`
	Times    Value[int]      `attr:"times"`
}

var signalType = &BlockType{
	Name: "signal", Label: "name",
	Doc: "Describes a data conductor from a port, or from the end of a run, to the start of the next run.",
	Example: `signal "arch" {
  from   = controller.brain.port.a
  to     = run.arch.start
  wire   = wire.data
  length = "60 cm"
}`,
	Attrs: []Attr{
		{Name: "from", Kind: Place, Places: []PlaceKind{ControllerPort, RunEnds}, Required: true, Doc: "The port, or the end of the run before.", Example: "controller.brain.port.a"},
		{Name: "to", Kind: Place, Places: []PlaceKind{RunEnds}, Required: true, Doc: "Where the data enters the next run.", Example: "run.arch.start"},
		{Name: "wire", Kind: Reference, Types: []string{"wire"}, Doc: "What it is made of.", Example: "wire.data"},
		{Name: "length", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Its length.", Example: `"60 cm"`},
		{Name: "within", Kind: Reference, Types: []string{"lead"}, Doc: "The lead whose cable it shares.", Example: "lead.left"},
		{Name: "resistor", Kind: Measure, Dim: quantity.Resistance, Most: 1e6, Doc: "Series resistor in this line.", Example: `"330 ohm"`},
		times("Makes so many signals of this kind.", "11"),
	},
	form: func() former { return new(Signal) },
}
