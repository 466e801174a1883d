//go:build long

package figures

import "testing"

func TestLooseReturnsAnewOften(t *testing.T) { loosePlans(t, 200) }
