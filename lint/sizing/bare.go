package sizing

import (
	"math"

	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// thinnestUsual is the thinnest conductor that power leads are usually made of, for the
// sake of the hands and the wall (common practice, no source).
var thinnestUsual = wire.AWG(22).Area() * (1 - 1e-6)

// wantsFuse reports whether a lead that has no fuse, and that a draft brings or makes of
// another wire, needs one: what a fault drives into it where it begins is more than the
// wire carries that would be taken for its load. A wire so thick that the fault does not
// hurt it passes every rule, and may weigh less than the fuse counts for; but nobody takes
// 12 AWG to a board that draws a quarter of an ampere. So this is a rule of the
// search, whatever copper and fuses cost. What the plan itself says without a fuse stays.
func (d *Draft) wantsFuse(f *figures.Figures, faults *figures.Faults, l *figures.Lead) bool {
	if !l.OK || !l.Plus() || l.Fused() || !d.allowed(Fuses) {
		return false
	}
	if b, ok := d.plan.Find(l.ID()); ok && !d.said(schema.HeaderOf(b).Node, "wire") {
		return false
	}
	least, load := math.Inf(1), LoadOf(f, l)
	for _, x := range gauges(f, l, true) {
		if x.gauge.Area() >= thinnestUsual && x.ampacity >= load*(1-1e-9) {
			least = math.Min(least, x.ampacity)
		}
	}
	return faults.Lead(l).Amps > least*(1+1e-9)
}
