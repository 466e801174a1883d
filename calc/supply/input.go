package supply

// PowerFactor is that of the input of a supply without correction. Common practice, no source: 0.5 to 0.65.
const PowerFactor = 0.6

// Instant is the multiple of a breaker's rating up to which it does not open at once, for
// the quickest usual type (IEC 60898-1, type B: 3 to 5; from memory).
const Instant = 3.0

// InputAmps is the current from the mains, A, of a supply that gives watts:
//
//	I = P / (efficiency V factor)
//
// efficiency and power factor are shares above 0 to 1, V in volts.
func InputAmps(watts, efficiency, volts, factor float64) float64 {
	return watts / (efficiency * volts * factor)
}
