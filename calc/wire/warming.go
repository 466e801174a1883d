package wire

import "math"

// Hottest is the temperature in degC up to which the resistance of a conductor is followed. One that gets
// there carries far more than it may, and its insulation has gone long before.
const Hottest = 150

// TableWarming returns how far a conductor that carries its default ampacity I0 warms up over the air,
// for each square ampere, K/A2:
//
//	T = Ta + 30 K (I / I0)^2
//
// Heat grows with the square of the current, and the default ratings allow 30 K (from memory; the correction
// factors for warm air in IEC 60364-5-52 table B.52.14 stand on the same). The change of the resistance
// with that heat itself is left out: at the full current it adds 2 K.
func TableWarming(g Gauge) (kelvinPerSquareAmpere float64, err error) {
	amps, err := BaseAmpacity(g)
	return tableRise / (amps * amps), err
}

// StatedWarming is as TableWarming for an ampacity from a maker's sheet, in A, at which insulation that stands
// insulationC gets as warm as that in air of 30 degC.
func StatedWarming(amps, insulationC float64) (kelvinPerSquareAmpere float64) {
	rise := insulationC - statedAmbient
	if rise <= 0 {
		rise = tableRise
	}
	return rise / (amps * amps)
}

// Heat returns by what share the resistance of a conductor in air of ambientC rises for each square ampere,
// 1/A2, and the current at which it reaches Hottest, A. R(T) is that of Resistance.
func Heat(kelvinPerSquareAmpere, ambientC float64) (share, most float64) {
	share = TemperatureCoefficient * kelvinPerSquareAmpere / (1 + TemperatureCoefficient*(ambientC-20))
	return share, math.Sqrt(math.Max(0, Hottest-ambientC) / kelvinPerSquareAmpere)
}
