package quantity

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Errors of ParseFor, to be told apart with errors.Is; the text around them
// says what was written and what would do.
var (
	ErrEmpty       = errors.New("empty")
	ErrNumber      = errors.New("not a number")
	ErrNoUnit      = errors.New("no unit")
	ErrUnknownUnit = errors.New("unknown unit")
	ErrDimension   = errors.New("another dimension")
	ErrRange       = errors.New("out of range")
)

// Error is a quantity that could not be read.
type Error struct {
	Kind    error // one of the Err values
	Message string
	Number  string // the number as written, where there was one
	Unit    string // the unit as written, where there was one
	Found   Dimension
}

func (e *Error) Error() string { return e.Message }

// Unwrap gives the Err value.
func (e *Error) Unwrap() error { return e.Kind }

// number: "3", "3.2", ".5", "-1", "1/2", "5 1/2", "1 000" is not one.
var term = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*([-+]?(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?|[.,]\d+))\s*([^\s\d.,+\-][^\s]*)?`)
})

// mostDigits bounds the text of a quantity; "a number of a million digits" is
// refused by its length before anything looks at it.
const mostDigits = 60

// ParseFor reads a quantity of dimension want: "3.2 m", "16 ft 4 in",
// "5 1/2 in", "18 AWG", "1/0 AWG", "60/m", "21.50 EUR". Compound values (feet
// and inches) are understood for lengths and masses. The result keeps the last
// unit of a compound value's first part.
func ParseFor(want Dimension, s string) (Quantity, error) {
	if strings.TrimSpace(s) == "" {
		return Quantity{}, &Error{Kind: ErrEmpty, Message: fmt.Sprintf("empty text where %s belongs, such as %q", want, Example(want))}
	}
	if len(s) > mostDigits {
		return Quantity{}, &Error{Kind: ErrRange, Message: fmt.Sprintf("a quantity of %d characters; at most %d are read", len(s), mostDigits)}
	}
	if want == Gauge {
		if q, ok := aught(s); ok {
			return q, nil
		}
	}
	var total Quantity
	rest := s
	for part := 0; strings.TrimSpace(rest) != ""; part++ {
		m := term().FindStringSubmatch(rest)
		if m == nil {
			return Quantity{}, &Error{Kind: ErrNumber, Message: fmt.Sprintf("%q is not a number with a unit, such as %q", s, Example(want))}
		}
		rest = rest[len(m[0]):]
		n, err := parseNumber(m[1])
		if err != nil {
			return Quantity{}, &Error{Kind: ErrNumber, Message: fmt.Sprintf("%q in %q is not a number: %v", m[1], s, err), Number: m[1]}
		}
		q, err := measure(want, n, m[1], m[2], s)
		if err != nil {
			return Quantity{}, err
		}
		if part == 0 {
			total = q
			continue
		}
		if want != Length && want != Mass {
			return Quantity{}, &Error{Kind: ErrNumber, Message: fmt.Sprintf("%q holds more than one number; only lengths and masses may be compound, such as \"16 ft 4 in\"", s)}
		}
		if q.Unit.Factor >= total.Unit.Factor || q.SI < 0 {
			return Quantity{}, &Error{Kind: ErrNumber, Message: fmt.Sprintf("%q: the parts of a compound value go from the larger unit to the smaller, without signs, such as \"16 ft 4 in\"", s)}
		}
		if total.SI < 0 {
			total.SI -= q.SI
		} else {
			total.SI += q.SI
		}
	}
	return total, nil
}

func measure(want Dimension, n float64, number, symbol, whole string) (Quantity, error) {
	if symbol == "" {
		return Quantity{}, &Error{Kind: ErrNoUnit, Number: number, Message: fmt.Sprintf("%s has no unit; %s belongs here, such as %q", number, want, Example(want))}
	}
	found := unitsNamed(symbol)
	for _, u := range found {
		if u.Dim != want {
			continue
		}
		if u.AWG() {
			if err := wholeAWG(n, number); err != nil {
				return Quantity{}, err
			}
		}
		q := Quantity{u.toSI(n), u}
		if math.IsInf(q.SI, 0) || math.IsNaN(q.SI) || math.Abs(q.SI) > 1e15 {
			return Quantity{}, &Error{Kind: ErrRange, Number: number, Unit: symbol, Message: fmt.Sprintf("%q is larger than anything a plan can hold", whole)}
		}
		return q, nil
	}
	if len(found) > 0 {
		return Quantity{}, &Error{Kind: ErrDimension, Number: number, Unit: symbol, Found: found[0].Dim,
			Message: fmt.Sprintf("%q is %s where %s belongs; write one, such as %q", whole, found[0].Dim, want, Example(want))}
	}
	return Quantity{}, &Error{Kind: ErrUnknownUnit, Number: number, Unit: symbol,
		Message: fmt.Sprintf("unknown unit %q in %q; %s is written in %s", symbol, whole, want, symbolList(want))}
}

var aughts = regexp.MustCompile(`^\s*([1-4])/0\s*(AWG|awg)\s*$`)

// aught reads the sizes above AWG 1: "1/0 AWG" is number 0, "4/0 AWG" is -3.
func aught(s string) (Quantity, bool) {
	m := aughts.FindStringSubmatch(s)
	if m == nil {
		return Quantity{}, false
	}
	n, _ := strconv.Atoi(m[1])
	u := unitOf(Gauge, "AWG")
	return Quantity{u.toSI(float64(1 - n)), u}, true
}

func parseNumber(s string) (float64, error) {
	if strings.Contains(s, ",") {
		return 0, fmt.Errorf("the decimal sign is a point (%s)", strings.Replace(s, ",", ".", 1))
	}
	sign := 1.0
	if t, ok := strings.CutPrefix(s, "-"); ok {
		sign, s = -1, t
	}
	s = strings.TrimPrefix(s, "+")
	fields := strings.Fields(s)
	total := 0.0
	for _, f := range fields {
		num, den, frac := strings.Cut(f, "/")
		a, err := strconv.ParseFloat(num, 64)
		if err != nil {
			return 0, errors.New("too large or malformed")
		}
		if frac {
			b, err := strconv.ParseFloat(den, 64)
			if err != nil || b == 0 {
				return 0, errors.New("a fraction needs a denominator other than 0")
			}
			a /= b
		}
		total += a
	}
	return sign * total, nil
}

// examples are what a message shows for each dimension.
var examples = map[Dimension]string{
	Length: "3.2 m", Gauge: "18 AWG", Current: "2.5 A", Voltage: "12 V", Resistance: "330 ohm",
	ResistancePerLength: "0.1 ohm/m", Density: "60/m", Frequency: "40 Hz", DataRate: "800 kbit/s", Time: "280 us",
	Temperature: "25 degC", Share: "80 %", SharePerDegree: "2.5 %/degC", Power: "60 W", PowerPerLength: "9 W/m",
	Mass: "250 g", MassPerLength: "120 g/m", Angle: "90 deg", Capacitance: "1000 uF", Money: "21.50 EUR",
}

// Example is a value of the dimension as one would write it.
func Example(d Dimension) string { return examples[d] }

func symbolList(d Dimension) string {
	us := Units(d)
	names := make([]string, 0, len(us))
	for _, u := range us {
		names = append(names, u.Symbol)
	}
	if len(names) == 0 {
		return "nothing"
	}
	return Or(names)
}
