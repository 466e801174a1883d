package thermal

import "math"

const (
	foilOhmMetre = 1.72e-8 // of copper
	mil          = 25.4e-6 // m
)

// FoilLimit is how warm the copper of a strip may be for long, degC: what acrylic tape stands for good, 70 to 90 degC
// (a tape maker's figure, from memory). The strip's film, silicone and the plastics of channels stand as much.
const FoilLimit = 70

// FoilFlash is how warm it may be for seconds while a fuse opens, degC: the final temperature of IEC 60364-4-43 (434.5.2)
// for thermosetting insulation, about that at which a strip was soldered.
const FoilFlash = 250

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

// FoilFlashAmps is the current in A that brings copper from an ambient temperature to FoilFlash within a time
// in s, with all heat kept in it:
//
//	I = A sqrt(log10((Tm - Ta) / (234 + Ta) + 1) / (33 t)), A in circular mil
//
// It is Onderdonk's equation with another final temperature than that of melting; good for less than 10 s, and
// on the safe side for longer. It is 0 for values that are not positive and in air as warm.
func FoilFlashAmps(ohmsPerMetre, ambient, seconds float64) float64 {
	return flashAmps(ohmsPerMetre, ambient, FoilFlash, seconds)
}

func flashAmps(ohmsPerMetre, ambient, most, seconds float64) float64 {
	if !(ohmsPerMetre > 0) || !(seconds > 0) || !(ambient > -234) || !(most > ambient) {
		return 0
	}
	area := foilOhmMetre / ohmsPerMetre / (mil * mil) * 4 / math.Pi
	return area * math.Sqrt(math.Log10((most-ambient)/(234+ambient)+1)/(33*seconds))
}
