package rules

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
)

// inCase says in a sentence which case a number belongs to.
func inCase(name string) string { return "in case " + name }

// inWorst says in a sentence what is lit when a number is at its worst: a
// ceiling bounds the sum, not the place.
func inWorst(w figures.Worst) string {
	switch {
	case w.Case == figures.Full:
		return inCase(figures.Full)
	case len(w.Lit) > 0 && len(w.Lit) <= 4 && len(w.Lit) < len(w.Lit[0].Island.Runs):
		return fmt.Sprintf("with only %s lit (case any)", named(runIDs(w.Lit)))
	}
	return "under the ceilings (case any)"
}

func runIDs(runs []*figures.Run) []string {
	var out []string
	for _, r := range runs {
		out = append(out, r.ID())
	}
	return out
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

// worseFirst orders values of which the least is the worst.
func worseFirst(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// cutTail takes a general advice off a message, to put a better one in its
// place: all that is behind the first "; ".
func cutTail(message string) string { return message[:strings.Index(message, "; ")+2] }
