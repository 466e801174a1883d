package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// inCase says in a sentence which case a number belongs to.
func inCase(name string) string { return "in case " + name }

// inWorst says in a sentence what is lit when a number is at its worst: a
// ceiling bounds the sum, not the place.
func inWorst(w figures.Worst) string {
	switch {
	case w.Case == schema.Full:
		return inCase(schema.Full)
	case len(w.Lit) > 0 && len(w.Lit) <= 4 && len(w.Lit) < len(w.Lit[0].Island.Runs):
		return fmt.Sprintf("with only %s lit (case any)", named(idsOf(w.Lit)))
	}
	return "under the ceilings (case any)"
}

func showAmps(si float64) string  { return quantity.Show(quantity.Current, si) }
func showVolts(si float64) string { return quantity.Show(quantity.Voltage, si) }

// showShare writes a share that violates a limit in percent.
func showShare(got, limit float64) string {
	return quantity.ShowAgainst(quantity.Share, got, limit)
}

// least writes a promised value, rounded down to what the promise surely
// holds: hundredths.
func least(d quantity.Dimension, si float64) string {
	return quantity.Show(d, math.Floor(si*100+1e-6)/100)
}
