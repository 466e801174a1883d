package schema

import (
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
)

// Wire is a conductor, or a cable of several, by the reel.
type Wire struct {
	Header
	Gauge          Value[Quantity] `attr:"gauge"`
	Stranded       Value[bool]     `attr:"stranded"`
	Cores          Value[int]      `attr:"cores"`
	Insulation     Value[string]   `attr:"insulation"`
	MaxTemperature Value[Quantity] `attr:"max_temperature"`
	MinTemperature Value[Quantity] `attr:"min_temperature"`
	Ampacity       Value[Quantity] `attr:"ampacity"`
	Color          Value[string]   `attr:"color"`
	Reel           Value[Quantity] `attr:"reel"`
	Price          Value[Quantity] `attr:"price"`
	Have           Value[Quantity] `attr:"have"`
	Source         Value[string]   `attr:"source"`
}

// Stands is the conductor temperature that the insulation stands, degC: as
// written, else that of ordinary PVC.
func (w *Wire) Stands() float64 {
	if w.MaxTemperature.Set && !w.MaxTemperature.Bad {
		return w.MaxTemperature.V.SI
	}
	return wire.InsulationTemperature
}

var wireType = &BlockType{
	Name: "wire", Label: "name", Part: true,
	Doc:     "Describes a wire or cable that leads and signals are made of.",
	Example: "wire \"feed\" { gauge = \"16 AWG\" }",
	Attrs: []Attr{
		{Name: "gauge", Kind: Measure, Dim: quantity.Gauge, Required: true, Least: leastGauge, Most: mostGauge, Doc: "Cross-section of one conductor.", Detail: "AWG sizes are ASTM B258, mm2 sizes IEC 60228.", Example: `"16 AWG"`},
		{Name: "stranded", Kind: Boolean, Default: "true", Doc: "Whether the conductor is stranded (flexible) or solid.", Example: "true"},
		{Name: "cores", Kind: Integer, Default: "1", Least: 1, Most: 100, Doc: "Conductors in the cable.", Example: "2"},
		{Name: "insulation", Kind: Text, Doc: "Material or type of the insulation.", Example: `"PVC"`},
		{Name: "max_temperature", Kind: Measure, Dim: quantity.Temperature, Least: 30, Most: 250, Doc: "Highest temperature of the conductor that the insulation stands.", Example: `"70 degC"`},
		minTemperature("Lowest temperature at which it may be bent, pulled in or moved.", `"5 degC"`),
		{Name: "ampacity", Kind: Measure, Dim: quantity.Current, Above: true, Most: mostCurrent, Doc: "Most current it may carry, from its own sheet; a conservative table counts otherwise.", Example: `"8 A"`},
		{Name: "color", Kind: Text, Doc: "Colour of the insulation, IEC 60757 letters.", Example: `"RD"`},
		reel("", `"25 m"`),
		price(" reel", `"14 EUR"`),
		have(`"4 m"`),
		cited(`"maker's sheet"`),
	},
	form: func() former { return new(Wire) },
}
