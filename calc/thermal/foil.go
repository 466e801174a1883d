package thermal

import "math"

// FoilAmps returns the current in A that warms a flat copper conductor on an
// outer layer by rise K above the air, by the curve of IPC-2221 section 6.2
// (from memory):
//
//	I = 0.048 rise^0.44 A^0.725, A in square mil
//
// The cross-section follows from the resistance of the copper in ohm/m, of
// 1.72e-8 ohm m. It is 0 for values that are not positive.
func FoilAmps(ohmsPerMetre, rise float64) float64 {
	if !(ohmsPerMetre > 0) || !(rise > 0) {
		return 0
	}
	const copper, mil = 1.72e-8, 25.4e-6 // ohm m, m
	return 0.048 * math.Pow(rise, 0.44) * math.Pow(copper/ohmsPerMetre/(mil*mil), 0.725)
}
