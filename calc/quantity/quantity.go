package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Quantity is a number with the unit it was written in.
type Quantity struct {
	SI   float64
	Unit Unit
}

// Of makes a quantity of a dimension from its SI value, to be shown in the
// dimension's default unit.
func Of(d Dimension, si float64) Quantity {
	return Quantity{si, unitOf(d, dimensions[d].shown)}
}

// Dim is the quantity's dimension.
func (q Quantity) Dim() Dimension { return q.Unit.Dim }

// With is the same kind of quantity in the same unit with another SI value.
func (q Quantity) With(si float64) Quantity { return Quantity{si, q.Unit} }

// Equal reports whether two quantities of one dimension (and, for money, of
// one currency) are the same size, whatever the unit: "6 in" equals "152.4 mm".
func (q Quantity) Equal(o Quantity) bool {
	if q.Dim() != o.Dim() || q.Dim() == Money && q.Unit.Symbol != o.Unit.Symbol {
		return false
	}
	return q.SI == o.SI || math.Abs(q.SI-o.SI) <= 1e-9*math.Max(math.Abs(q.SI), math.Abs(o.SI))
}

// InUnit is the number as it reads in unit u.
func InUnit(si float64, u Unit) float64 {
	switch {
	case u.AWG():
		return math.Round(AWGNumber(si)*1000) / 1000
	case u.Factor == 0:
		return si
	}
	if parts, ok := u.parts(); ok {
		return si*parts - u.Offset
	}
	return si/u.Factor - u.Offset
}

// parts is how many of a unit make one of the SI's, where that is a whole number: 140 cm are
// 1.4 m, and 140 times 0.01 is not quite.
func (u Unit) parts() (float64, bool) {
	parts := math.Round(1 / u.Factor)
	return parts, parts > 1 && parts*u.Factor == 1
}

func (u Unit) toSI(n float64) float64 {
	if u.AWG() {
		return AWGArea(n)
	}
	if parts, ok := u.parts(); ok {
		return (n + u.Offset) / parts
	}
	return (n + u.Offset) * u.Factor
}

// String shows the quantity in its own unit with up to four significant digits.
func (q Quantity) String() string {
	return q.Unit.join(Number(InUnit(q.SI, q.Unit), 4))
}

// Exact shows the quantity in its own unit with every digit that it needs.
func (q Quantity) Exact() string {
	n := InUnit(q.SI, q.Unit)
	s := strconv.FormatFloat(n, 'g', 12, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil {
		s = strconv.FormatFloat(f, 'f', -1, 64)
	}
	return q.Unit.join(s)
}

// As is the same number in another unit: "12 m" as "12 mm".
func (q Quantity) As(u Unit) Quantity { return Quantity{u.toSI(InUnit(q.SI, q.Unit)), u} }

// Bound writes a limit in a unit for someone who is to stay below it, or above
// it: four significant digits, rounded to the side that is allowed.
func Bound(si float64, u Unit, below bool) string {
	if u.AWG() {
		n := math.Ceil(AWGNumber(si) - 1e-6)
		if !below {
			n = math.Floor(AWGNumber(si) + 1e-6)
		}
		return u.join(fmt.Sprint(min(max(n, ThickestAWG), ThinnestAWG)))
	}
	n := InUnit(si, u)
	if n == 0 {
		return u.join("0")
	}
	step := math.Pow(10, math.Min(0, math.Floor(math.Log10(math.Abs(n)))-3))
	if below {
		n = math.Floor(n/step+1e-6) * step
	} else {
		n = math.Ceil(n/step-1e-6) * step
	}
	return u.join(Number(n, 4))
}

// join puts a number before the unit: with a space, but for "/m"; the AWG sizes
// above 1 as "2/0".
func (u Unit) join(number string) string {
	if u.AWG() {
		if n, err := strconv.Atoi(number); err == nil {
			number = AWGName(n)
		}
	}
	if u.Symbol == "" || strings.HasPrefix(u.Symbol, "/") {
		return number + u.Symbol
	}
	return number + " " + u.Symbol
}

// Number shows n with at most digits significant digits and no exponent in the
// range a plan lives in; whole numbers keep all their digits. What lies halfway
// but for the rounding of the arithmetic is rounded away from 0, so that one
// value got in two ways reads the same.
func Number(n float64, digits int) string {
	if digits < 8 {
		n += n * 1e-12
	}
	a := math.Abs(n)
	switch {
	case n == 0:
		return "0"
	case math.IsInf(n, 0) || math.IsNaN(n):
		return fmt.Sprint(n)
	case a >= math.Pow(10, float64(digits)):
		return strconv.FormatFloat(math.Round(n), 'f', 0, 64)
	case a < 1e-6:
		return strconv.FormatFloat(n, 'g', digits, 64)
	}
	decimals := max(digits-1-int(math.Floor(math.Log10(a))), 0)
	s := strconv.FormatFloat(n, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
