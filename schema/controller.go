package schema

import "ohmstead/calc/quantity"

// Controller is the board that sends data to the pixels, as installed.
type Controller struct {
	Header
	Board          Value[*Board]     `attr:"board"`
	Logic          Value[Quantity]   `attr:"logic"`
	Needs          Value[Quantity]   `attr:"needs"`
	InputVoltage   Value[[]Quantity] `attr:"input_voltage"`
	Ceiling        Value[Quantity]   `attr:"ceiling"`
	SeriesResistor Value[Quantity]   `attr:"series_resistor"`
	Buffer         Value[Quantity]   `attr:"buffer"`
	OwnPower       Value[bool]       `attr:"own_power"`
	Enclosure      Value[string]     `attr:"enclosure"`
	Exposure       Value[string]     `attr:"exposure"`
	On             Value[*Surface]   `attr:"on"`
	Place          Value[XY]         `attr:"at"`
	Price          Value[Quantity]   `attr:"price"`
	Ports          []*Port           `block:"port"`
}

// Port is one data output of a controller.
type Port struct {
	Header
	Pin        Value[int] `attr:"pin"`
	Controller *Controller
}

// ID is the port's address: "controller.brain.port.a".
func (p *Port) ID() string { return p.Controller.ID() + ".port." + p.Name }

// DefaultNeeds is the current of a controller of which nothing is said, A
// (common practice, no source: a small wireless board while sending).
const DefaultNeeds = 0.25

// NeedsAmps is the controller's own current: its own word, its board's, or DefaultNeeds.
func (c *Controller) NeedsAmps() float64 {
	if c.Needs.Set && !c.Needs.Bad {
		return c.Needs.V.SI
	}
	if b := c.Board.V; b != nil && b.Needs.Known() {
		return b.Needs.V.SI
	}
	return DefaultNeeds
}

// LogicVolts is the high level at its pins, before any buffer; ok is false when neither it nor its board says.
func (c *Controller) LogicVolts() (v float64, ok bool) {
	if c.Logic.Set && !c.Logic.Bad {
		return c.Logic.V.SI, true
	}
	if b := c.Board.V; b != nil && b.Logic.Known() {
		return b.Logic.V.SI, true
	}
	return 0, false
}

// Takes lists the supply voltages that the controller takes, its own or its board's.
func (c *Controller) Takes() []Quantity {
	if c.InputVoltage.Set && !c.InputVoltage.Bad {
		return c.InputVoltage.V
	}
	if b := c.Board.V; b != nil && b.InputVoltage.Known() {
		return b.InputVoltage.V
	}
	return nil
}

var controllerType = &BlockType{
	Name: "controller", Label: "name", Part: true,
	Doc: "Describes the board that sends data to the pixels, and what its firmware is set to.",
	Example: `controller "brain" {
  board   = catalog.esp32_devkit
  buffer  = "5 V"
  ceiling = "6 A"
  port "a" { pin = 4 }
}`,
	Attrs: []Attr{
		{Name: "board", Kind: Reference, Types: []string{"board"}, Doc: "The board it is; brings the facts of its pins.", Example: "catalog.esp32_devkit"},
		{Name: "logic", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostLogic, Doc: "Level of its outputs when high; the board's when not given.", Example: `"3.3 V"`},
		{Name: "needs", Kind: Measure, Dim: quantity.Current, Most: 20, Doc: "Its own current; the board's when not given.", Example: `"250 mA"`},
		{Name: "input_voltage", Kind: Measures, Dim: quantity.Voltage, Least: 1, Most: mostBoard, Doc: "Supply voltages that it takes; the board's when not given.", Detail: "A step-down converter on its carrier widens what a board takes.", Example: `["5 V", "12 V"]`},
		{Name: "ceiling", Kind: Measure, Dim: quantity.Current, Above: true, Most: mostCurrent, Doc: "Current ceiling set in the firmware for all its pixels together.", Detail: "It is software: it dims, but it protects no wire.", Example: `"6 A"`},
		{Name: "series_resistor", Kind: Measure, Dim: quantity.Resistance, Most: 1e6, Doc: "Resistor in each data line at the controller.", Example: `"330 ohm"`},
		{Name: "buffer", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostLogic, Doc: "Output level of the level shifter, if one is fitted.", Example: `"5 V"`},
		{Name: "own_power", Kind: Boolean, Default: "false", Doc: "Whether it has a supply of its own that is not part of this plan.", Detail: "Its minus must still be joined to the minus of the pixels.", Example: "true"},
		mountedOn(),
		spot("at", `["10 cm", "30 cm"]`, "Its place on the surface."),
		enclosure("Protection class of its case, or of the box it sits in."),
		exposure(inheritsExposure),
		price("", `"7 EUR"`),
	},
	Blocks: []*BlockType{portType},
	form:   func() former { return new(Controller) },
}

var portType = &BlockType{
	Name: "port", Label: "name",
	Doc: "One data output.",
	Attrs: []Attr{
		{Name: "pin", Kind: Integer, Most: 200, Doc: "The number of the pin, as the chip's maker counts.", Example: "4"},
	},
	form: func() former { return new(Port) },
}

func (c *Controller) check(*resolver, *effective) {
	for _, p := range c.Ports {
		p.Controller = c
	}
}
