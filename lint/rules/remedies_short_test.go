//go:build !long

package rules

// How much the random tests try; the gate tries more.
const (
	variants    = 6
	brokenPlans = 60
)
