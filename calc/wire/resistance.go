package wire

import (
	"fmt"
	"math"
)

// Material constants of annealed copper.
const (
	// Resistivity at 20 degC in ohm m: 1/58 ohm mm2/m, the International
	// Annealed Copper Standard (IEC 60028; NBS Handbook 100, Copper Wire
	// Tables, 1966; value from memory).
	Resistivity = 1e-6 / 58

	// TemperatureCoefficient of resistance in 1/K, referred to 20 degC (NBS
	// Handbook 100). FAA AC 43.13-1B paragraph 11-66 uses the same slope as
	// 1/254.5, NEC chapter 9 table 8 note 2 as 0.00323 referred to 75 degC.
	TemperatureCoefficient = 0.00393

	// StrandingFactor is the resistance of a stranded AWG conductor over a
	// solid one of the same size. NEC chapter 9 table 8 (uncoated copper, 18
	// to 10 AWG) gives 1.020 to 1.026.
	StrandingFactor = 1.02
)

// maxOhmPerKm is one row of IEC 60228: the greatest resistance at 20 degC of
// plain annealed copper. Zero where the class has no such size.
type maxOhmPerKm struct{ mm2, class1, class5 float64 }

// metricTable holds IEC 60228 table 1 (class 1, solid) and table 3 (class 5,
// flexible). 0.22 and 0.34 mm2 are from DIN VDE 0295 and cable makers' tables,
// which differ by up to 8 %; the greater figure is taken. 6 mm2 and above are
// from memory.
var metricTable = []maxOhmPerKm{
	{0.22, 0, 99},
	{0.34, 0, 57},
	{0.5, 36.0, 39.0},
	{0.75, 24.5, 26.0},
	{1, 18.1, 19.5},
	{1.5, 12.1, 13.3},
	{2.5, 7.41, 7.98},
	{4, 4.61, 4.95},
	{6, 3.08, 3.30},
	{10, 1.83, 1.91},
	{16, 1.15, 1.21},
	{25, 0.727, 0.780},
	{35, 0.524, 0.554},
	{50, 0.387, 0.386},
	{70, 0.268, 0.272},
	{95, 0.193, 0.206},
	{120, 0.153, 0.161},
}

// Excess of an IEC 60228 limit over ideal copper of the nominal area: the
// greatest among 0.5 to 4 mm2, rounded up.
const (
	class1Excess = 1.08 // 2.5 mm2: 7.41 * 2.5 / 17.241 = 1.074
	class5Excess = 1.16 // 2.5 mm2: 7.98 * 2.5 / 17.241 = 1.157
)

// Resistance returns the resistance of one conductor in ohms per metre at a
// temperature in degC.
//
//	R(T) = R20 * (1 + 0.00393 * (T - 20))
//
// R20 of an AWG size is Resistivity / Area, times StrandingFactor when
// stranded. R20 of a metric size is the greatest that IEC 60228 allows: class
// 5 when stranded, class 1 when solid. A metric size that the standard does
// not list is taken as 1.16 (stranded) or 1.08 (solid) times ideal copper,
// which is on the safe side, and never outside the two listed sizes that
// enclose it, so that a thicker conductor never has more resistance.
//
// It fails for a gauge that Check refuses and for a temperature outside -60 to
// 250 degC, where the straight line is no longer a good fit.
func Resistance(g Gauge, stranded bool, tempC float64) (ohmPerMetre float64, err error) {
	if err := g.Check(); err != nil {
		return 0, err
	}
	if !(tempC >= -60 && tempC <= 250) {
		return 0, fmt.Errorf("wire: conductor temperature %g degC is outside -60 to 250 degC", tempC)
	}
	r20 := Resistivity / g.Area()
	switch {
	case !g.AWG:
		r20 = metricResistance(g.Section, stranded)
	case stranded:
		r20 *= StrandingFactor
	}
	return r20 * (1 + TemperatureCoefficient*(tempC-20)), nil
}

// metricResistance returns the greatest resistance at 20 degC in ohms per
// metre of a metric size in m2.
func metricResistance(section float64, stranded bool) float64 {
	excess := class1Excess
	if stranded {
		excess = class5Excess
	}
	most, least := math.Inf(1), 0.0 // of the listed sizes around section
	for _, row := range metricTable {
		ohm := row.class1
		if stranded {
			ohm = row.class5
		}
		if ohm == 0 {
			continue
		}
		ohm, listed := ohm*1e-3, row.mm2*1e-6
		if math.Abs(listed-section) <= closeArea*section {
			return ohm
		}
		if listed < section {
			most = ohm
		} else {
			least = ohm
			break
		}
	}
	return math.Min(most, math.Max(least, excess*Resistivity/section))
}

// Side returns the resistance in ohms of one side of a lead: conductors of a
// length in m side by side, each with its contacts at both ends, in ohms.
//
//	R = (R' * L + contacts) / parallel
func Side(ohmPerMetre, metres, contacts float64, parallel int) float64 {
	return (ohmPerMetre*metres + contacts) / float64(parallel)
}
