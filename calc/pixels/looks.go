package pixels

// DarkEnd is the length behind the last cut, m, that shows as a dark end where
// the rest of the run is lit (common practice, no source).
const DarkEnd = 0.025

// CutSlack is the least leftover worth telling of a length that was written
// down, m: finer than anyone cuts and fits (common practice, no source).
const CutSlack = 0.002

// Spacing is the distance from LED to LED, m, of a density in LEDs per metre.
func Spacing(density float64) float64 { return 1 / density }

// BlendDepth is how far from the LEDs an opal face must be for their light to
// run together, m: 0.7 of their spacing in m, the lower end of the trade's rule
// of once the spacing, give or take 30 % (common practice, no source).
func BlendDepth(spacing float64) float64 { return 0.7 * spacing }
