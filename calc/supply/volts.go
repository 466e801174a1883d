package supply

import "math"

// OverVoltage is the share of its nominal voltage that a strip or board stands
// when its own limit is not known (common practice, no source: 12 V parts on a
// 13.2 V set-point).
const OverVoltage = 1.1

// UnderVoltage is the share of a stated input voltage down to which a board
// still starts (common practice, no source).
const UnderVoltage = 0.9

// Suits reports whether a voltage lies within OverVoltage and UnderVoltage of
// the nominal one that a part is made for, V.
func Suits(nominal, volts float64) bool {
	return volts <= nominal*OverVoltage && volts >= nominal*UnderVoltage
}

// RatingFor returns the rating in A that a supply needs so that a load in A
// takes no more than a share of what derating leaves of it, rounded up to whole
// amperes.
func RatingFor(load, share, left float64) float64 { return math.Ceil(load/(share*left) - 1e-9) }
