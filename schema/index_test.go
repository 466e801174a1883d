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
