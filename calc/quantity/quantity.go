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

// AWGArea is the cross-section in m2 of AWG number n (0 is 1/0, -1 is 2/0):
// d = 0.005 in * 92^((36-n)/39), ASTM B258.
func AWGArea(n float64) float64 {
	d := 0.005 * inch * math.Pow(92, (36-n)/39)
	return math.Pi / 4 * d * d
}

// AWGNumber is the inverse of AWGArea, not rounded.
func AWGNumber(area float64) float64 {
	d := math.Sqrt(area * 4 / math.Pi)
	return 36 - 39*math.Log(d/(0.005*inch))/math.Log(92)
}

// InUnit is the number as it reads in unit u.
func InUnit(si float64, u Unit) float64 {
	switch {
	case strings.EqualFold(u.Symbol, "AWG"):
		return math.Round(AWGNumber(si)*1000) / 1000
	case u.Factor == 0:
		return si
	}
	return si/u.Factor - u.Offset
}

func (u Unit) toSI(n float64) float64 {
	if strings.EqualFold(u.Symbol, "AWG") {
		return AWGArea(n)
	}
	return (n + u.Offset) * u.Factor
}

// String shows the quantity in its own unit with up to four significant digits.
func (q Quantity) String() string {
	if s, ok := q.aught(); ok {
		return s
	}
	return Number(InUnit(q.SI, q.Unit), 4) + glue(q.Unit.Symbol) + q.Unit.Symbol
}

// Exact shows the quantity in its own unit with every digit that it needs.
func (q Quantity) Exact() string {
	if s, ok := q.aught(); ok {
		return s
	}
	n := InUnit(q.SI, q.Unit)
	s := strconv.FormatFloat(n, 'g', 12, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil {
		s = strconv.FormatFloat(f, 'f', -1, 64)
	}
	return s + glue(q.Unit.Symbol) + q.Unit.Symbol
}

// aught writes the gauges above 1 AWG as the trade does: number 0 is "1/0 AWG",
// -3 is "4/0 AWG".
func (q Quantity) aught() (string, bool) {
	if !strings.EqualFold(q.Unit.Symbol, "AWG") {
		return "", false
	}
	n := InUnit(q.SI, q.Unit)
	if n > 0 || n != math.Round(n) {
		return "", false
	}
	return fmt.Sprintf("%d/0 %s", 1-int(n), q.Unit.Symbol), true
}

// glue is what stands between number and unit: nothing before "/m".
func glue(symbol string) string {
	if symbol == "" || strings.HasPrefix(symbol, "/") {
		return ""
	}
	return " "
}

// Number shows n with at most digits significant digits and no exponent in the
// range a plan lives in; whole numbers keep all their digits.
func Number(n float64, digits int) string {
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
