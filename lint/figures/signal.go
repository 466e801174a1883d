package figures

import (
	"math"
	"strings"

	"ohmstead/schema"
)

// DataEasy is how far a data line goes without further thought, m: "a metre or
// two is usually no problem" (common practice, no source).
const DataEasy = 2.0

// DataReach is the longest data line between two chips, or from a controller to
// the first chip, that the chip's maker allows without an added circuit, m.
//
// 10 m for WS2811 and 5 m for WS2812B and WS2815 (their datasheets, typical
// application); the shorter figure is taken for every other chip.
func DataReach(s *schema.Strip) float64 {
	if s.Chip.Known() && strings.HasPrefix(strings.ToUpper(s.Chip.V), "WS2811") {
		return 10
	}
	return 5
}

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

// OutputSure is the share of its supply that an output of a 3.3 V
// microcontroller is guaranteed to reach under load: 2.62 V of 3.3 V (RP2040
// Datasheet, table of IO characteristics), 0.8 VDD (ESP32 datasheet, from
// memory). Unloaded, an output reaches nearly all of it.
const OutputSure = 2.62 / 3.3

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

// ShareOf is a share of a voltage, V.
func ShareOf(share, volts float64) float64 { return share * volts }
