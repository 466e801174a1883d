package schema

import (
	"errors"
	"testing"

	"ohmstead/schema/source"
)

// A file of stock that cannot be read, such as a link that leads nowhere, is not too large.
func TestStockThatCannotBeRead(t *testing.T) {
	f := source.Parse(source.NewText("p/plan.ohm.hcl", []byte("plan \"p\" { stock = [\"../shop\"] }\n")))
	p := Decode("p", []*source.File{f}, func(string) ([]*source.File, error) {
		return []*source.File{source.Unreadable("shop/x.ohm.hcl", errors.New("no such file or directory"))}, nil
	})
	if len(p.Problems) != 1 || p.Problems[0].Rule != RuleStock {
		t.Errorf("finds %v", p.Problems)
	}
}
