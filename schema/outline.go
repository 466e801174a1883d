package schema

import "ohmstead/calc/quantity"

// Circle draws a run round a circle, once or part of the way.
type Circle struct {
	Header
	Centre Value[XY]       `attr:"centre"`
	Radius Value[Quantity] `attr:"radius"`
	Start  Value[Quantity] `attr:"start"`
	Sweep  Value[Quantity] `attr:"sweep"`
	Turn   Value[string]   `attr:"turn"`
}

// Rectangle draws a run once round an upright rectangle.
type Rectangle struct {
	Header
	From   Value[XY]       `attr:"from"`
	To     Value[XY]       `attr:"to"`
	Corner Value[Quantity] `attr:"corner"`
	Turn   Value[string]   `attr:"turn"`
}

// Polygon draws a run once round a regular polygon.
type Polygon struct {
	Header
	Centre Value[XY]       `attr:"centre"`
	Radius Value[Quantity] `attr:"radius"`
	Sides  Value[int]      `attr:"sides"`
	Start  Value[Quantity] `attr:"start"`
	Corner Value[Quantity] `attr:"corner"`
	Turn   Value[string]   `attr:"turn"`
}

var circleType = &BlockType{
	Name: "circle", Once: true, OneOf: "geometry",
	Doc: "Draws the run round a circle, once or part of the way.",
	Example: `circle {
  centre = ["1 m", "1 m"]
  radius = "30 cm"
}`,
	Attrs: []Attr{centre(), outerRadius("Radius of the circle."), begin("Where on it the run begins, seen from the centre: 0 deg on the right, 90 deg at the top."),
		{Name: "sweep", Kind: Measure, Dim: quantity.Angle, Default: `"360 deg"`, Above: true, Most: 360, Doc: "How far round it goes; a gap is left of what is less than all of it.", Example: `"350 deg"`}, wayRound()},
	form: func() former { return new(Circle) },
}

var rectangleType = &BlockType{
	Name: "rectangle", Once: true, OneOf: "geometry",
	Doc:    "Draws the run once round an upright rectangle.",
	Detail: "It begins at from and ends there; where that corner is rounded, behind it.",
	Example: `rectangle {
  from = ["50 cm", "50 cm"]
  to   = ["150 cm", "120 cm"]
}`,
	Attrs: []Attr{
		{Name: "from", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "The corner at which the run begins and ends.", Example: `["50 cm", "50 cm"]`},
		{Name: "to", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "The opposite corner.", Example: `["150 cm", "120 cm"]`},
		rounding(), wayRound(),
	},
	form: func() former { return new(Rectangle) },
}

var polygonType = &BlockType{
	Name: "polygon", Once: true, OneOf: "geometry",
	Doc:    "Draws the run once round a regular polygon.",
	Detail: "It begins at a corner and ends there; where that is rounded, behind it.",
	Example: `polygon {
  centre = ["1 m", "1 m"]
  sides  = 6
  radius = "30 cm"
}`,
	Attrs: []Attr{
		centre(), outerRadius("Radius of the circle that its corners lie on."),
		{Name: "sides", Kind: Integer, Required: true, Least: 3, Most: 1000, Doc: "How many sides it has.", Example: "6"},
		begin("The corner at which the run begins and ends, seen from the centre: 0 deg on the right, 90 deg at the top."), rounding(), wayRound(),
	},
	form: func() former { return new(Polygon) },
}

func centre() Attr {
	return Attr{Name: "centre", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "Its centre.", Example: `["1 m", "1 m"]`}
}

func outerRadius(doc string) Attr {
	return Attr{Name: "radius", Kind: Measure, Dim: quantity.Length, Required: true, Above: true, Most: mostLength, Doc: doc, Example: `"30 cm"`}
}

func begin(doc string) Attr {
	return Attr{Name: "start", Kind: Measure, Dim: quantity.Angle, Default: `"90 deg"`, Least: -360, Most: 360, Doc: doc, Example: `"270 deg"`}
}

func rounding() Attr {
	return Attr{Name: "corner", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Radius that its corners are rounded to.", Example: `"5 cm"`}
}

func wayRound() Attr {
	return Attr{Name: "turn", Kind: Choice, Default: `"right"`, Choices: []Option{{"left", "counter-clockwise"}, {"right", "clockwise"}}, Doc: "Which way round it goes.", Example: `"left"`}
}
