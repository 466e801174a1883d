package timing

// LowRisk is the greatest percent modulation, as a share of one, that light of a
// frequency in Hz may have at low risk; 1 is switched fully on and off.
//
//	0.025 f below 90 Hz, 0.08 f up to 1250 Hz (each in percent), any above
//
// Source: IEEE 1789-2015, recommended practice 1 (from memory; its 8 % at 100 Hz
// as printed in a lamp maker's help text). The stricter level at which no effect
// is seen, 0.0333 f up to 3000 Hz, is sometimes mistaken for this one.
func LowRisk(hertz float64) float64 {
	switch {
	case hertz < 90:
		return 0.025 * hertz / 100
	case hertz < LowRiskRate:
		return 0.08 * hertz / 100
	}
	return 1
}

// LowRiskRate is the frequency in Hz from which any modulation is of low risk.
const LowRiskRate = 1250
