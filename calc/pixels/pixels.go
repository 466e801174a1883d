// Package pixels counts what fits: pixels and cut points on a length of strip,
// and fixings along a run.
//
// A strip may be cut only at its pads. They sit at 0, cut/density,
// 2 cut/density, … from the start of a run, all in metres along the strip;
// pixel k, counted from 0, sits at (k + 1/2) pitch.
package pixels

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
)

const (
	// Tolerance is the share of a cut interval that a length may fall short
	// and still count as whole: one thousandth, 17 µm at 60 LEDs a metre. It
	// covers lengths converted from inches or added up from parts, and is
	// finer than anyone cuts. Common practice, no source.
	Tolerance = 1e-3
	// MaxPixels is the most pixels in one run; more is taken for a slip.
	MaxPixels = 1_000_000
	// maxDensity in LEDs per metre: ten times the closest strips sold.
	maxDensity = 10_000
)

// Strip holds the facts of a strip product that counting needs.
type Strip struct {
	Density float64 // LEDs per metre
	Group   int     // LEDs that make one pixel, at least 1
	Cut     int     // LEDs between two pads, a whole multiple of Group
}

// Check says whether the facts agree with each other.
func (s Strip) Check() error {
	switch {
	case !(s.Density > 0 && s.Density <= maxDensity):
		return fmt.Errorf("density %g LEDs/m is out of range: above 0, at most %d", s.Density, maxDensity)
	case s.Group < 1 || s.Group > MaxPixels:
		return fmt.Errorf("%d LEDs in a pixel is out of range: 1 to %d", s.Group, MaxPixels)
	case s.Cut < 1 || s.Cut > MaxPixels:
		return fmt.Errorf("%d LEDs between pads is out of range: 1 to %d", s.Cut, MaxPixels)
	case s.Cut%s.Group != 0:
		return fmt.Errorf("%d LEDs between pads splits a pixel of %d LEDs: it must be a whole multiple of %d",
			s.Cut, s.Group, s.Group)
	}
	return nil
}

// Pitch is the distance from pixel to pixel, m: group / density.
func (s Strip) Pitch() float64 { return float64(s.Group) / s.Density }

// Interval is the distance from pad to pad, m: cut / density.
func (s Strip) Interval() float64 { return float64(s.Cut) / s.Density }

// PerInterval is the number of pixels between two pads.
func (s Strip) PerInterval() int { return s.Cut / s.Group }

// Run is a length of strip cut at a pad.
type Run struct {
	Strip
	Length    float64 // m, what was asked for
	Intervals int     // whole cut intervals that fit
	Pixels    int
	Lower     float64 // m, longest cuttable length that fits: where the strip ends
	Upper     float64 // m, shortest cuttable length not below Length; equals Lower where Length is one
	Leftover  float64 // m from the strip's end to the run's end, never below 0
}

// Fit cuts a strip for a run of the given length, m. The strip is rounded down
// to a whole cut interval, within Tolerance. It is an error where the strip's
// facts do not agree, where not even one interval fits, and where there would
// be more than MaxPixels.
func Fit(s Strip, length float64) (Run, error) {
	if err := s.Check(); err != nil {
		return Run{}, err
	}
	if !(length > 0) || math.IsInf(length, 0) {
		return Run{}, fmt.Errorf("length %g m is out of range: it must be more than 0", length)
	}
	cuts := length / s.Interval()
	whole := math.Floor(cuts + Tolerance)
	if whole < 1 {
		return Run{}, quantity.Say("length %s holds no whole cut interval: the shortest cut of this strip is %s",
			metresAgainst(length, s.Interval()), metres(s.Interval()))
	}
	if n := whole * float64(s.PerInterval()); n > MaxPixels {
		return Run{}, quantity.Say("length %s holds %.7g pixels: a run may have at most %d", metres(length), n, MaxPixels)
	}
	r := Run{Strip: s, Length: length, Intervals: int(whole)}
	r.Pixels = r.Intervals * s.PerInterval()
	r.Lower = r.pad(r.Intervals)
	r.Upper = r.Lower
	if cuts-whole > Tolerance {
		r.Upper = r.pad(r.Intervals + 1)
	}
	r.Leftover = max(0, length-r.Lower)
	return r, nil
}

func (r Run) pad(i int) float64 { return float64(i*r.Cut) / r.Density }

// Snap is the pad nearest to a wished place.
type Snap struct {
	Pixel int     // first pixel behind the pad; their number at the end
	At    float64 // m from the start
	Moved float64 // m from the wished place to the pad; negative is towards the start
	Far   bool    // moved by more than a quarter pitch: worth reporting
}

// Nearest is the pad nearest to a distance from the start, m, of a strip of n
// pixels. Midway it takes the pad nearer to the start. What lies beyond an end
// means that end, of which the place is the same to the last digit however it is
// come by: n times the pitch.
func (s Strip) Nearest(distance float64, n int) Snap {
	end := float64(n) * s.Pitch()
	last := math.Max(1, math.Round(end/s.Interval()))
	// A billionth off the half keeps a rounded midway on the lower side.
	at := math.Min(math.Max(math.Ceil(distance/s.Interval()-0.5-1e-9), 0), last) * s.Interval()
	if at > end-1e-6*s.Pitch() {
		at = end
	}
	moved := at - distance
	return Snap{int(math.Round(at / s.Pitch())), at, moved, math.Abs(moved) > s.Pitch()/4*(1+1e-9)}
}

func metres(v float64) any               { return quantity.Shown(quantity.Length, v) }
func metresAgainst(v, limit float64) any { return quantity.ShownAgainst(quantity.Length, v, limit) }
