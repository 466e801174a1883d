package schema

import "ohmstead/calc/quantity"

// Habit is the system of units that the plan is written in: that of most of its
// own lengths.
func (p *Plan) Habit() quantity.Habit {
	imperial, metric := 0, 0
	count := func(lengths ...Value[Quantity]) {
		for _, v := range lengths {
			switch {
			case !v.Set || v.Bad:
			case v.V.Unit.Imperial():
				imperial++
			default:
				metric++
			}
		}
	}
	for _, s := range p.Surfaces {
		count(s.Width, s.Height)
	}
	for _, r := range p.Runs {
		count(r.Length)
	}
	for _, l := range p.Leads {
		count(l.Length)
	}
	for _, s := range p.Signals {
		count(s.Length)
	}
	if imperial > metric {
		return quantity.Imperial
	}
	return quantity.Metric
}
