package supply

import (
	"fmt"
	"math"
)

// Voltage limits in V of direct current.
const (
	// TouchVolts is the greatest direct voltage that may be touched when dry:
	// the SELV limit (IEC 60950-1; ES1 in IEC 62368-1).
	TouchVolts = 60

	// WetTouchVolts is the greatest continuous direct voltage where wet
	// contact is likely (NFPA 70 chapter 9 table 11, note 4).
	WetTouchVolts = 30
)

// LeastOverload is the least share of its rating at which a supply's own
// protection surely acts that is believed without its sheet (common practice, no
// source: sheets print ranges such as 105 to 135 % or 110 to 150 %).
const LeastOverload = 1.1

// Limits is what a supply may give and still count as power-limited.
type Limits struct {
	Amps     float64 // greatest output current, A
	VoltAmps float64 // greatest output power, VA
}

// LimitedPower returns the limits of an inherently limited power source of an
// open-circuit direct voltage up to 60 V (IEC 60950-1 table 2B, the same in
// IEC 62368-1 annex Q; those of Class 2 are the same, NFPA 70 chapter 9 table
// 11(A)).
func LimitedPower(volts float64) (Limits, error) {
	switch err := inRange(volts); {
	case err != nil:
		return Limits{}, err
	case volts <= 20:
		return Limits{Amps: 8, VoltAmps: 5 * volts}, nil
	case volts <= 30:
		return Limits{Amps: 8, VoltAmps: 100}, nil
	}
	return Limits{Amps: 150 / volts, VoltAmps: 100}, nil
}

// LimitedRating returns the greatest rating in A that an inherently limited
// power source of a direct voltage up to 60 V can have: that of the power that
// LimitedPower allows, which is 5 A up to 20 V and 100 VA above (IEC 60950-1
// table 2B). Into a short circuit it may give more, up to Limits.Amps.
func LimitedRating(volts float64) (float64, error) {
	l, err := LimitedPower(volts)
	return math.Min(l.Amps, l.VoltAmps/volts), err
}

func inRange(volts float64) error {
	if !(volts > 0 && volts <= TouchVolts) {
		return fmt.Errorf("supply: %g V is outside the range of power-limited supplies, above 0 to %d V", volts, TouchVolts)
	}
	return nil
}

// FaultCurrent returns the greatest current in A that a supply of a rating in
// A can go on feeding into a fault: overload times the rating, where overload
// is the share of the rating at which its own protection surely acts.
//
// A limited power source gives no more than LimitedPower allows. (One that
// relies on a fuse may give more for the moment that its fuse, of 5 A at most,
// takes to open.)
//
// It fails for a rating or an overload that is not positive and finite, and
// for a limited supply above 60 V.
func FaultCurrent(rating, overload, volts float64, limited bool) (amps float64, err error) {
	if !(rating > 0) || math.IsInf(rating, 0) {
		return 0, fmt.Errorf("supply: rating %g A is not a positive current", rating)
	}
	if !(overload > 0) || math.IsInf(overload, 0) {
		return 0, fmt.Errorf("supply: overload %g is not a positive share of the rating", overload)
	}
	amps = overload * rating
	if !limited {
		return amps, nil
	}
	l, err := LimitedPower(volts)
	if err != nil {
		return 0, err
	}
	return math.Min(amps, l.Amps), nil
}
