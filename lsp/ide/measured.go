package ide

import (
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/schema"
)

// measured shows a quantity as it was written, or else in its own unit, and in
// others.
func measured(q schema.Quantity, written string) string {
	others := converted(q)
	own := written
	if own == "" {
		own = q.String()
	}
	if q.Dim() == quantity.Gauge {
		others = append(others, gaugeFacts(q)...)
	}
	if len(others) == 0 {
		return own
	}
	return own + " = " + strings.Join(others, " = ")
}

// prefixed are the dimensions whose units differ by powers of ten alone:
// another one tells a reader nothing while the number is of a handy size.
var prefixed = map[quantity.Dimension]bool{
	quantity.Current: true, quantity.Voltage: true, quantity.Resistance: true, quantity.Frequency: true, quantity.DataRate: true,
	quantity.Time: true, quantity.Power: true, quantity.Capacitance: true, quantity.Money: true,
}

// converted shows a quantity in the units of its dimension that give a number
// of a handy size, at most three.
func converted(q schema.Quantity) []string {
	var out []string
	own := q.String()
	if n := math.Abs(quantity.InUnit(q.SI, q.Unit)); prefixed[q.Dim()] && (n == 0 || n >= 0.1 && n < 1000) {
		return nil
	}
	for _, u := range quantity.Units(q.Dim()) {
		n := math.Abs(quantity.InUnit(q.SI, u))
		if u.Symbol == q.Unit.Symbol || n != 0 && (n < 0.1 || n >= 1000) && q.Dim() != quantity.Gauge {
			continue
		}
		s := schema.Quantity{SI: q.SI, Unit: u}.String()
		if u.AWG() {
			s = nearestAWG(q.SI)
		}
		if s != "" && s != own {
			out = append(out, s)
		}
		if len(out) == 3 {
			break
		}
	}
	if q.Dim() == quantity.Length && q.Unit.Symbol != "ft" && q.SI >= 0.3048 && q.SI < 100 {
		out = append(out, feetInches(q.SI))
	}
	return out
}

// feetInches writes a length as a rule in feet and inches reads, to 1/8 inch.
func feetInches(si float64) string {
	const inch = 0.0254
	eighths := int(math.Round(si / inch * 8))
	feet, rest := eighths/96, eighths%96
	out := quantity.Number(float64(feet), 6) + " ft"
	if whole, part := rest/8, rest%8; rest > 0 {
		out += " "
		if whole > 0 {
			out += quantity.Number(float64(whole), 3)
			if part > 0 {
				out += " "
			}
		}
		if part > 0 {
			out += [...]string{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"}[part]
		}
		out += " in"
	}
	return out
}

// nearestAWG names the American sizes that a cross-section lies between.
func nearestAWG(area float64) string {
	n := quantity.AWGNumber(area)
	if n < -3 || n > 40 {
		return ""
	}
	if math.Abs(n-math.Round(n)) < 0.02 {
		return wire.AWG(int(math.Round(n))).String()
	}
	return "between " + wire.AWG(int(math.Ceil(n))).String() + " and " + wire.AWG(int(math.Floor(n))).String()
}

// gaugeFacts says what the copper of a gauge has for resistance.
func gaugeFacts(q schema.Quantity) []string {
	r, err := wire.Resistance(wire.Of(q), true, 20)
	if err != nil {
		return nil
	}
	return []string{quantity.Show(quantity.ResistancePerLength, r) + " when stranded, at 20 degC"}
}

// quantityIn reads the text at a place as the quantity that belongs there.
func (v *View) quantityIn(h *hit) (schema.Quantity, bool) {
	val := h.val()
	if val == nil || val.Kind != schema.TextVal {
		return schema.Quantity{}, false
	}
	if d := h.dimension(); d != quantity.None {
		return v.Plan.Evaluate(val, d)
	}
	if h.attr != nil && h.attr.Kind == schema.Values {
		return v.evaluate(val)
	}
	return schema.Quantity{}, false
}

// dimension is what a text at the place measures.
func (h *hit) dimension() quantity.Dimension {
	if len(h.vals) > 1 && h.vals[len(h.vals)-2].Kind == schema.RefVal {
		return quantity.Length // run.arch["1.5 m"]
	}
	if h.attr == nil {
		return quantity.None
	}
	return dimensionOf(h.attr)
}

// dimensionOf is the dimension of the texts in an attribute's value.
func dimensionOf(a *schema.Attr) quantity.Dimension {
	switch a.Kind {
	case schema.Measure, schema.Measures, schema.MeasureEach, schema.LetterMeasure:
		return a.Dim
	case schema.Coordinates, schema.Polyline:
		return quantity.Length
	case schema.LetterShare:
		return quantity.Share
	}
	return quantity.None
}

// evaluate works an expression out, of whatever dimension it is.
func (v *View) evaluate(val *schema.Val) (schema.Quantity, bool) {
	for d := quantity.Length; d <= quantity.Money; d++ {
		if q, ok := v.Plan.Evaluate(val, d); ok {
			return q, true
		}
	}
	return schema.Quantity{}, false
}
