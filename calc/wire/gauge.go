// Package wire knows round copper conductors: their sizes, their resistance
// and the current that they may carry.
//
// Lengths are metres, areas square metres, temperatures degrees Celsius,
// resistances ohms. The figures help to plan; the code in force where the work
// is done decides.
package wire

import (
	"fmt"
	"math"
	"strconv"
	"sync"

	"ohmstead/calc/quantity"
)

// Gauge is the size of a conductor. It is comparable, so == asks whether two
// sizes were declared alike; the zero Gauge is no size and every function
// refuses it.
type Gauge struct {
	AWG     bool    // the size is an American wire gauge number
	Number  int     // the gauge number if AWG: 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0
	Section float64 // the nominal cross section in m2 if not AWG
}

// AWG returns the American wire gauge n; 0 is 1/0, -1 is 2/0, -2 is 3/0 and
// -3 is 4/0.
func AWG(n int) Gauge { return Gauge{AWG: true, Number: n} }

// Metric returns the metric size with a nominal cross section in m2.
func Metric(section float64) Gauge { return Gauge{Section: section} }

// Of returns the size that a cross section was written as: an AWG number, or a
// metric size. What was worked out from AWG sizes and is none itself is taken by
// its area.
func Of(q quantity.Quantity) Gauge {
	if n := quantity.AWGNumber(q.SI); q.Unit.AWG() && math.Abs(n-math.Round(n)) < 1e-3 {
		return AWG(int(math.Round(n)))
	}
	return Metric(q.SI)
}

// The sizes that the functions of this package accept, beside the AWG numbers.
const (
	thinnestMetric = 1e-9   // m2; far below any lead
	thickestMetric = 2.5e-3 // m2; the end of IEC 60228
)

// Check returns an error that names the size and the limit if the gauge is
// outside 4/0 to 56 AWG or 0.001 to 2500 mm2.
func (g Gauge) Check() error {
	if g.AWG {
		if g.Number < quantity.ThickestAWG || g.Number > quantity.ThinnestAWG {
			return fmt.Errorf("wire: gauge %d is outside %s to %s", g.Number, AWG(quantity.ThickestAWG), AWG(quantity.ThinnestAWG))
		}
		return nil
	}
	if !(g.Section >= thinnestMetric && g.Section <= thickestMetric) {
		return fmt.Errorf("wire: cross section %s is outside %s to %s", g, Metric(thinnestMetric), Metric(thickestMetric))
	}
	return nil
}

// Diameter returns the diameter in metres of a solid round conductor of this
// size.
func (g Gauge) Diameter() float64 { return math.Sqrt(4 * g.Area() / math.Pi) }

// Area returns the cross section in m2: quantity.AWGArea for AWG, the nominal
// one for metric sizes.
func (g Gauge) Area() float64 {
	if !g.AWG {
		return g.Section
	}
	if n := g.Number - quantity.ThickestAWG; n >= 0 && n < len(awgAreas) {
		return awgAreas[n]
	}
	return quantity.AWGArea(float64(g.Number))
}

// awgAreas are those of all American sizes: each is a power, and ampacities and lists ask for them all the time.
var awgAreas = func() (areas [quantity.ThinnestAWG - quantity.ThickestAWG + 1]float64) {
	for i := range areas {
		areas[i] = quantity.AWGArea(float64(i + quantity.ThickestAWG))
	}
	return areas
}()

// String returns the size as the trade writes it: "18 AWG", "2/0 AWG",
// "0.75 mm2".
func (g Gauge) String() string {
	if g.AWG {
		return quantity.AWGName(g.Number) + " AWG"
	}
	// The detour over text rids 0.75e-6 * 1e6 of its last binary digits.
	return strconv.FormatFloat(g.Section*1e6, 'g', 6, 64) + " mm2"
}

// standardAWG and standardMetric hold the sizes that leads are commonly sold
// in, thin to thick (common practice, no source).
var (
	standardAWG    = []int{30, 28, 26, 24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3}
	standardMetric = []float64{0.14, 0.25, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120} // mm2
)

// standard is the sizes of both systems, by whether that is AWG, with their areas: thin to thick.
var standard = sync.OnceValue(func() map[bool][]sized {
	out := map[bool][]sized{}
	for _, n := range standardAWG {
		out[true] = append(out[true], sized{AWG(n), AWG(n).Area()})
	}
	for _, mm2 := range standardMetric {
		out[false] = append(out[false], sized{Metric(mm2 * 1e-6), mm2 * 1e-6})
	}
	return out
})

type sized struct {
	Gauge
	area float64 // m2
}

// Standard returns the sizes that leads are commonly sold in, from thin to
// thick: even AWG numbers and those from 1 AWG on, or metric cross sections.
func Standard(awg bool) []Gauge {
	var all []Gauge
	for _, g := range standard()[awg] {
		all = append(all, g.Gauge)
	}
	return all
}

// Thicker returns the next thicker size of the same system that is commonly
// sold, or false if there is none.
func Thicker(g Gauge) (Gauge, bool) {
	area := g.Area() * (1 + closeArea)
	for _, next := range standard()[g.AWG] {
		if next.area > area {
			return next.Gauge, true
		}
	}
	return Gauge{}, false
}

// closeArea is the share by which two cross sections may differ and still be
// the same size: enough for the rounding of unit conversions, far less than
// the step between sizes.
const closeArea = 1e-6
