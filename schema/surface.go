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
	Edges    []*Edge         `block:"edge"`
}

// Edge says which surface meets another one along its right or upper edge.
type Edge struct {
	Header
	Side   Value[string]   `attr:"side"`
	To     Value[*Surface] `attr:"to"`
	Angle  Value[Quantity] `attr:"angle"`
	Radius Value[Quantity] `attr:"radius"`
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
	Doc:     "Describes a wall, board or ceiling; places are measured from its lower left corner, of a ceiling as it is seen from below.",
	Example: "surface \"wall\" {\n  width  = \"3.2 m\"\n  height = \"2.4 m\"\n  keepout \"socket\" {\n    from = [\"40 cm\", \"20 cm\"]\n    to   = [\"55 cm\", \"35 cm\"]\n    why  = \"socket outlet\"\n  }\n}",
	Attrs: []Attr{
		{Name: "width", Kind: Measure, Dim: quantity.Length, Required: true, Above: true, Most: mostLength, Doc: "Width of the surface.", Example: `"3.2 m"`},
		{Name: "height", Kind: Measure, Dim: quantity.Length, Required: true, Above: true, Most: mostLength, Doc: "Height of the surface.", Example: `"2.4 m"`},
		{Name: "material", Kind: Text, Doc: "What it is made of; decides the fixings.", Example: `"painted plaster"`},
		coldest("The plan's when not given."),
		exposure("The plan's when not given."),
		occupied("The plan's when not given."),
	},
	Blocks: []*BlockType{keepoutType, edgeType},
	form:   func() former { return new(Surface) },
}

var edgeType = &BlockType{
	Name: "edge",
	Doc:  "Says which surface meets this one along its right or upper edge: the next wall, or the ceiling.",
	Detail: "A run may be drawn on across the edge, as if the surfaces were folded out flat: from the right edge the other one goes on with its left edge, from the upper edge with its lower one, both from the same corner. " +
		"A ceiling above a wall is so drawn as it is seen from below, with the wall before one's eyes.",
	Example: `edge {
  side = "right"
  to   = surface.next
}`,
	Attrs: []Attr{
		{Name: "side", Kind: Choice, Required: true, Choices: []Option{{"right", "the right edge"}, {"top", "the upper edge"}}, Doc: "Which edge of this surface it is.", Example: `"right"`},
		{Name: "to", Kind: Reference, Types: []string{"surface"}, Required: true, Doc: "The surface that goes on there.", Example: "surface.next"},
		{Name: "angle", Kind: Measure, Dim: quantity.Angle, Default: `"90 deg"`, Above: true, Most: 359, Doc: "Angle between the two on the side of the room: less than 180 deg in a corner of the room, more round a corner that stands out into it.", Example: `"270 deg"`},
		{Name: "radius", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Radius that strip and diffuser are led round the edge with, as on a cove; sharp when not given.", Example: `"5 cm"`},
	},
	form: func() former { return new(Edge) },
}

func (s *Surface) check(r *resolver, _ *effective) {
	for _, x := range s.Edges {
		if x.To.V == s {
			r.report(RuleRefCycle, s.At(x.To.At), "%s meets itself at its edge; name the surface that goes on there", s.ID())
		}
	}
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
