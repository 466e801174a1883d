package figures

import (
	"fmt"
	"math"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Two returns beside each other divide a return current by their conductances;
// either alone takes all of it.
func TestReturnsDivide(t *testing.T) {
	const plan = `plan "p" { mains = "230 V" }
strip "s" { like = catalog.ws2812b_5v_60 }
wire "w" { gauge = "16 AWG" }
wire "thin" { gauge = "22 AWG" }
supply "b" {
  output = "5 V"
  rating = "20 A"
}
run "r" {
  strip  = strip.s
  length = "1 m"
}
lead "out" {
  from    = supply.b.out
  to      = run.r.start
  wire    = wire.w
  length  = "1 m"
  fuse    = "7.5 A"
  carries = "plus"
}
`
	back := func(name, length string) string {
		return fmt.Sprintf("lead %q {\n  from    = supply.b.out\n  to      = run.r.start\n  wire    = wire.thin\n  length  = %q\n  carries = \"minus\"\n}\n", name, length)
	}
	for _, row := range []struct {
		name  string
		text  string
		share float64
	}{
		{"alone", plan + back("x", "1 m"), 1},
		{"two alike", plan + back("x", "1 m") + back("y", "1 m"), 1.0 / 2},
		{"one three times as long", plan + back("x", "3 m") + back("y", "1 m"), 1.0 / 4},
		{"three", plan + back("x", "1 m") + back("y", "1 m") + back("z", "2 m"), 1 / 2.5},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", []byte(row.text)))}, nil)
			for _, pr := range p.Problems {
				t.Fatal(pr.Message)
			}
			f := figuresOf(t, p, nil)
			for _, l := range f.Leads {
				if l.ID() != "lead.x" {
					continue
				}
				// 22 AWG may carry 3 A, so that the exposure is looked at.
				if !l.Fault.Minus || math.Abs(l.Fault.Amps-7.5) > 1e-9 {
					t.Fatalf("the exposure of the return is %+v, want 7.5 A on minus", l.Fault)
				}
				e := f.Faults().Lead(l)
				if want := 7.5 * row.share; math.Abs(e.Amps-want) > 1e-6 || e.Unguarded != (want > 3) {
					t.Errorf("got %g A, unguarded %v, want %g A", e.Amps, e.Unguarded, want)
				}
			}
		})
	}
}
