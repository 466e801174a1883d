package figures

import (
	"math"

	"ohmstead/calc/pixels"
	"ohmstead/schema"
)

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
		if over := pt.Distance.SI - math.Max(run.Length, run.StripLength()); over > pixels.Tolerance*run.Counted.Interval() {
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
