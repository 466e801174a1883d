package quantity

import (
	"math"
	"slices"
	"strings"

	"golang.org/x/text/currency"
)

// Unit is one way to write a dimension: SI = (written + Offset) * Factor.
type Unit struct {
	Symbol string
	Dim    Dimension
	Factor float64
	Offset float64
}

// Imperial tells whether the unit is one that an imperial habit shows.
func (u Unit) Imperial() bool {
	return slices.Contains(imperial[u.Dim], u.Symbol)
}

// The exact factors: inch and pound from the international yard and pound
// agreement of 1959 (25.4 mm, 0.45359237 kg); degF from its definition.
const (
	inch  = 0.0254
	foot  = 12 * inch
	pound = 0.45359237
)

// units lists every unit, in the order in which completion offers those of one
// dimension. AWG has no factor: see ParseFor and InUnit.
var units = []Unit{
	{"m", Length, 1, 0}, {"cm", Length, 1e-2, 0}, {"mm", Length, 1e-3, 0},
	{"in", Length, inch, 0}, {"ft", Length, foot, 0}, {"yd", Length, 3 * foot, 0}, {"km", Length, 1e3, 0},
	{"AWG", Gauge, 0, 0}, {"mm2", Gauge, 1e-6, 0},
	{"A", Current, 1, 0}, {"mA", Current, 1e-3, 0}, {"uA", Current, 1e-6, 0},
	{"V", Voltage, 1, 0}, {"mV", Voltage, 1e-3, 0}, {"kV", Voltage, 1e3, 0},
	{"ohm", Resistance, 1, 0}, {"mohm", Resistance, 1e-3, 0}, {"kohm", Resistance, 1e3, 0},
	{"ohm/m", ResistancePerLength, 1, 0}, {"mohm/m", ResistancePerLength, 1e-3, 0}, {"ohm/km", ResistancePerLength, 1e-3, 0},
	{"ohm/ft", ResistancePerLength, 1 / foot, 0}, {"ohm/kft", ResistancePerLength, 1e-3 / foot, 0},
	{"/m", Density, 1, 0}, {"/ft", Density, 1 / foot, 0}, {"/cm", Density, 1e2, 0}, {"/in", Density, 1 / inch, 0},
	{"Hz", Frequency, 1, 0}, {"kHz", Frequency, 1e3, 0}, {"MHz", Frequency, 1e6, 0}, {"fps", Frequency, 1, 0},
	{"kbit/s", DataRate, 1e3, 0}, {"Mbit/s", DataRate, 1e6, 0}, {"bit/s", DataRate, 1, 0},
	{"kHz", DataRate, 1e3, 0}, {"MHz", DataRate, 1e6, 0},
	{"s", Time, 1, 0}, {"ms", Time, 1e-3, 0}, {"us", Time, 1e-6, 0}, {"ns", Time, 1e-9, 0}, {"min", Time, 60, 0}, {"h", Time, 3600, 0},
	{"degC", Temperature, 1, 0}, {"degF", Temperature, 5.0 / 9, -32}, {"K", Temperature, 1, -273.15},
	{"%", Share, 1e-2, 0},
	{"%/degC", SharePerDegree, 1e-2, 0}, {"%/K", SharePerDegree, 1e-2, 0}, {"%/degF", SharePerDegree, 1.8e-2, 0},
	{"W", Power, 1, 0}, {"mW", Power, 1e-3, 0}, {"kW", Power, 1e3, 0},
	{"W/m", PowerPerLength, 1, 0}, {"W/ft", PowerPerLength, 1 / foot, 0},
	{"kg", Mass, 1, 0}, {"g", Mass, 1e-3, 0}, {"lb", Mass, pound, 0}, {"oz", Mass, pound / 16, 0},
	{"g/m", MassPerLength, 1e-3, 0}, {"kg/m", MassPerLength, 1, 0}, {"lb/ft", MassPerLength, pound / foot, 0}, {"oz/ft", MassPerLength, pound / 16 / foot, 0},
	{"deg", Angle, 1, 0}, {"rad", Angle, 180 / math.Pi, 0}, {"turn", Angle, 360, 0},
	{"uF", Capacitance, 1e-6, 0}, {"mF", Capacitance, 1e-3, 0}, {"nF", Capacitance, 1e-9, 0}, {"F", Capacitance, 1, 0},
}

// aliases are spellings that are understood and shown back as written.
var aliases = map[string]string{
	"°C": "degC", "°F": "degF", "℃": "degC", "℉": "degF", "°": "deg",
	"Ω": "ohm", "mΩ": "mohm", "kΩ": "kohm", "Ω/m": "ohm/m", "Ω/km": "ohm/km", "ohms": "ohm",
	"µs": "us", "μs": "us", "µF": "uF", "μF": "uF", "µA": "uA", "μA": "uA",
	"mm²": "mm2", "mm^2": "mm2", "sqmm": "mm2", "awg": "AWG", "%/°C": "%/degC", "%/°F": "%/degF",
	"feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "metre": "m", "meter": "m", "metres": "m", "meters": "m",
}

// words are what a unit is called when it is said; they are no way to write it,
// but it is plain which unit is meant.
var words = map[string]string{
	"amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "volt": "V", "volts": "V", "watt": "W", "watts": "W",
	"vac": "V", "vdc": "V", "v~": "V", "adc": "A", "c": "degC", "f": "degF", "celsius": "degC", "fahrenheit": "degF", "percent": "%", "mtr": "m", "mtrs": "m", "millimetres": "mm", "centimetres": "cm",
	"euro": "EUR", "euros": "EUR", "dollar": "USD", "dollars": "USD", "pound": "GBP", "pounds": "GBP",
	"mohm/ft": "ohm/kft", "gauge": "AWG", "second": "s", "seconds": "s", "hertz": "Hz", "degrees": "deg",
}

// Meant is the unit of a dimension that a word stands for.
func Meant(d Dimension, word string) (symbol string, ok bool) {
	symbol, ok = words[strings.ToLower(word)]
	for _, u := range Units(d) {
		if ok && u.Symbol == symbol {
			return symbol, true
		}
	}
	return "", false
}

// Currencies that completion offers; every ISO 4217 code is understood.
var offered = []string{"EUR", "USD", "GBP", "CHF", "CAD", "AUD", "SEK", "NOK", "DKK", "PLN", "CZK", "JPY"}

// Units lists the units of a dimension, the likeliest first.
func Units(d Dimension) []Unit {
	var out []Unit
	if d == Money {
		for _, code := range offered {
			out = append(out, Unit{code, Money, 1, 0})
		}
		return out
	}
	for _, u := range units {
		if u.Dim == d {
			out = append(out, u)
		}
	}
	return out
}

// UnitNamed is the unit of a dimension with a symbol; zero where there is none.
func UnitNamed(d Dimension, symbol string) Unit { return unitOf(d, symbol) }

// unitsNamed finds every unit with that symbol: "kHz" is a rate and a bit rate.
func unitsNamed(symbol string) []Unit {
	canonical := symbol
	if a, ok := aliases[symbol]; ok {
		canonical = a
	}
	var out []Unit
	for _, u := range units {
		if u.Symbol == canonical {
			u.Symbol = symbol
			out = append(out, u)
		}
	}
	if len(out) == 0 && len(symbol) == 3 {
		if c, err := currency.ParseISO(symbol); err == nil && c.String() == symbol {
			out = append(out, Unit{symbol, Money, 1, 0})
		}
	}
	return out
}

// Symbols lists every unit symbol, without repeats, for suggestions.
func Symbols() []string {
	var out []string
	for _, u := range units {
		if !slices.Contains(out, u.Symbol) {
			out = append(out, u.Symbol)
		}
	}
	return append(out, offered...)
}
