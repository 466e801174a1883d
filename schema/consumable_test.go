package schema_test

import (
	"strings"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

func TestConsumableMustMakeSense(t *testing.T) {
	for _, c := range []struct{ body, want string }{
		{`for = "end"
  wire = wire.w`, ""},
		{`length = "1 m"
  for   = "lead"
  every = "1 m"
  have  = "2 m"`, ""},
		{`every = "1 m"`, `only runs, leads and signals have a length`},
		{`for = "joint"
  every = "1 m"`, `is for "joint"`},
		{`for = "run"
  wire = wire.w`, `names a wire, but is for "run"`},
		{`count  = 2
  length = "1 m"`, `count`},
		{`length      = "1 m"
  have_pieces = 3`, `write have = "…"`},
		{`have = "3 m"`, `write have_pieces`},
	} {
		text := "plan \"p\" {}\nwire \"w\" { gauge = \"1 mm2\" }\nconsumable \"c\" {\n  " + c.body + "\n}\n"
		p := schema.Decode("", []*source.File{source.Parse(source.NewText("plan.ohm.hcl", []byte(text)))}, nil)
		got := ""
		for _, x := range p.Problems {
			got += x.Rule + ": " + x.Message + "\n"
		}
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.body, got, c.want)
		}
	}
}
