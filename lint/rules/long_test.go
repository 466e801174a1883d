//go:build long

package rules

import "testing"

func TestBrokenValuesOfDemoPlans(t *testing.T) {
	brokenValues(t, "../../testdata/plans/*/plan.ohm.hcl")
}
