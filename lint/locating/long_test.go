//go:build long

package locating

import "testing"

func TestPlantedLong(t *testing.T) {
	plant(t, 11, "bookcase", "eave", "matrix", "porch-arch", "stair")
}
