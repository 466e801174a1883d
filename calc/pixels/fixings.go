package pixels

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
)

// EndInset is how far from each end of a run its first and last fixing sit, m:
// near enough that the end does not sag, far enough that the whole clip holds
// it. Common practice, no source.
const EndInset = 0.025

// Fixings are the places of clips along a run, m from its start: one EndInset
// from each end and the others evenly between, no two further apart than
// spacing, m. A run no longer than two insets gets one in its middle.
func Fixings(length, spacing float64) ([]float64, error) {
	if !(length > 0) || math.IsInf(length, 0) {
		return nil, fmt.Errorf("length %g m is out of range: it must be more than 0", length)
	}
	if !(spacing > 0) || math.IsInf(spacing, 0) {
		return nil, fmt.Errorf("spacing %g m is out of range: it must be more than 0", spacing)
	}
	span := length - 2*EndInset
	if span <= 0 {
		return []float64{length / 2}, nil
	}
	// A billionth off keeps a span that is a whole number of spacings from
	// gaining a clip by rounding.
	gaps := max(1, math.Ceil(span/spacing-1e-9))
	if gaps+1 > MaxPixels {
		return nil, quantity.Say("length %s with a fixing each %s takes %.7g fixings: at most %d",
			metres(length), metres(spacing), gaps+1, MaxPixels)
	}
	at := make([]float64, int(gaps)+1)
	for i := range at {
		at[i] = EndInset + span*float64(i)/gaps
	}
	return at, nil
}

// FixingLoad is the mass that the most loaded of the Fixings carries, kg: the
// mass per metre, kg/m, of what hangs over the distance between two of them. Of
// two, each carries half of the run; a single one carries all.
func FixingLoad(massPerMetre, length, spacing float64) (float64, error) {
	at, err := Fixings(length, spacing)
	switch {
	case err != nil:
		return 0, err
	case len(at) < 3:
		return massPerMetre * length / float64(len(at)), nil
	}
	return massPerMetre * (at[1] - at[0]), nil
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
