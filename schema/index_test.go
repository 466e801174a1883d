package schema

import (
	"fmt"
	"testing"

	"ohmstead/schema/source"
)

// An index that looks like a number and is none is a problem, not a crash.
func TestIndexThatIsNoNumber(t *testing.T) {
	for _, index := range []string{"1e-9e-9", "1e", "1e+", "0x", "1e99999999999999999999", "1_0"} {
		text := fmt.Sprintf("plan \"x\" {}\nrun \"r\" {\n  strip  = catalog.ws2812b_5v_60\n  length = \"1 m\"\n}\njoint \"j\" {}\nlead \"a\" {\n  from   = joint.j\n  to     = run.r[%s]\n  wire   = catalog.awg_18\n  length = \"1 m\"\n}\n", index)
		p := Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
		if len(p.Problems) == 0 {
			t.Errorf("run.r[%s] is no problem", index)
		}
	}
}

// The outputs of a supply may come from what it is like, or from a named value,
// and it may stand behind the lead that uses them.
func TestOutputsFromElsewhere(t *testing.T) {
	for _, tc := range []struct {
		supply string
		output int
		ok     bool
	}{
		{"outputs = 3", 3, true},
		{"outputs = 3", 4, false},
		{"outputs = let.n", 2, true},
		{"outputs = let.n", 3, false},
		{"like = supply.three", 3, true},
		{"like = supply.three", 4, false},
		{"like = supply.three\n  outputs = 2", 3, false},
		{"", 1, true},
		{"", 2, false},
	} {
		text := fmt.Sprintf("plan \"x\" {}\nlead \"a\" {\n  from   = supply.s.out[%d]\n  to     = joint.j\n  wire   = catalog.awg_18\n  length = \"1 m\"\n}\njoint \"j\" {}\nlet { n = 2 }\n"+
			"supply \"s\" {\n  %s\n  output = \"12 V\"\n  rating = \"5 A\"\n}\nsupply \"three\" {\n  output  = \"12 V\"\n  rating  = \"5 A\"\n  outputs = 3\n}\n", tc.output, tc.supply)
		p := Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
		if ok := len(p.Problems) == 0; ok != tc.ok {
			t.Errorf("%s, output %d: %d problems", tc.supply, tc.output, len(p.Problems))
			for _, pr := range p.Problems {
				t.Log(pr.Message)
			}
		}
	}
}
