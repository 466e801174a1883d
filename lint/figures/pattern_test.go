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

// A lead whose minus also carries what comes back from another run is shown under the pattern of its minus.
func TestPatternOfSharedReturn(t *testing.T) {
	f := worked(t, `plan "shared" {}
wire "w" {
  gauge = "16 AWG"
}
strip "s" {
  like = catalog.ws2811_12v_60
}
supply "psu" {
  output = "12 V"
  rating = "20 A"
}
controller "ca" {
  board   = catalog.esp32_devkit
  ceiling = "600 mA"
  port "p" { pin = 4 }
}
controller "cb" {
  board   = catalog.esp32_devkit
  ceiling = "600 mA"
  port "p" { pin = 4 }
}
run "a" {
  strip  = strip.s
  length = "3 m"
}
run "b" {
  strip  = strip.s
  length = "3 m"
}
signal "a" {
  from   = controller.ca.port.p
  to     = run.a.start
  wire   = wire.w
  length = "1 m"
}
signal "b" {
  from   = controller.cb.port.p
  to     = run.b.start
  wire   = wire.w
  length = "1 m"
}
lead "pair" {
  from   = supply.psu.out
  to     = run.a.start
  wire   = wire.w
  length = "1 m"
}
lead "plus" {
  from    = supply.psu.out
  to      = run.b.start
  wire    = wire.w
  length  = "1 m"
  carries = "plus"
}
lead "back" {
  from    = run.b.start
  to      = run.a.start
  wire    = wire.w
  length  = "1 m"
  carries = "minus"
}
`)
	l := f.Leads[0]
	if w, a := f.WorstLead(l), f.Any.Leads[l.place]; w.Case != schema.Any || a.Amps < 1.5*a.Plus {
		t.Fatalf("%s: %+v, of its plus %g A", l.ID(), w, a.Plus)
	}
	on := map[string]float64{}
	for _, x := range f.LeadPattern(l) {
		for _, s := range x.Shares {
			on[x.Run.Name] += s
		}
	}
	if on["a"] < 1 || on["b"] < 1 {
		t.Errorf("lit pixels, added up: %v", on)
	}
}
