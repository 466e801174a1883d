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

// What is written into a file has its line ends.
func TestEditedLineEnds(t *testing.T) {
	f := source.Parse(source.NewText("p/plan.ohm.hcl", []byte("plan \"p\" {\r\n  mains = \"230 V\"\r\n}\r\n")))
	p := Decode("p", []*source.File{f}, nil)
	texts, err := p.Edited([]Edit{InsertAttr(p.Head.Node, "title", `"P"`)})
	if got := string(texts["p/plan.ohm.hcl"]); err != nil || got != "plan \"p\" {\r\n  mains = \"230 V\"\r\n  title = \"P\"\r\n}\r\n" {
		t.Errorf("writes %q, %v", got, err)
	}
}
