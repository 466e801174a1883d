// Package quantity holds the physical dimensions that a plan speaks of, the
// units a maker writes them in, and the way numbers are shown back.
//
// Inside, every value is SI float64: metres, square metres, volts, amperes,
// ohms, ohms per metre, items per metre, hertz, bits per second, seconds,
// degrees Celsius (the one deviation from kelvin, because every table of the
// trade is in degrees Celsius), shares of one, watts, watts per metre,
// kilograms, kilograms per metre, degrees of angle, farads. Money stays in its
// currency.
package quantity

// Dimension says what kind of thing a number measures.
type Dimension int

// The dimensions of the plan language.
const (
	None Dimension = iota
	Length
	Gauge // cross-section of a conductor, m2, written in AWG or mm2
	Current
	Voltage
	Resistance
	ResistancePerLength
	Density // items per metre
	Frequency
	DataRate // bits per second
	Time
	Temperature
	Share // 1 is all of it
	SharePerDegree
	Power
	PowerPerLength
	Mass
	MassPerLength
	Angle
	Capacitance
	Money
)

// dimensions gives each dimension its name in a sentence ("a length") and the
// symbol of the unit that its SI value is shown in by default.
var dimensions = map[Dimension]struct{ name, shown string }{
	Length:              {"a length", "m"},
	Gauge:               {"a wire gauge", "mm2"},
	Current:             {"a current", "A"},
	Voltage:             {"a voltage", "V"},
	Resistance:          {"a resistance", "ohm"},
	ResistancePerLength: {"a resistance per length", "ohm/m"},
	Density:             {"a number per length", "/m"},
	Frequency:           {"a rate", "Hz"},
	DataRate:            {"a bit rate", "kbit/s"},
	Time:                {"a time", "s"},
	Temperature:         {"a temperature", "degC"},
	Share:               {"a share in percent", "%"},
	SharePerDegree:      {"a share per degree", "%/degC"},
	Power:               {"a power", "W"},
	PowerPerLength:      {"a power per length", "W/m"},
	Mass:                {"a mass", "kg"},
	MassPerLength:       {"a mass per length", "g/m"},
	Angle:               {"an angle", "deg"},
	Capacitance:         {"a capacitance", "uF"},
	Money:               {"a price", "EUR"},
}

// String is the dimension's name with its article, for use in a sentence.
func (d Dimension) String() string {
	if d == None {
		return "a plain number"
	}
	return dimensions[d].name
}
