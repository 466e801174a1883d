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

// Pads are the distances of all pads from the start, m, both ends included.
func (r Run) Pads() []float64 {
	pads := make([]float64, r.Intervals+1)
	for i := range pads {
		pads[i] = r.pad(i)
	}
	return pads
}

func (r Run) pad(i int) float64 { return float64(i*r.Cut) / r.Density }

// Place is the distance of pixel k from the start, m: (k + 1/2) pitch. k is
// counted from 0 and must be below Pixels.
func (r Run) Place(k int) (float64, error) {
	if k < 0 || k >= r.Pixels {
		return 0, fmt.Errorf("pixel %d is not on the run: 0 to %d", k, r.Pixels-1)
	}
	return (float64(k) + 0.5) * r.Pitch(), nil
}

// Snap is the pad nearest to a wished place.
type Snap struct {
	Pad   int     // counted from 0
	Pixel int     // first pixel after the pad; Pixels at the end of the run
	At    float64 // m from the start
	Moved float64 // m from the wished place to the pad; negative is towards the start
	Far   bool    // moved by more than a quarter pitch: worth telling
}

// Nearest is the pad nearest to a distance from the start of the run, m, which
// must lie on the run, its leftover included. Midway it takes the pad nearer
// to the start.
func (r Run) Nearest(distance float64) (Snap, error) {
	end := max(r.Length, r.Lower)
	if !(distance >= 0 && distance <= end+Tolerance*r.Interval()) {
		return Snap{}, quantity.Say("distance %s is not on the run: 0 to %s", metresAgainst(distance, end), metres(end))
	}
	return r.snap(distance), nil
}

// Before is the pad nearest to the start of pixel k, counted from 0; k =
// Pixels is the end of the run. On a strip with one pixel between pads it is
// the pad before that pixel.
func (r Run) Before(k int) (Snap, error) {
	if k < 0 || k > r.Pixels {
		return Snap{}, fmt.Errorf("pixel %d is not on the run: 0 to %d, the last being its end", k, r.Pixels)
	}
	return r.snap(float64(k*r.Group) / r.Density), nil
}

func (r Run) snap(at float64) Snap {
	// A billionth off the half keeps a rounded midway on the lower side.
	i := int(math.Ceil(at/r.Interval() - 0.5 - 1e-9))
	i = min(max(i, 0), r.Intervals)
	s := Snap{Pad: i, Pixel: i * r.PerInterval(), At: r.pad(i)}
	s.Moved = s.At - at
	s.Far = math.Abs(s.Moved) > r.Pitch()/4*(1+1e-9)
	return s
}

func metres(v float64) any               { return quantity.Shown(quantity.Length, v) }
func metresAgainst(v, limit float64) any { return quantity.ShownAgainst(quantity.Length, v, limit) }
