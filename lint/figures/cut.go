package figures

import (
	"math"

	"ohmstead/calc/pixels"
	"ohmstead/schema"
)

// DarkEnd is the length behind the last cut, m, that shows as a dark end where
// the rest of the run is lit (common practice, no source).
const DarkEnd = 0.025

// CutSlack is the least leftover worth telling of a length that was written
// down, m: finer than anyone cuts and fits (common practice, no source).
const CutSlack = 0.002

// Drawn reports whether the run's geometry is drawn, rather than a length that
// the maker can change freely.
func (run *Run) Drawn() bool { return run.Path != nil }

// WholeCut reports whether a strip of n pixels ends at a pad.
func (run *Run) WholeCut(n int) bool { return n%run.Counted.PerInterval() == 0 }

// Beyond is how far a place lies behind the end of the run, m; 0 for a place
// on it.
func (run *Run) Beyond(pt *schema.Point) float64 {
	switch pt.Where {
	case schema.AtDistance:
		if over := pt.Distance.SI - math.Max(run.Length, run.Reach()); over > pixels.Tolerance*run.Counted.Interval() {
			return over
		}
	case schema.AtPixel:
		if pt.Pixel > run.Pixels {
			return float64(pt.Pixel-run.Pixels) * run.Pitch
		}
	}
	return 0
}

// LengthFor is the length of a number of pixels, m.
func (run *Run) LengthFor(n int) float64 { return float64(n) * run.Pitch }

// Spacing is the distance from LED to LED on a strip, m.
func Spacing(s *schema.Strip) float64 { return 1 / s.Density.V.SI }

// Far reports whether a place moved to its pad by more than a quarter pitch:
// worth telling.
func (run *Run) Far(s Snap) bool { return math.Abs(s.Moved) > run.Pitch/4*(1+1e-9) }

// PixelAt is the pixel behind a pad, counted from 0.
func (run *Run) PixelAt(s Snap) int { return int(math.Round(s.At / run.Pitch)) }

// BlendDepth is how far from the LEDs an opal face must be for their light to
// run together, m: 0.7 of their distance, the lower end of the trade's rule of
// once the distance, give or take 30 % (common practice, no source).
func BlendDepth(s *schema.Strip) float64 { return 0.7 * Spacing(s) }
