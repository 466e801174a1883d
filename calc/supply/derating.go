// Package supply knows direct-current supplies: what is left of a rating in
// the heat, and how much a supply can feed into a fault.
package supply

import (
	"fmt"
	"math"
)

// Share returns the share of its rating that a supply can give at an ambient
// temperature, when it loses perDegree of the rating for each degree above
// fromC:
//
//	share = 1 - perDegree * (ambientC - fromC), between 0 and 1
//
// It fails for values that are not finite and for a negative perDegree.
func Share(ambientC, fromC, perDegree float64) (float64, error) {
	if err := finite("ambient temperature", ambientC); err != nil {
		return 0, err
	}
	if err := finite("start of derating", fromC); err != nil {
		return 0, err
	}
	if !(perDegree >= 0) || math.IsInf(perDegree, 0) {
		return 0, fmt.Errorf("supply: derating of %g of the rating per degree is not a share of 0 or more", perDegree)
	}
	return math.Max(0, 1-perDegree*math.Max(0, ambientC-fromC)), nil
}

func finite(what string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("supply: %s %g is not finite", what, v)
	}
	return nil
}
