package lists

import (
	"slices"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Converter says between which voltages the step-down converter of a controller stands: from those that the controller
// says it takes and that are too high for its board, to those that the board takes. Both are empty where it needs none,
// or where either is not said.
func Converter(c *schema.Controller) (from, to string) {
	if !c.InputVoltage.Known() || c.Board.V == nil || !c.Board.V.InputVoltage.Known() || len(c.Board.V.InputVoltage.V) == 0 {
		return "", ""
	}
	takes := c.Board.V.InputVoltage.V
	high := slices.DeleteFunc(slices.Clone(c.InputVoltage.V), func(q schema.Quantity) bool {
		return figures.Takes(takes, q.SI) || slices.ContainsFunc(takes, func(t schema.Quantity) bool { return t.SI > q.SI })
	})
	if len(high) == 0 {
		return "", ""
	}
	return either(high), either(takes)
}

// either joins values of which each will do.
func either(values []schema.Quantity) string {
	out := values[0].String()
	for _, q := range values[1:] {
		out = say("list.or", "first", out, "last", q.String())
	}
	return out
}
