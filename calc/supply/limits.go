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
	Amps      float64 // greatest output current
	VoltAmps  float64 // greatest output power, VA
	Nameplate float64 // greatest current that its nameplate may state; 0 where the standard sets none
	Fuse      float64 // greatest overcurrent protection, A; 0 where the supply limits itself
}

// Class2 returns the limits of an inherently limited Class 2 direct-current
// supply of a greatest voltage up to 60 V: up to 20 V 8 A and 5 A times the
// voltage, up to 30 V 8 A and 100 VA, above 150 VA over the voltage and 100 VA
// (NFPA 70 chapter 9 table 11(A)). A 5 V 20 A supply is therefore not Class 2.
func Class2(volts float64) (Limits, error) {
	l, err := LimitedPower(volts)
	if err != nil {
		return Limits{}, err
	}
	l.Nameplate = ratedAmps(volts)
	return l, nil
}

// Class2Fused returns the limits of a Class 2 direct-current supply that
// relies on overcurrent protection (NFPA 70 chapter 9 table 11(B), from
// memory).
func Class2Fused(volts float64) (Limits, error) {
	l, err := LimitedPowerFused(volts)
	l.Nameplate = l.Fuse
	return l, err
}

// LimitedPower returns the limits of an inherently limited power source of an
// open-circuit direct voltage up to 60 V (IEC 60950-1 table 2B, the same in
// IEC 62368-1 annex Q).
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

// LimitedPowerFused returns the limits of a power source that is limited by an
// overcurrent protective device (IEC 60950-1 table 2C, the same in IEC 62368-1
// annex Q).
func LimitedPowerFused(volts float64) (Limits, error) {
	if err := inRange(volts); err != nil {
		return Limits{}, err
	}
	return Limits{Amps: 1000 / volts, VoltAmps: 250, Fuse: ratedAmps(volts)}, nil
}

// LimitedRating returns the greatest rating in A that an inherently limited
// power source of a direct voltage up to 60 V can have: that of the power that
// LimitedPower allows, which is 5 A up to 20 V and 100 VA above (IEC 60950-1
// table 2B). Into a short circuit it may give more, up to Limits.Amps.
func LimitedRating(volts float64) (float64, error) {
	l, err := LimitedPower(volts)
	return math.Min(l.Amps, l.VoltAmps/volts), err
}

// ratedAmps is 5 A up to 20 V and 100 VA above.
func ratedAmps(volts float64) float64 { return math.Min(5, 100/volts) }

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
