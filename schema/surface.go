package schema

import "ohmstead/calc/quantity"

// Surface is a wall, board or ceiling that things hang on.
type Surface struct {
	Header
	Width    Value[Quantity] `attr:"width"`
	Height   Value[Quantity] `attr:"height"`
	Material Value[string]   `attr:"material"`
	Coldest  Value[Quantity] `attr:"coldest"`
	Exposure Value[string]   `attr:"exposure"`
	Occupied Value[bool]     `attr:"occupied"`
	Keepouts []*Keepout      `block:"keepout"`
}

// Keepout is a part of a surface that must stay free.
type Keepout struct {
	Header
	From Value[XY]     `attr:"from"`
	To   Value[XY]     `attr:"to"`
	Why  Value[string] `attr:"why"`
}

var surfaceType = &BlockType{
	Name: "surface", Label: "name",
	Doc:     "Describes a wall, board or ceiling; places are measured from its lower left corner.",
	Example: "surface \"wall\" {\n  width  = \"3.2 m\"\n  height = \"2.4 m\"\n  keepout \"socket\" {\n    from = [\"40 cm\", \"20 cm\"]\n    to   = [\"55 cm\", \"35 cm\"]\n    why  = \"socket outlet\"\n  }\n}",
	Attrs: []Attr{
		{Name: "width", Kind: Measure, Dim: quantity.Length, Required: true, Above: true, Most: mostLength, Doc: "Width of the surface.", Example: `"3.2 m"`},
		{Name: "height", Kind: Measure, Dim: quantity.Length, Required: true, Above: true, Most: mostLength, Doc: "Height of the surface.", Example: `"2.4 m"`},
		{Name: "material", Kind: Text, Doc: "What it is made of; decides the fixings.", Example: `"painted plaster"`},
		coldest("The plan's when not given."),
		exposure("The plan's when not given."),
		occupied("The plan's when not given."),
	},
	Blocks: []*BlockType{keepoutType},
	form:   func() former { return new(Surface) },
}

var keepoutType = &BlockType{
	Name: "keepout", Label: "name",
	Doc: "A rectangle that nothing may cross: a socket, door or window.",
	Attrs: []Attr{
		{Name: "from", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "One corner.", Example: `["40 cm", "20 cm"]`},
		{Name: "to", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "The opposite corner.", Example: `["55 cm", "35 cm"]`},
		{Name: "why", Kind: Text, Doc: "What is there.", Example: `"socket outlet"`},
	},
	form: func() former { return new(Keepout) },
}

func (k *Keepout) check(r *resolver, _ *effective) {
	if k.From.Known() && k.To.Known() && (k.From.V.X == k.To.V.X || k.From.V.Y == k.To.V.Y) {
		r.report(RuleValueRange, k.At(k.To.At), "keepout %q has no area; write opposite corners as from and to", k.Name)
	}
}
