// Package thermal works out what warms and what grows: the heat of a run per
// metre and the expansion of a diffuser.
package thermal

import (
	"fmt"
	"math"
)

// Coefficients of linear thermal expansion, 1/K.
const (
	// Silicone is that of a silicone elastomer, 270e-6 1/K, ±10 %. Source:
	// Callister and Rethwisch, Fundamentals of Materials Science and
	// Engineering, 3rd ed., appendix B, table B.6. Rigid "silicone plastic" is
	// listed elsewhere at 35e-6 and is another material.
	Silicone = 270e-6
	// Aluminium is 23.6e-6 1/K, ±3 %. Source: as Silicone; other tables print
	// 24e-6.
	Aluminium = 23.6e-6
	// Polycarbonate is 65e-6 1/K (38e-6 to 70e-6), Acrylic (PMMA) 70e-6 1/K
	// (34e-6 to 77e-6): the middle of three expansion tables. PVC is 65e-6 1/K
	// (50e-6 to 80e-6, from memory).
	Polycarbonate = 65e-6
	Acrylic       = 70e-6
	PVC           = 65e-6
)

// HeatLimitRise is how much warmer than the air a diffuser is at its heat
// limit, K: what the limits of the catalogue are reckoned with. Common practice,
// no source.
const HeatLimitRise = 20

// PerMetre is the power of a run spread over its length, W/m.
//
//	P' = P / L
//
// P in watts, zero or more; L in metres, more than zero.
func PerMetre(watts, length float64) (float64, error) {
	if err := notNegative("power", watts, "W"); err != nil {
		return 0, err
	}
	if !(length > 0) || math.IsInf(length, 0) {
		return 0, fmt.Errorf("length %g m is out of range: it must be more than 0", length)
	}
	return watts / length, nil
}

// Expansion is how much longer a part gets, m; negative when it is cooled.
//
//	ΔL = α L ΔT
//
// α in 1/K, L in metres, ΔT in kelvin. Holds while α is about constant: some
// tens of kelvin around room temperature. Source: the definition of α;
// Callister and Rethwisch, Fundamentals of Materials Science and Engineering,
// 3rd ed., section 17.3 (from memory).
func Expansion(alpha, length, warmer float64) (float64, error) {
	if err := notNegative("expansion coefficient", alpha, "1/K"); err != nil {
		return 0, err
	}
	if err := notNegative("length", length, "m"); err != nil {
		return 0, err
	}
	if math.IsNaN(warmer) || math.Abs(warmer) > 1000 {
		return 0, fmt.Errorf("temperature change %g K is out of range: -1000 to 1000 K", warmer)
	}
	return alpha * length * warmer, nil
}

func notNegative(what string, v float64, unit string) error {
	if !(v >= 0) || math.IsInf(v, 0) {
		return fmt.Errorf("%s %g %s is out of range: it must be 0 or more", what, v, unit)
	}
	return nil
}
