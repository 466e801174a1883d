package figures

import (
	"os"
	"testing"
)

// Every demo plan decodes without problems and can be worked out whole.
func TestDemoPlansWorkOut(t *testing.T) {
	dirs, err := os.ReadDir("../../testdata/plans")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		t.Run(d.Name(), func(t *testing.T) {
			f := figuresOf(t, planOf(t, d.Name()), nil)
			if !f.Complete {
				t.Error("some of the wiring could not be read")
			}
			for _, is := range f.Islands {
				if is.Err != nil {
					t.Errorf("an island of %d leads: %v", len(is.Leads), is.Err)
				}
			}
			for i, r := range f.Runs {
				if !r.OK || !f.Cases[0].Runs[i].OK {
					t.Errorf("%s is not worked out: %s", r.ID(), r.Why)
				}
			}
		})
	}
}
