package sizing

import (
	"cmp"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
)

// copper is its density, kg/m3 (CRC Handbook of Chemistry and Physics, from
// memory: 8960 at 20 degC).
const copper = 8960

// cost is what a change needs, more than the plan as it stands.
type cost struct {
	grams float64 // of copper
	parts int     // leads, fuses, joints, supplies
	work  int     // blocks that are new or say something else
}

// goods is what a plan has of copper in its leads, in g, and of parts.
func goods(f *figures.Figures) (grams float64, parts int) {
	for _, l := range f.Leads {
		sides := 0.0
		for _, is := range []bool{l.Plus(), l.Minus()} {
			if is {
				sides++
			}
		}
		grams += l.Gauge.Area() * l.Length * sides * float64(max(l.Parallel.V, 1)) * copper * 1000
		parts++
		if l.Fused() {
			parts++
		}
	}
	return grams, parts + len(f.Plan.Joints) + len(f.Plan.Supplies)
}

func costOf(before *figures.Figures, m Mended) cost {
	g0, p0 := goods(before)
	g1, p1 := goods(m.Figures)
	c := cost{grams: g1 - g0, parts: p1 - p0, work: m.work()}
	return c
}

// partGrams is how much copper a part counts for where there are no prices:
// a rough parity of prices (common practice, no source).
const partGrams = 30

func (c cost) weight() float64 { return c.grams + partGrams*float64(c.parts) }

func compare(a, b cost) int {
	return cmp.Or(cmp.Compare(a.weight(), b.weight()), cmp.Compare(a.work, b.work))
}

// Cost says what a change needs more than the plan has: "60 g of copper and 2
// parts more", "" for nothing.
func (m Mended) Cost(before *figures.Figures) string { return More(before, m.Figures) }

// More says what a plan needs more than another, in copper and parts.
func More(before, after *figures.Figures) string {
	g0, p0 := goods(before)
	g1, p1 := goods(after)
	c := cost{grams: g1 - g0, parts: p1 - p0}
	var more []string
	if c.grams > 0.5 {
		more = append(more, quantity.Show(quantity.Mass, c.grams/1000)+" of copper")
	}
	if c.parts > 0 {
		more = append(more, quantity.Count(c.parts, "part"))
	}
	if len(more) == 0 {
		return ""
	}
	return strings.Join(more, " and ") + " more"
}

// Then says what a run that a finding is about gets with the change: "4.87 V",
// "3.2 A"; "" of anything else.
func (m Mended) Then(target Obstacle) string {
	r, ok := m.Figures.RunNamed(target.Subject)
	if !ok || !r.OK {
		return ""
	}
	if target.volts() && r.Strip.V.MinVoltage.Known() {
		return quantity.Show(quantity.Voltage, m.Figures.WorstVolts(r, r.Strip.V.MinVoltage.V.SI).Value)
	}
	if w, _ := m.Figures.WorstRail(r); w.OK {
		return quantity.Show(quantity.Current, w.Value)
	}
	return ""
}
