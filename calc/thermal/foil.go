package thermal

import "math"

const (
	foilOhmMetre = 1.72e-8 // of copper
	mil          = 25.4e-6 // m
)

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
	return 0.048 * math.Pow(rise, 0.44) * math.Pow(foilOhmMetre/ohmsPerMetre/(mil*mil), 0.725)
}

// FoilRise is the rise that a current makes by the same curve, K; 0 for values that are not positive.
func FoilRise(ohmsPerMetre, amps float64) float64 {
	one := FoilAmps(ohmsPerMetre, 1)
	if !(one > 0) || !(amps > 0) {
		return 0
	}
	return math.Pow(amps/one, 1/0.44)
}
