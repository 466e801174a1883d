package figures

import (
	"os"
	"strings"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// By hand, from the plans' texts: the trunk of the stair hangs on the riser's
// fuse alone; that of the eave is fed from both sides, and each bay by two taps.
func TestFusesByHand(t *testing.T) {
	for _, c := range []struct{ plan, lead, guards, backed string }{
		{"stair", "trunk-3", "riser", ""},
		{"eave", "trunk-2", "west east", "west east near-1 near-2 near-3 near-4 far-1 far-2 far-3 far-4"},
		{"matrix", "", "", ""},
	} {
		text, err := os.ReadFile("../../testdata/plans/" + c.plan + "/plan.ohm.hcl")
		if err != nil {
			t.Fatal(err)
		}
		f, err := Work(t.Context(), schema.Decode("plan", []*source.File{source.Parse(source.NewText("plan.ohm.hcl", text))}, nil), nil)
		if err != nil {
			t.Fatal(err)
		}
		var guards, backed []string
		for _, l := range f.Leads {
			if l.Name == c.lead {
				fuses, bare := f.Guards(l)
				if bare {
					t.Errorf("%s: %s hangs on a supply without a fuse", c.plan, c.lead)
				}
				for _, x := range fuses {
					guards = append(guards, x.Name)
				}
			}
			if f.Backed(l) {
				backed = append(backed, l.Name)
			}
		}
		if got := strings.Join(guards, " "); got != c.guards {
			t.Errorf("%s: %s is guarded by %q, want %q", c.plan, c.lead, got, c.guards)
		}
		if got := strings.Join(backed, " "); got != c.backed {
			t.Errorf("%s: %q stay live, want %q", c.plan, got, c.backed)
		}
	}
}
