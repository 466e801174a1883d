package affected_test

import (
	"fmt"
	"testing"
	"testing/fstest"

	"ohmstead/cmd/ohmstead/internal/affected"
	"ohmstead/cmd/ohmstead/internal/workspace"
)

func TestBy(t *testing.T) {
	tree := fstest.MapFS{}
	put := func(name, text string) { tree[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644} }
	put("a/plan.ohm.hcl", `plan "a" { stock = ["../shop"] }`)
	put("a/more.ohm.hcl", `run "x" {}`)
	put("b/plan.ohm.hcl", "plan \"b\" {\n  stock = [\n    \"../annex\", # more\n  ]\n}\n")
	put("c/plan.ohm.hcl", `plan "c" {}`)
	put("ring/plan.ohm.hcl", `plan "ring" { stock = ["../ring", "../ring2"] }`)
	put("ring2/plan.ohm.hcl", `plan "ring2" { stock = ["../ring", "../shop"] }`)
	put("annex/plan.ohm.hcl", `plan "annex" { stock = ["../attic"] }`)
	put("shop/parts.ohm.hcl", `wire "w" { gauge = "16 AWG" }`)
	put("attic/parts.ohm.hcl", `wire "w" { gauge = "16 AWG" }`)
	put("broken/plan.ohm.hcl", "run \"x\" {\n  stock = [\n")
	put("empty/plan.ohm.hcl", "# nothing yet\n")
	put(".hidden/plan.ohm.hcl", `plan "hidden" {}`)
	at, err := affected.Of(workspace.Over(t.TempDir(), tree))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprint(at.Plans()), "[a annex b broken c empty ring ring2]"; got != want {
		t.Errorf("plans %s, want %s", got, want)
	}
	for _, c := range []struct {
		changed []string
		want    string
	}{
		{nil, "[]"},
		{[]string{"c"}, "[c]"},
		{[]string{"shop"}, "[a ring ring2]"},
		{[]string{"attic"}, "[annex b]"},
		{[]string{"annex"}, "[annex b]"},
		{[]string{"ring"}, "[ring ring2]"},
		{[]string{"nowhere"}, "[]"},
	} {
		if got := fmt.Sprint(at.By(c.changed)); got != c.want {
			t.Errorf("a change of %v touches %s, want %s", c.changed, got, c.want)
		}
	}
}
