package quantity

import (
	"fmt"
	"math"
	"strings"
)

// The thickest and the thinnest American wire gauge, 4/0 and 56 (ASTM B258).
const (
	ThickestAWG = -3
	ThinnestAWG = 56
)

// AWGArea is the cross-section in m2 of AWG number n (0 is 1/0, -1 is 2/0):
// d = 0.005 in * 92^((36-n)/39), ASTM B258. Unlike the printed tables it is
// not rounded to 0.1 mil.
func AWGArea(n float64) float64 {
	d := 0.005 * inch * math.Pow(92, (36-n)/39)
	return math.Pi / 4 * d * d
}

// AWGNumber is the inverse of AWGArea, not rounded.
func AWGNumber(area float64) float64 {
	d := math.Sqrt(area * 4 / math.Pi)
	return 36 - 39*math.Log(d/(0.005*inch))/math.Log(92)
}

// AWGName writes a number as the trade does: "18", "2/0".
func AWGName(n int) string {
	if n <= 0 {
		return fmt.Sprintf("%d/0", 1-n)
	}
	return fmt.Sprint(n)
}

// AWG reports whether the unit is the American wire gauge, in whose numbers no
// factor counts.
func (u Unit) AWG() bool { return strings.EqualFold(u.Symbol, "AWG") }

// wholeAWG is an error for a number that is no size.
func wholeAWG(n float64, written string) error {
	if n == math.Trunc(n) && n >= ThickestAWG && n <= ThinnestAWG {
		return nil
	}
	return &Error{Kind: ErrRange, Number: written, Unit: "AWG",
		Message: fmt.Sprintf("%s AWG is no size; the sizes are whole numbers from %s AWG, the thickest, to %s AWG", written, AWGName(ThickestAWG), AWGName(ThinnestAWG))}
}
