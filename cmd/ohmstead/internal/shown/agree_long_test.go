//go:build long

package shown

import "testing"

func TestShowAndCheckAgreeOften(t *testing.T) { agree(t, 1000) }
