package schema

import (
	"strconv"

	"ohmstead/calc/quantity"
)

// Board holds the facts of a controller board, pin by pin.
type Board struct {
	Header
	Chip         Value[string]     `attr:"chip"`
	Logic        Value[Quantity]   `attr:"logic"`
	InputVoltage Value[[]Quantity] `attr:"input_voltage"`
	Needs        Value[Quantity]   `attr:"needs"`
	Lanes        Value[int]        `attr:"lanes"`
	Pixels       Value[int]        `attr:"pixels"`
	Source       Value[string]     `attr:"source"`
	Pins         []*Pin            `block:"pin"`
}

// Pin is what is known of one pin as a data output.
type Pin struct {
	Header
	Use     Value[string] `attr:"use"`
	Because Value[string] `attr:"because"`
}

// Number is the pin's number; ok is false when its label is not one.
func (p *Pin) Number() (n int, ok bool) {
	n, err := strconv.Atoi(p.Name)
	return n, err == nil
}

// Pin finds the facts of a pin by number.
func (b *Board) Pin(number int) (*Pin, bool) {
	for _, p := range b.Pins {
		if n, ok := p.Number(); ok && n == number {
			return p, true
		}
	}
	return nil, false
}

var boardType = &BlockType{
	Name: "board", Label: "name", Part: true,
	Doc: "Holds the facts of a controller board: which pins make good data outputs, and why others do not.",
	Example: `board "mine" {
  chip          = "ESP32"
  logic         = "3.3 V"
  input_voltage = ["5 V"]
  pin "4" { use = "good" }
  pin "12" {
    use     = "never"
    because = "a high level at reset selects the wrong flash voltage"
  }
}`,
	Attrs: []Attr{
		{Name: "chip", Kind: Text, Doc: "Part number of the microcontroller.", Example: `"ESP32"`},
		{Name: "logic", Kind: Measure, Dim: quantity.Voltage, Required: true, Least: 1, Most: mostLogic, Doc: "Level of its outputs when high.", Example: `"3.3 V"`},
		{Name: "input_voltage", Kind: Measures, Dim: quantity.Voltage, Least: 1, Most: mostBoard, Doc: "Supply voltages that the board takes.", Example: `["5 V"]`},
		{Name: "needs", Kind: Measure, Dim: quantity.Current, Most: 20, Doc: "Current of the board itself.", Example: `"250 mA"`},
		{Name: "lanes", Kind: Integer, Default: "1", Least: 1, Most: 1000, Doc: "Ports that it drives at the same time; more take turns.", Example: "8"},
		{Name: "pixels", Kind: Integer, Least: 1, Most: mostPixels, Doc: "Most pixels that it drives sensibly.", Example: "1500"},
		cited(`"chip datasheet, pin table"`),
	},
	Blocks: []*BlockType{pinType},
	form:   func() former { return new(Board) },
}

var pinType = &BlockType{
	Name: "pin", Label: "number",
	Doc: "Says whether one pin serves as a data output.",
	Attrs: []Attr{
		{Name: "use", Kind: Choice, Required: true, Choices: []Option{{"good", "free to use as a data output"}, {"care", "works when its other duty is respected"}, {"never", "cannot work, or keeps the board from starting"}}, Doc: "How well it serves.", Example: `"good"`},
		{Name: "because", Kind: Text, Doc: "The reason.", Example: `"connected to the flash memory"`},
	},
	form: func() former { return new(Pin) },
}

func (b *Board) check(r *resolver, _ *effective) {
	for _, p := range b.Pins {
		if _, ok := p.Number(); !ok && p.Name != "" {
			r.report(RuleValueKind, p.Head(), "pin %q is not a number; pins are numbered as the chip's maker counts", p.Name)
		}
	}
}
