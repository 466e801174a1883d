package sizing

import (
	"cmp"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
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
		grams += gramsOf(l, l.Gauge)
		parts++
		if l.Fused() {
			parts++
		}
	}
	return grams, parts + len(f.Plan.Joints) + len(f.Plan.Supplies)
}

// gramsOf is the copper of a lead of a size.
func gramsOf(l *figures.Lead, g wire.Gauge) float64 { return g.Area() * conductors(l) * copper * 1000 }

func costOf(before, after *figures.Figures, work int) cost {
	g0, p0 := goods(before)
	g1, p1 := goods(after)
	return cost{grams: g1 - g0, parts: p1 - p0, work: work}
}

func (m Mended) cost(before *figures.Figures) cost { return costOf(before, m.Figures, m.work()) }

// partGrams is how much copper a part counts for where there are no prices:
// a rough parity of prices (common practice, no source).
const partGrams = 30

func (c cost) weight() float64 { return c.grams + partGrams*float64(c.parts) }

func compare(a, b cost) int {
	return cmp.Or(cmp.Compare(a.weight(), b.weight()), cmp.Compare(a.work, b.work))
}

// More says what a plan needs more than another: "60 g of copper and 2 parts more",
// "" for nothing.
func More(before, after *figures.Figures) string {
	c := costOf(before, after, 0)
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
