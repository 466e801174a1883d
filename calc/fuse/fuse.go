// Package fuse knows the blade fuse-links that low-voltage leads are protected
// with. All currents are in A.
package fuse

// ContinuousShare is the share of its rating that a fuse may carry
// continuously at 25 degC (a fuse maker's application note, "Fuse selection":
// a 10 A fuse carries 7.5 A). Others plan with 80 %; the lower figure is used.
const ContinuousShare = 0.75

// Opens is the share of its rating at which a blade fuse surely opens within
// ten minutes: 135 % (ISO 8820-3, type C, operating time at 1.35 times the
// rated current 0.75 to 600 s, as a fuse maker's sheet prints it). Between 110
// % and that it may carry on for hours.
const Opens = 1.35

// tolerance lets a load of exactly ContinuousShare pass in spite of rounding.
const tolerance = 1e-9

// Ratings returns the blade fuse ratings of ISO 8820-3 from 1 to 30 A, rising.
func Ratings() []float64 {
	return []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30}
}

// Standard reports whether a blade fuse of this rating exists.
func Standard(amps float64) bool {
	for _, r := range Ratings() {
		if near(r, amps) {
			return true
		}
	}
	return false
}

// Carries reports whether a fuse of a rating carries a load continuously.
func Carries(rating, load float64) bool {
	return load <= ContinuousShare*rating*(1+tolerance)
}

// Protects reports whether a fuse of a rating protects a conductor of an
// ampacity: it is rated no higher (IEC 60364-4-43 clause 433.1).
func Protects(rating, ampacity float64) bool {
	return rating <= ampacity*(1+tolerance)
}

// Window returns the standard ratings, rising, that carry the load and protect
// the conductor. It is empty if none does both.
func Window(load, ampacity float64) (ratings []float64) {
	for _, r := range Ratings() {
		if Carries(r, load) && Protects(r, ampacity) {
			ratings = append(ratings, r)
		}
	}
	return ratings
}

// LargestFor returns the largest standard rating that protects a conductor of
// this ampacity, or false if even the smallest does not.
func LargestFor(ampacity float64) (rating float64, ok bool) {
	for _, r := range Ratings() {
		if Protects(r, ampacity) {
			rating, ok = r, true
		}
	}
	return rating, ok
}

// SmallestFor returns the smallest standard rating that carries the load, or
// false if even the largest does not.
func SmallestFor(load float64) (rating float64, ok bool) {
	for _, r := range Ratings() {
		if Carries(r, load) {
			return r, true
		}
	}
	return 0, false
}

func near(a, b float64) bool {
	d := a - b
	return -tolerance*a <= d && d <= tolerance*a
}
