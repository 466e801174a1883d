package pixels

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/quantity"
)

// EndInset is how far from each end of a run its first and last fixing sit, m:
// near enough that the end does not sag, far enough that the whole clip holds
// it. So are the ends on both sides of a corner or a joint. Common practice, no
// source.
const EndInset = 0.025

// What a fixing holds besides the stretch around it.
type Holds string

const (
	Start   Holds = "start"
	End     Holds = "end"
	Corner  Holds = "corner"
	Joint   Holds = "joint" // of two pieces of diffuser
	Bend    Holds = "bend"  // where one begins or ends
	Stretch Holds = "stretch"
)

// Mark is a place of a run that has to be held: a Corner or a Joint by a fixing
// on each side of it, where a Bend begins or ends by one there.
type Mark struct {
	At float64 // m from the start
	Of Holds
}

// Fixing is one that holds a run.
type Fixing struct {
	At      float64 // m from the start
	Carries float64 // m of the run: to halfway to its neighbours, or to the end of its piece
	Of      Holds
}

// Fixings are what holds a run: one EndInset from each end, what its marks ask
// for, and others evenly between, no two further apart than spacing, m, but
// for those on both sides of a corner or a joint. A piece no longer than two
// insets gets one in its middle; a bend that begins within two insets of a
// fixing is held by that one.
func Fixings(length, spacing float64, marks ...Mark) ([]Fixing, error) {
	if !(length > 0) || math.IsInf(length, 0) {
		return nil, fmt.Errorf("length %g m is out of range: it must be more than 0", length)
	}
	if !(spacing > 0) || math.IsInf(spacing, 0) {
		return nil, fmt.Errorf("spacing %g m is out of range: it must be more than 0", spacing)
	}
	if n := length/spacing + 2*float64(len(marks)); n+1 > MaxPixels {
		return nil, quantity.Say("length %s with a fixing each %s takes %.7g fixings: at most %d",
			metres(length), metres(spacing), math.Ceil(n)+1, MaxPixels)
	}
	marks = slices.Clone(marks)
	slices.SortStableFunc(marks, func(a, b Mark) int { return cmp.Compare(a.At, b.At) })
	var out []Fixing
	from := Mark{0, Start}
	var bends []Mark
	for _, m := range append(marks, Mark{length, End}) {
		switch {
		case m.Of == Bend:
			bends = append(bends, m)
		case m.Of == End || m.At > from.At && m.At < length:
			out = piece(out, from, m, bends, spacing)
			from, bends = m, nil
		}
	}
	return out, nil
}

// piece adds the fixings of what lies between two marks.
func piece(out []Fixing, from, to Mark, bends []Mark, spacing float64) []Fixing {
	if to.At-from.At <= 2*EndInset {
		of := from.Of
		if from.Of == Start {
			of = to.Of
		}
		return append(out, Fixing{(from.At + to.At) / 2, to.At - from.At, of})
	}
	first, n := len(out), from.At+EndInset
	out = append(out, Fixing{At: n, Of: from.Of})
	last := Mark{to.At - EndInset, to.Of}
	for _, m := range append(bends, last) {
		if m.Of == Bend && (m.At < n+2*EndInset || m.At > last.At-2*EndInset) {
			continue
		}
		// A billionth off keeps a span that is a whole number of spacings from
		// gaining a clip by rounding.
		gaps := max(1, math.Ceil((m.At-n)/spacing-1e-9))
		for i := 1.0; i < gaps; i++ {
			out = append(out, Fixing{At: n + (m.At-n)*i/gaps, Of: Stretch})
		}
		out, n = append(out, Fixing{At: m.At, Of: m.Of}), m.At
	}
	begin := from.At
	for i := first; i < len(out); i++ {
		end := to.At
		if i+1 < len(out) {
			end = (out[i].At + out[i+1].At) / 2
		}
		out[i].Carries, begin = end-begin, end
	}
	return out
}

// FixingSpacing is the distance between fixings at which each carries no more
// than it holds, kg, of a mass per metre in kg/m: m, rounded down to a
// centimetre.
func FixingSpacing(massPerMetre, holds float64) float64 {
	return math.Floor(holds/massPerMetre*100) / 100
}

// tapeArea is the area of acrylic foam tape that carries a kilogram for good,
// m2/kg: 4 square inches a pound. Source: the usual rule of tape makers for a
// static load (from memory).
const tapeArea = 55e-4

// TapeHolds is the mass per metre, kg/m, that a tape of a width in m along a
// whole run carries for good.
func TapeHolds(width float64) float64 { return width / tapeArea }

// room is the temperature that what a fixing holds is stated for, degC.
const room = 20.0

// WarmMagnet is the share of its pull that a neodymium magnet keeps at a
// temperature in degC: its remanence falls by 0.12 % a kelvin, reversibly up to
// the limit of its grade, and its pull goes with the square. It is no more than
// 1: in the cold nothing is counted on. Source: makers' tables, 0.11 to 0.12 %/K
// (from memory).
func WarmMagnet(degC float64) float64 {
	b := 1 - 0.0012*math.Max(degC-room, 0)
	return math.Max(b, 0) * math.Max(b, 0)
}

// WarmAcrylic is the share of a static load that an acrylic foam tape keeps at
// a temperature in degC: a third at 66 degC and above, in a straight line from
// all of it at room temperature. Source: a tape maker's table, 1500 g at 22
// degC and 500 g at 66 degC on the same area (from memory).
func WarmAcrylic(degC float64) float64 {
	return 1 - 2.0/3*math.Min(math.Max(degC-room, 0)/(66-room), 1)
}
