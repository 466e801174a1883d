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

// Curve is a derating curve as data sheets draw it: the full rating up to
// FromC, a straight line down to the share Left at ToC, nothing beyond.
// Enclosed supplies are typically flat to 40 or 50 degC and fall to about half
// at 65 to 70 degC (a maker's instruction manual, output derating against
// ambient temperature).
type Curve struct {
	FromC, ToC float64 // degC
	Left       float64 // share of the rating at ToC, 0 to 1
}

// Share returns the share of the rating that is left at an ambient
// temperature:
//
//	1                                              up to FromC
//	1 - (1 - Left) * (ambientC - FromC)/(ToC - FromC)   up to ToC
//	0                                              beyond
//
// It fails unless FromC is below ToC and Left lies between 0 and 1.
func (c Curve) Share(ambientC float64) (float64, error) {
	perDegree, err := c.PerDegree()
	if err != nil {
		return 0, err
	}
	if ambientC > c.ToC {
		return 0, nil
	}
	return Share(ambientC, c.FromC, perDegree)
}

// PerDegree returns the share of the rating lost per degree above FromC. It
// fails like Share.
func (c Curve) PerDegree() (float64, error) {
	if !(c.FromC < c.ToC) || math.IsInf(c.ToC-c.FromC, 0) {
		return 0, fmt.Errorf("supply: derating from %g degC to %g degC does not rise", c.FromC, c.ToC)
	}
	if !(c.Left >= 0 && c.Left <= 1) {
		return 0, fmt.Errorf("supply: share %g left at %g degC is outside 0 to 1", c.Left, c.ToC)
	}
	return (1 - c.Left) / (c.ToC - c.FromC), nil
}

func finite(what string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("supply: %s %g is not finite", what, v)
	}
	return nil
}
