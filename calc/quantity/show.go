package quantity

import (
	"math"
	"strconv"
	"strings"
)

// prefixes lists, for the dimensions that findings speak of, the units to
// choose from: the first whose number is at least 1 is taken, else the last.
var prefixes = map[Dimension][]string{
	Length:      {"m", "cm", "mm"},
	Current:     {"A", "mA"},
	Voltage:     {"V", "mV"},
	Resistance:  {"ohm", "mohm"},
	Time:        {"s", "ms", "us"},
	Power:       {"W"},
	Frequency:   {"MHz", "kHz", "Hz"},
	Mass:        {"kg", "g"},
	Capacitance: {"uF"},
}

// Show writes an SI value of a dimension for a reader: three significant
// digits, in the unit a maker would say.
func Show(d Dimension, si float64) string { return show(d, si, 3) }

func show(d Dimension, si float64, digits int) string {
	return showIn(d, prefixes[d], unitOf(d, dimensions[d].shown), si, digits)
}

// showIn takes the first of some units whose number is at least 1, else the last;
// nothing at all is shown in a unit of its own.
func showIn(d Dimension, symbols []string, zero Unit, si float64, digits int) string {
	if len(symbols) == 0 {
		q := Of(d, si)
		return q.Unit.join(Number(InUnit(si, q.Unit), digits))
	}
	last := unitOf(d, symbols[len(symbols)-1])
	if last.Offset == 0 && math.Abs(InUnit(si, last)) < nothing {
		return zero.join("0")
	}
	var u Unit
	for _, s := range symbols {
		u = unitOf(d, s)
		if math.Abs(InUnit(si, u)) >= 0.9995 {
			break
		}
	}
	// Volts and amperes read better as 0.92 V than as 920 mV.
	if (d == Voltage || d == Current) && math.Abs(si) >= 0.0995 {
		u = unitOf(d, symbols[0])
	}
	return u.join(Number(InUnit(si, u), digits))
}

// nothing is the share of a dimension's smallest unit below which a reader sees
// 0: what is left there is the rounding of the arithmetic, not a measure.
const nothing = 1e-6

// ShowAgainst writes a value with as many digits (three to seven) as it takes
// to read differently from the limit it violates: 8.0004 A against 8 A.
func ShowAgainst(d Dimension, got, limit float64) string { return Metric.ShowAgainst(d, got, limit) }

// unitOf finds a unit of a dimension by its symbol.
func unitOf(d Dimension, symbol string) Unit {
	for i := range units {
		if units[i].Dim == d && units[i].Symbol == symbol {
			return units[i]
		}
	}
	if d == Money {
		return Unit{symbol, Money, 1, 0}
	}
	return Unit{}
}

// List joins names: "a, b, c", and of more than three the first two "and 4 more".
func List(names []string) string {
	if n := len(names); n > 3 {
		return strings.Join(names[:2], ", ") + " and " + strconv.Itoa(n-2) + " more"
	}
	return strings.Join(names, ", ")
}

// And joins names, however many: "a", "a and b", "a, b and c".
func And(names []string) string { return joined(names, " and ") }

// Or joins them as a choice: "a or b", "a, b or c".
func Or(names []string) string { return joined(names, " or ") }

func joined(names []string, last string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + last + names[n-1]
	}
	return strings.Join(names, "")
}

// Count writes "1 pixel", "216 pixels".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
