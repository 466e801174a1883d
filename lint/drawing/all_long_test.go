//go:build long

package drawing

import "testing"

func TestAllCollections(t *testing.T) { collections(t, 1) }
