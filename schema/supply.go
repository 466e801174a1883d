package schema

import (
	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
)

// Supply is a low-voltage DC supply as installed.
type Supply struct {
	Header
	Output         Value[Quantity]   `attr:"output"`
	Trim           Value[Quantity]   `attr:"trim"`
	Rating         Value[Quantity]   `attr:"rating"`
	Outputs        Value[int]        `attr:"outputs"`
	Overload       Value[Quantity]   `attr:"overload"`
	Input          Value[[]Quantity] `attr:"input"`
	Selector       Value[Quantity]   `attr:"selector"`
	DerateFrom     Value[Quantity]   `attr:"derate_from"`
	Derate         Value[Quantity]   `attr:"derate"`
	Efficiency     Value[Quantity]   `attr:"efficiency"`
	PowerFactor    Value[Quantity]   `attr:"power_factor"`
	Inrush         Value[Quantity]   `attr:"inrush"`
	Capacitance    Value[Quantity]   `attr:"capacitance"`
	Enclosure      Value[string]     `attr:"enclosure"`
	Limited        Value[bool]       `attr:"limited"`
	MinTemperature Value[Quantity]   `attr:"min_temperature"`
	Exposure       Value[string]     `attr:"exposure"`
	On             Value[*Surface]   `attr:"on"`
	Place          Value[XY]         `attr:"at"`
	Price          Value[Quantity]   `attr:"price"`
	Source         Value[string]     `attr:"source"`
}

// Volts is the voltage the supply holds: trim where it is set, else output.
func (s *Supply) Volts() float64 {
	if s.Trim.Set && !s.Trim.Bad {
		return s.Trim.V.SI
	}
	return s.Output.V.SI
}

var supplyType = &BlockType{
	Name: "supply", Label: "name", Part: true,
	Doc:    "Describes a supply that turns mains into low-voltage DC.",
	Detail: "Mains wiring is for a qualified person under the code in force at the place.",
	Example: `supply "brick" {
  output = "12 V"
  rating = "12.5 A"
  input  = ["230 V"]
}`,
	Attrs: []Attr{
		{Name: "output", Kind: Measure, Dim: quantity.Voltage, Required: true, Least: 1, Most: mostStrip, Doc: "Nominal output voltage.", Example: `"12 V"`},
		{Name: "trim", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostStrip, Doc: "Output voltage as set with the adjuster, measured.", Example: `"5.2 V"`},
		{Name: "rating", Kind: Measure, Dim: quantity.Current, Required: true, Above: true, Most: mostCurrent, Doc: "Most continuous current of each output.", Example: `"12.5 A"`},
		{Name: "outputs", Kind: Integer, Default: "1", Least: 1, Most: 64, Doc: "Outputs that are limited separately.", Example: "1"},
		{Name: "overload", Kind: Measure, Dim: quantity.Share, Default: `"150 %"`, Least: 1, Most: 10, Doc: "Share of the rating at which its own protection surely acts.", Example: `"150 %"`},
		{Name: "input", Kind: Measures, Dim: quantity.Voltage, Least: 10, Most: mostMains, Doc: "Mains voltages that it takes.", Example: `["120 V", "230 V"]`},
		{Name: "selector", Kind: Measure, Dim: quantity.Voltage, Least: 10, Most: mostMains, Doc: "What its input switch is set to, if it has one.", Detail: "Set it before the first power-up: the wrong position destroys the supply.", Example: `"230 V"`},
		{Name: "derate_from", Kind: Measure, Dim: quantity.Temperature, Least: leastAir, Most: 100, Doc: "Air temperature above which the rating falls.", Example: `"50 degC"`},
		{Name: "derate", Kind: Measure, Dim: quantity.SharePerDegree, Above: true, Most: 1, Doc: "Share of the rating lost for each degree above derate_from.", Example: `"2.5 %/degC"`},
		{Name: "efficiency", Kind: Measure, Dim: quantity.Share, Default: `"85 %"`, Least: 0.1, Most: 1, Doc: "DC power out over mains power in.", Example: `"88 %"`},
		{Name: "power_factor", Kind: Measure, Dim: quantity.Share, Least: 0.1, Most: 1, Doc: "Power over apparent power of its input, from its sheet.", Detail: "60 % counts when not given, as of a supply without correction.", Example: `"95 %"`},
		{Name: "inrush", Kind: Measure, Dim: quantity.Current, Above: true, Most: 1000, Doc: "Peak of its input current when switched on, cold.", Example: `"40 A"`},
		{Name: "capacitance", Kind: Measure, Dim: quantity.Capacitance, Above: true, Most: 100, Doc: "Most capacitance across its outputs that it starts into.", Detail: "From its sheet. A USB socket takes 10 uF.", Example: `"10 mF"`},
		enclosure("Protection class of the case, or of the box it sits in."),
		{Name: "limited", Kind: Boolean, Default: "false", Doc: "Whether it meets a limited-power-source rating (IEC 62368-1 Annex Q, or Class 2).", Example: "true"},
		mountedOn(),
		spot("at", `["10 cm", "15 cm"]`, "Its place on the surface."),
		minTemperature("Lowest air temperature that it starts at.", `"-20 degC"`),
		exposure(inheritsExposure),
		price("", `"38 EUR"`),
		cited(`"label on the case"`),
	},
	form: func() former { return new(Supply) },
}

// check refuses a limit that no supply of this size can hold: with limited =
// true nothing would ask for a fuse behind it.
func (s *Supply) check(r *resolver, _ *effective) {
	if !s.Limited.Known() || !s.Limited.V || !s.Rating.Known() || !s.Output.Known() || s.Trim.Bad {
		return
	}
	most, err := supply.LimitedRating(s.Volts())
	if err != nil || s.Rating.V.SI <= most*(1+1e-9) { // above what may be touched shock-voltage says so
		return
	}
	s.Limited.V = false // what it drives into a fault is judged as of any other
	r.report(RuleAttrClash, s.At(s.Limited.At), "limited = true, but a limited power source of %s is rated %s at the most, and %s is rated %s; remove limited, and fuse its leads",
		quantity.Show(quantity.Voltage, s.Volts()), quantity.Show(quantity.Current, most), describe(&s.Header), s.Rating.V).
		related(s.At(s.Rating.At), "its rating")
}
