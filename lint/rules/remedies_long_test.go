//go:build long

package rules

// How much the random tests try in the gate.
const (
	variants    = 60
	brokenPlans = 1000
)
