package remedy

import (
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
)

// brings says what a change brings a block: the least voltage of a run, the current and loss of a lead, where they move by a
// part in a hundred, and what it costs in copper and parts.
func brings(before, after *figures.Figures, id string) string {
	var out []string
	moved := func(was, is float64) bool { return math.Abs(is-was) > 0.01*max(math.Abs(was), math.Abs(is)) }
	add := func(what string, d quantity.Dimension, was, is figures.Worst) {
		if was.OK && is.OK && moved(was.Value, is.Value) {
			out = append(out, what+" "+quantity.Show(d, is.Value))
		}
	}
	if b, ok := before.RunNamed(id); ok && b.OK {
		if a, ok := after.RunNamed(id); ok && a.OK {
			add("far pixel", quantity.Voltage, before.WorstVolts(b, 0), after.WorstVolts(a, 0))
		}
	}
	if b, ok := before.LeadNamed(id); ok && b.OK {
		if a, ok := after.LeadNamed(id); ok && a.OK {
			add("carries", quantity.Current, before.WorstLead(b), after.WorstLead(a))
			if was, is := before.Drop(b), after.Drop(a); moved(was, is) {
				out = append(out, "loses "+quantity.Show(quantity.Voltage, is))
			}
		}
	}
	if more := sizing.More(before, after); more != "" {
		out = append(out, more)
	}
	return strings.Join(out, ", ")
}
