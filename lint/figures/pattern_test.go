package figures

import (
	"testing"

	"ohmstead/schema"
)

// A pattern makes what the bound says of it: exactly where no pixel is starved
// and nothing warms, a little less where something is.
func TestPatternsReachTheirBounds(t *testing.T) {
	for _, name := range demos(t) {
		t.Run(name, func(t *testing.T) {
			f := figuresOf(t, planOf(t, name), nil)
			some := 0
			for _, r := range f.Runs {
				w := f.WorstVolts(r, 0)
				lit := f.RunPattern(r)
				if !w.OK || lit == nil {
					continue
				}
				for _, x := range lit {
					if len(x.Shares) != x.Run.Pixels {
						t.Fatalf("%s: %d shares of %d pixels", x.Run.ID(), len(x.Shares), x.Run.Pixels)
					}
					if x.Run != r || x.Volts == nil {
						continue
					}
					some++
					if got := x.Volts[w.Pixel]; got < w.Value-1e-6 || got > w.Value+0.03*(r.Volts-w.Value)+1e-6 {
						t.Errorf("%s: pixel %d gets %.6g V under its worst pattern, the bound says %.6g V", r.ID(), w.Pixel, got, w.Value)
					}
				}
			}
			if some == 0 {
				t.Error("no run has a pattern")
			}
			for _, l := range f.Leads {
				w := f.WorstLead(l)
				on := 0.0
				for _, x := range f.LeadPattern(l) {
					for _, s := range x.Shares {
						on += s
					}
				}
				if w.OK && w.Case == schema.Any && len(w.Lit) > 0 && on == 0 {
					t.Errorf("%s: its worst pattern lights nothing", l.ID())
				}
			}
		})
	}
}
