package sizing

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Light is which share of its light the controller keeps with a change that loses most, everything lit: less than 1
// where a ceiling goes down as far as that.
func Light(before, after *figures.Figures) float64 {
	share := 1.0
	was, known := before.Case(schema.Held)
	is, still := after.Case(schema.Held)
	if !known || !still {
		return share
	}
	for i, c := range after.Controllers {
		for k, o := range before.Controllers {
			lower := c.Ceiling.Set && (!o.Ceiling.Set || c.Ceiling.V.SI < o.Ceiling.V.SI)
			if c.ID() == o.ID() && lower && is.Controllers[i].OK && was.Controllers[k].OK && was.Controllers[k].Scale > 0 {
				share = min(share, is.Controllers[i].Scale/was.Controllers[k].Scale)
			}
		}
	}
	return share
}

// Dims says what a change leaves of the light: "dims to 33 %"; "" where it keeps it.
func Dims(before, after *figures.Figures) string {
	share := Light(before, after)
	if !dim(share) {
		return ""
	}
	return fmt.Sprintf("dims to %s", quantity.Show(quantity.Share, math.Floor(100*share+1e-9)/100))
}

// Brightest puts remedies that dim behind those that do not, whatever these cost, and leaves their order else. What
// a remedy has no figures of is about the text alone.
func Brightest[T any](before *figures.Figures, remedies []T, after func(T) *figures.Figures) []T {
	var bright, dark []T
	for _, r := range remedies {
		if fig := after(r); fig != nil && dim(Light(before, fig)) {
			dark = append(dark, r)
		} else {
			bright = append(bright, r)
		}
	}
	return append(bright, dark...)
}

// dim reports whether anybody could see that a share of the light is gone.
func dim(share float64) bool { return share < 0.995 }
