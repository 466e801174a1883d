package ide

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// fact is one thing that was worked out about a block: as text, or as Markdown of our own. Missing values give no
// facts, never zeros.
type fact struct{ name, text, image string }

type facts []fact

func (fs *facts) add(name, format string, args ...any) {
	*fs = append(*fs, fact{name: name, text: fmt.Sprintf(format, args...)})
}

// loadCase gives the figures of the case of that name, else of the case full.
func (v *View) loadCase(name string) *figures.Case {
	if v.Figures == nil {
		return nil
	}
	if c, ok := v.Figures.Case(name); ok {
		return c
	}
	c, _ := v.Figures.Case(schema.Full)
	return c
}

// facts says what was worked out about a block.
func (v *View) facts(b schema.Block, caseName string) facts {
	if v.Figures == nil || b == nil {
		return nil
	}
	c := v.loadCase(caseName)
	switch b := b.(type) {
	case *schema.PlanHead:
		return v.planFacts()
	case *schema.Strip:
		return v.stripFacts(b)
	case *schema.Wire:
		return v.wireFacts(b)
	case *schema.Board:
		return boardFacts(b)
	case *schema.Supply:
		return v.supplyFacts(b)
	case *schema.Controller:
		return v.controllerFacts(b, c)
	case *schema.Joint:
		return v.jointFacts(b)
	case *schema.Run:
		return v.runFacts(b, c)
	case *schema.Lead:
		return v.leadFacts(b, c)
	case *schema.Signal:
		return v.signalFacts(b)
	case *schema.Order:
		return v.orderFacts(b)
	case *schema.Universes:
		return v.universesFacts(b)
	case *schema.Case:
		return v.caseFacts(b)
	case *schema.Reading:
		return v.readingFacts(b)
	}
	return nil
}

func volts(x float64) string { return quantity.Show(quantity.Voltage, x) }

func amps(x float64) string { return quantity.Show(quantity.Current, x) }

func watts(x float64) string { return quantity.Show(quantity.Power, x) }

func (v *View) metres(x float64) string { return v.Plan.Habit().Show(quantity.Length, x) }

func share(x float64) string { return quantity.Number(100*x, 2) + " %" }

// ofRating says how full a supply is.
func ofRating(load float64) string {
	if math.IsNaN(load) {
		return "of a rating that is not known"
	}
	return share(load) + " of its rating"
}

// byCase joins what is said of each case: "full 9.1 A, held 6 A".
func (v *View) byCase(say func(c *figures.Case) (string, bool)) string {
	var out []string
	for _, c := range v.Figures.Cases {
		if s, ok := say(c); ok {
			out = append(out, c.Name+" "+s)
		}
	}
	return strings.Join(out, ", ")
}
