package wire

import (
	"fmt"
	"math"
)

// rating is the current in A that a size may carry all day.
type rating struct{ size, amps float64 }

// The default ratings are the low end of what is published for copper wires,
// thick to thin. One 0.82 mm2 wire is rated from 2.3 A (transformer winding
// rule) to 16 A (lone wire in open air), depending on who asks.
var (
	// 8 AWG and thicker: NFPA 70 (NEC) table 310.16, the 60 degC column, up to
	// three loaded conductors at 30 degC: the lowest of the three columns, and
	// the one that terminals up to 100 A are marked for (110.14(C), from
	// memory). 14 to 10 AWG: NFPA 70 240.4(D), the greatest overcurrent
	// protection. 18 and 16 AWG: NFPA 70 table 402.5, fixture wires. 20 AWG
	// and thinner have no building-code figure: NFPA 79 table 12.5.1 (from
	// memory).
	awgRatings = []rating{
		{-3, 195}, {-2, 165}, {-1, 145}, {0, 125}, {1, 110}, {2, 95}, {3, 85}, {4, 70}, {6, 55}, {8, 40},
		{10, 30}, {12, 20}, {14, 15}, {16, 8}, {18, 6}, {20, 5}, {22, 3}, {24, 2}, {26, 1}, {28, 0.8}, {30, 0.5},
	}

	// 1.5 mm2 and thicker: IEC 60204-1 table 6, method B2 (in conduit: the
	// lowest of its four methods), 40 degC ambient, 70 degC conductor; 50 mm2
	// and thicker from memory. Thinner: the AWG size at or just below.
	metricRatings = []rating{
		{120, 179}, {95, 156}, {70, 130}, {50, 103}, {35, 86}, {25, 70}, {16, 54}, {10, 40}, {6, 30},
		{4, 23}, {2.5, 17}, {1.5, 13}, {1, 8}, {0.75, 6}, {0.5, 5},
	}
)

// BaseAmpacity returns the default continuous current in A of a conductor
// before any correction for ambient temperature. A size that the table does
// not list takes the figure of the next thinner one listed; metric sizes below
// 0.5 mm2 that of the AWG size at or just below. Sizes thinner than 30 AWG
// have no figure and give an error, and so does a gauge that Check refuses.
//
// The figures are for a single pair; bundles carry less, see GroupingFactor.
func BaseAmpacity(g Gauge) (amps float64, err error) {
	if err := g.Check(); err != nil {
		return 0, err
	}
	if !g.AWG {
		for _, r := range metricRatings {
			if g.Section >= r.size*1e-6*(1-closeArea) {
				return r.amps, nil
			}
		}
	}
	for _, r := range awgRatings {
		if g.AWG && float64(g.Number) <= r.size || !g.AWG && g.Section >= AWG(int(r.size)).Area()*(1-closeArea) {
			return r.amps, nil
		}
	}
	return 0, fmt.Errorf("wire: no ampacity is known for %s; the thinnest size with one is %s", g, AWG(30))
}

// WithoutOne returns what n conductors side by side, each of which carries amps
// alone, carry when one of them is loose, A; pairs lie together before that. The
// loose one warms nothing, so a pair fewer counts for the bundle.
func WithoutOne(amps float64, n, pairs int) (float64, error) {
	factor, err := GroupingFactor(max(pairs-1, 1))
	return amps * factor * float64(n-1), err
}

// InsulationTemperature is the conductor temperature in degC that ordinary PVC
// insulation stands continuously (IEC 60204-1).
const InsulationTemperature = 70

// tableRise is the temperature rise in K that the default ratings allow: 40
// to 70 degC in IEC 60204-1 table 6, 30 to 60 degC in the 60 degC column of NEC
// table 310.16, where 240.4(D) is its figure too.
const tableRise = 30

// AmbientFactor returns the share of the default ampacity of a size that is left
// at an ambient temperature, for insulation that stands insulationC:
//
//	f = sqrt((insulationC - ambientC) / 30 K), at most 1; 0 within LeastReserve
//
// Heat grows with the square of the current, and the default ratings allow a
// rise of 30 K. For metric sizes with 70 degC insulation this is the table of IEC
// 60204-1 for ambients of 40 degC and above; below that the published factor rises
// to 1.15 and this one stays at 1, on the safe side. AWG sizes below 14 have one
// figure whatever their insulation, in air of 30 degC (NEC table 402.5), so for
// them it is StatedFactor (NEC 310.15(B)(1)). It fails for temperatures outside
// -60 to 250 degC.
func AmbientFactor(g Gauge, ambientC, insulationC float64) (float64, error) {
	if g.AWG && g.Number > 14 {
		return StatedFactor(ambientC, insulationC)
	}
	if err := checkTemperatures(ambientC, insulationC); err != nil {
		return 0, err
	}
	return math.Min(1, heatFactor(ambientC, insulationC, insulationC-tableRise)), nil
}

func checkTemperatures(degC ...float64) error {
	for _, t := range degC {
		if !(t >= -60 && t <= 250) {
			return fmt.Errorf("wire: temperature %g degC is outside -60 to 250 degC", t)
		}
	}
	return nil
}

// statedAmbient is the air temperature in degC that a maker's figure for the
// current of a wire holds at where its sheet says nothing else: the reference
// of IEC 60364-5-52 (523.2) and of NFPA 70 (NEC) table 310.16.
const statedAmbient = 30

// StatedFactor returns the share of an ampacity from a maker's sheet that is
// left at an ambient temperature, for insulation that stands insulationC:
//
//	f = sqrt((insulationC - ambientC) / (insulationC - 30 degC)), at most 1; 0 within LeastReserve
//
// It is the ambient table of IEC 60364-5-52 (B.52.14). Insulation that stands
// 30 degC or less leaves nothing above that. It fails as AmbientFactor does.
func StatedFactor(ambientC, insulationC float64) (float64, error) {
	if err := checkTemperatures(ambientC, insulationC); err != nil {
		return 0, err
	}
	switch {
	case ambientC <= statedAmbient:
		return 1, nil
	case insulationC <= statedAmbient:
		return 0, nil
	}
	return heatFactor(ambientC, insulationC, statedAmbient), nil
}

// LeastReserve is how far in K the air stays below what insulation stands, so that any current is left: the published tables of
// factors end there or earlier. NEC 310.15(B)(1) ends at 55, 70 and 85 degC for 60, 75 and 90 degC insulation, IEC 60364-5-52
// table B.52.14 at 60 degC for 70.
const LeastReserve = 5

// heatFactor returns the current, as a share of that at the base ambient
// temperature, which heats a conductor to its limit at another ambient; 0 where
// no table has a figure.
func heatFactor(ambientC, limitC, baseC float64) float64 {
	if ambientC > limitC-LeastReserve {
		return 0
	}
	return math.Sqrt(math.Max(0, limitC-ambientC) / (limitC - baseC))
}

// column75 is what a conductor of 1/0 AWG and thicker carries whose insulation
// stands 75 degC: NFPA 70 (NEC) table 310.16 at 30 degC. Its terminals are marked
// for that column; up to 1 AWG only those that say so are (110.14(C), from memory).
var column75 = []rating{{-3, 230}, {-2, 200}, {-1, 175}, {0, 150}}

// Ampacity returns the current in A that a conductor with insulation that
// stands insulationC may carry continuously: BaseAmpacity times AmbientFactor.
// An insulation that stands more than ordinary PVC earns no more than the table,
// but for 1/0 AWG and thicker; one that stands less gets less; in air about as warm as
// it stands it gets 0. Errors are those of the two.
func Ampacity(g Gauge, ambientC, insulationC float64) (amps float64, err error) {
	base, err := BaseAmpacity(g)
	if err != nil {
		return 0, err
	}
	if insulationC >= 75 && g.AWG {
		for _, r := range column75 {
			if float64(g.Number) <= r.size {
				factor, err := StatedFactor(ambientC, 75)
				return r.amps * factor, err
			}
		}
	}
	factor, err := AmbientFactor(g, ambientC, math.Min(insulationC, InsulationTemperature))
	return base * factor, err
}
