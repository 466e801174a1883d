package figures

import (
	"math"

	"ohmstead/schema"
)

// SignalLength is how long a signal's conductor is, m: as written, else as the
// lead whose cable it shares, else the distance of its two places with the
// policy's slack. ok is false where none of them is known.
func (f *Figures) SignalLength(s *schema.Signal) (length float64, estimated, ok bool) {
	if s.Length.Set {
		return s.Length.V.SI, false, !s.Length.Bad
	}
	if s.Within.Known() && s.Within.V != nil {
		l, ok := f.leads[s.Within.V]
		return lengthOf(l, ok)
	}
	if !s.From.Known() || !s.To.Known() || s.From.V == nil || s.To.V == nil {
		return 0, false, false
	}
	d, ok := f.distance(s.From.V, s.To.V)
	return d * (1 + f.Plan.Limits().Slack), true, ok
}

func lengthOf(l *Lead, ok bool) (float64, bool, bool) {
	if !ok || !l.OK {
		return 0, false, false
	}
	return l.Length, l.Estimated, true
}

// LiveVolts is, for each run whose plus is joined to a supply, the most that
// its pixels can see, V: the supply's voltage, for with little lit nothing is
// lost on the way.
func (f *Figures) LiveVolts() map[*Run]float64 {
	g := newGroups()
	key := func(pt *schema.Point) string {
		if pt.Supply != nil {
			return outputKey(pt.Supply, pt.Output)
		}
		return schema.HeaderOf(pt.Block()).ID()
	}
	for _, l := range f.Leads {
		if l.OK && l.Plus() {
			g.join(key(l.From.V), key(l.To.V))
		}
	}
	volts := map[string]float64{}
	for _, s := range f.Plan.Supplies {
		if !s.Output.Known() || s.Trim.Bad || !s.Outputs.Known() {
			continue
		}
		for n := range s.Outputs.V {
			root := g.root(outputKey(s, n+1))
			volts[root] = math.Max(volts[root], s.Volts())
		}
	}
	out := map[*Run]float64{}
	for _, r := range f.Runs {
		if v := volts[g.root(r.ID())]; v > 0 {
			out[r] = v
		}
	}
	return out
}
