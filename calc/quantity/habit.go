package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Habit is which system of units a reader thinks in. What was written is shown
// back in its own unit; a habit is for what was worked out.
type Habit int

// The habits.
const (
	Metric   Habit = iota
	Imperial       // feet, inches, pounds and degrees Fahrenheit
)

// imperial lists, as prefixes does, the units of the dimensions that differ.
var imperial = map[Dimension][]string{
	Length:              {"ft", "in"},
	Temperature:         {"degF"},
	ResistancePerLength: {"ohm/kft"},
	Density:             {"/ft"},
	PowerPerLength:      {"W/ft"},
	Mass:                {"lb", "oz"},
	MassPerLength:       {"oz/ft"},
}

// tape is the length in m from which feet and inches are said together, as a tape
// measure shows them; below it inches alone.
const tape = 3 * foot

// Show writes an SI value for a reader of this habit: three significant digits,
// in the unit that a maker would say.
func (h Habit) Show(d Dimension, si float64) string { return h.show(d, si, 3) }

// ShowAgainst is Show with as many digits (three to seven) as it takes to read
// differently from the limit that the value violates: 8.0004 A against 8 A.
func (h Habit) ShowAgainst(d Dimension, got, limit float64) string {
	for digits := 3; digits < 7; digits++ {
		if g := h.show(d, got, digits); g != h.show(d, limit, digits) {
			return g
		}
	}
	return h.show(d, got, 7)
}

// Quantity is what someone else wrote, as in a catalogue: in its own unit, unless
// that is strange to an imperial reader.
func (h Habit) Quantity(q Quantity) string {
	if h == Imperial && len(imperial[q.Dim()]) > 0 && !q.Unit.Imperial() {
		return h.Show(q.Dim(), q.SI)
	}
	return q.String()
}

func (h Habit) show(d Dimension, si float64, digits int) string {
	symbols := imperial[d]
	switch {
	case h != Imperial || len(symbols) == 0:
		return show(d, si, digits)
	case d == Length && math.Abs(si) >= tape:
		return feet(si, digits)
	case d == Length:
		symbols = symbols[1:]
	}
	return showIn(d, symbols, unitOf(d, symbols[0]), si, digits)
}

// feet writes a length in feet and inches. Three digits are whole inches, each
// further one a tenth more.
func feet(si float64, digits int) string {
	step := math.Pow10(digits - 3)
	inches := math.Round(math.Abs(si)/inch*step) / step
	whole := math.Floor(inches / 12)
	rest := math.Round((inches-12*whole)*step) / step
	out := Number(whole, 8) + " ft"
	if rest > 0 {
		out += " " + Number(rest, 8) + " in"
	}
	if si < 0 {
		out = "-" + out
	}
	return out
}

// Tape writes a length to be cut as it is read off a tape measure: metres to the
// millimetre, or feet and inches to the sixteenth.
func (h Habit) Tape(si float64) string {
	if h != Imperial {
		return strconv.FormatFloat(si, 'f', 3, 64) + " m"
	}
	n := int(math.Round(math.Abs(si) / inch * 16))
	whole, rest, part := n/16, n%16, 16
	for rest > 0 && rest%2 == 0 {
		rest, part = rest/2, part/2
	}
	var words []string
	if whole >= 36 {
		words = append(words, strconv.Itoa(whole/12)+" ft")
		whole %= 12
	}
	if whole > 0 {
		words = append(words, strconv.Itoa(whole))
	}
	if rest > 0 {
		words = append(words, strconv.Itoa(rest)+"/"+strconv.Itoa(part))
	}
	switch {
	case len(words) == 0:
		words = append(words, "0", "in")
	case whole > 0 || rest > 0:
		words = append(words, "in")
	}
	out := strings.Join(words, " ")
	if si < 0 && n > 0 {
		out = "-" + out
	}
	return out
}

// Phrase is a sentence with quantities in it that each reader is shown in their
// own habit.
type Phrase struct {
	format string
	args   []any
}

// Say makes a Phrase by the rules of fmt.Sprintf, with %s for what Shown and
// ShownAgainst give.
func Say(format string, args ...any) Phrase { return Phrase{format, args} }

// In is the phrase for a reader.
func (p Phrase) In(h Habit) string {
	args := make([]any, len(p.args))
	for i, a := range p.args {
		switch a := a.(type) {
		case said:
			args[i] = h.Show(a.d, a.si)
			if a.against {
				args[i] = h.ShowAgainst(a.d, a.si, a.limit)
			}
		case Phrase:
			args[i] = a.In(h)
		default:
			args[i] = a
		}
	}
	return fmt.Sprintf(p.format, args...)
}

func (p Phrase) String() string { return p.In(Metric) }

// Error makes a phrase an error.
func (p Phrase) Error() string { return p.In(Metric) }

type said struct {
	d         Dimension
	si, limit float64
	against   bool
}

// Shown is an SI value in a Phrase as Show writes it.
func Shown(d Dimension, si float64) any { return said{d: d, si: si} }

// ShownAgainst is an SI value in a Phrase as ShowAgainst writes it.
func ShownAgainst(d Dimension, got, limit float64) any { return said{d, got, limit, true} }

// ErrorIn is an error for a reader: in their habit where it has quantities in it.
func ErrorIn(err error, h Habit) string {
	var p interface{ In(Habit) string }
	if errors.As(err, &p) {
		return p.In(h)
	}
	return err.Error()
}
