// Package fuse knows the protective devices of low-voltage leads: which ratings
// there are of each kind, what surely opens them, what they carry for long,
// which voltage and which short circuit they break, and what they lose. All
// currents are in A.
package fuse

import (
	"math"
	"slices"
)

// Kind is one kind of protective device.
type Kind struct {
	Name     string
	Doc      string
	Standard string    // that sets its ratings; empty where none does
	Ratings  []float64 // A, rising

	Volts       float64 // V of direct current that the common one breaks
	Most        float64 // V, that of the highest that is made
	Breaks      float64 // A, breaking capacity
	BreaksTimes float64 // times the rating, where that is more than Breaks

	Opens  float64 // times its rating: what surely opens it
	Within string  // the time that it may take for that
	Share  float64 // of its rating that it carries for long

	gates []Gate

	drops []point // V at its rating, by rating
	held  []point // share of its rating that it holds, by air temperature in degC
}

// Gate is the longest time in s that a device takes to open at a multiple of its rating.
type Gate struct{ Times, Seconds float64 }

// Gates are those of a fuse of a rating, the least current first, up to a current at which it opens at once; none where
// none are published.
func (k Kind) Gates(rating float64) []Gate {
	if k.Name == kinds[0].Name && rating > Everyday {
		return kinds[3].gates // the large size
	}
	return k.gates
}

// point is a row of a published table; between rows a line is drawn.
type point struct{ x, y float64 }

// tolerance lets a load of exactly what a fuse carries pass in spite of rounding.
const tolerance = 1e-9

// conventional is what a protected conductor bears for the conventional time:
// what surely opens the device is at most 1.45 times the conductor's ampacity
// (IEC 60364-4-43 clause 433.1).
const conventional = 1.45

// Everyday is the largest rating in A of which a rating alone tells the kind:
// the largest blade of the regular size. Above, circuit breakers and the fuses
// of distribution boards are as common.
const Everyday = 40

// Kinds lists all kinds, the commonest first.
func Kinds() []Kind { return slices.Clone(kinds) }

// Commonest is the first of them.
func Commonest() Kind { return kinds[0] }

// Named finds a kind by its name.
func Named(name string) (Kind, bool) {
	i := slices.IndexFunc(kinds, func(k Kind) bool { return k.Name == name })
	if i < 0 {
		return Kind{}, false
	}
	return kinds[i], true
}

// Likely is the kind of a fuse of which only the rating is known: the
// commonest that comes in it; where none does, a blade, or above the largest
// blade one that is bolted down.
func Likely(amps float64) Kind {
	blade, bolted := kinds[0], kinds[3]
	for _, k := range kinds {
		if k.Standard != "" && k.Sold(amps) {
			return k
		}
	}
	if amps > blade.Largest() {
		return bolted
	}
	return blade
}

// Largest is the largest rating of the kind.
func (k Kind) Largest() float64 { return k.Ratings[len(k.Ratings)-1] }

// Sold reports whether the kind comes in a rating.
func (k Kind) Sold(amps float64) bool {
	return slices.ContainsFunc(k.Ratings, func(r float64) bool { return math.Abs(r-amps) <= tolerance*r })
}

// At is the kind in air of a temperature in degC. Only resettable fuses hold
// less when it is warm; colder than 20 degC they are taken as at 20 degC.
func (k Kind) At(degC float64) Kind {
	if len(k.held) > 0 {
		k.Share *= math.Min(1, between(k.held, degC))
	}
	return k
}

// Carries reports whether a fuse of a rating carries a load continuously.
func (k Kind) Carries(rating, load float64) bool {
	return load <= k.Share*rating*(1+tolerance)
}

// Counts is the ampacity in A that a conductor behind a fuse of a rating needs:
// the rating, or more where what surely opens the fuse is more than 1.45 times
// the rating. (IEC 60364-4-43 clause 433.1: In <= Iz and I2 <= 1.45 Iz.)
func (k Kind) Counts(rating float64) float64 {
	return rating * math.Max(1, k.Opens/conventional)
}

// Protects reports whether a fuse of a rating protects a conductor of an
// ampacity.
func (k Kind) Protects(rating, ampacity float64) bool {
	return k.Counts(rating) <= ampacity*(1+tolerance)
}

// Window returns the ratings, rising, that carry the load and protect the
// conductor. It is empty if none does both.
func (k Kind) Window(load, ampacity float64) (ratings []float64) {
	for _, r := range k.Ratings {
		if k.Carries(r, load) && k.Protects(r, ampacity) {
			ratings = append(ratings, r)
		}
	}
	return ratings
}

// LargestFor returns the largest rating that protects a conductor of this
// ampacity, or false if even the smallest does not.
func (k Kind) LargestFor(ampacity float64) (rating float64, ok bool) {
	for _, r := range k.Ratings {
		if k.Protects(r, ampacity) {
			rating, ok = r, true
		}
	}
	return rating, ok
}

// SmallestFor returns the smallest rating that carries the load, or false if
// even the largest does not.
func (k Kind) SmallestFor(load float64) (rating float64, ok bool) {
	for _, r := range k.Ratings {
		if k.Carries(r, load) {
			return r, true
		}
	}
	return 0, false
}

// Capacity is the greatest short-circuit current in A that a fuse of a rating
// breaks.
func (k Kind) Capacity(rating float64) float64 {
	return math.Max(k.Breaks, k.BreaksTimes*rating)
}

// Drop is what a fuse of a rating loses at its rating, V.
func (k Kind) Drop(rating float64) float64 { return between(k.drops, rating) }

// Ohms is the resistance of a fuse of a rating when it is as warm as at its
// rating, ohm: more than at what it carries for long, the safe side for
// voltages. Beyond the kind's ratings it is that of the nearest one.
func (k Kind) Ohms(rating float64) float64 {
	rating = math.Max(k.Ratings[0], math.Min(rating, k.Largest()))
	return k.Drop(rating) / rating
}

// between reads a table, with a line between its rows and its end rows beyond.
func between(table []point, x float64) float64 {
	for i, p := range table {
		if x > p.x {
			continue
		}
		if i == 0 {
			return p.y
		}
		q := table[i-1]
		return q.y + (p.y-q.y)*(x-q.x)/(p.x-q.x)
	}
	return table[len(table)-1].y
}
