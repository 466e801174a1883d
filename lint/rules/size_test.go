package rules

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ohmstead/calc/fuse"
	"ohmstead/calc/thorough"
	"ohmstead/calc/wire"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
)

// small is a plan of one or two leads whose sizes are free, as text.
type small struct {
	lengths []float64 // m, of the leads
	runs    []string  // of the runs behind them
	hub     bool      // the first lead goes to a joint, the second on from it
}

// text writes the plan with gauges and fuses; 0 A is none.
func (x small) text(gauges []wire.Gauge, fuses []float64) string {
	var b strings.Builder
	b.WriteString(`plan "small" { mains = "230 V" }

strip "led" { like = catalog.ws2812b_5v_60 }
wire "data" { gauge = "22 AWG" }

supply "s" {
  output = "5 V"
  rating = "20 A"
  input  = ["230 V"]
}

controller "c" {
  board  = catalog.esp32_devkit
  buffer = "5 V"
  port "a" { pin = 4 }
}

joint "hub" {
  kind   = "lever"
  rating = "32 A"
  ways   = 3
}

lead "board" {
  from   = supply.s.out
  to     = controller.c.power
  wire   = wire.data
  length = "30 cm"
  fuse   = "1 A"
}
`)
	data := "controller.c.port.a"
	for i, m := range x.lengths {
		from, to := "supply.s.out", fmt.Sprintf("run.r%d.start", i)
		switch {
		case x.hub && i == 0:
			to = "joint.hub"
		case x.hub:
			from = "joint.hub"
		}
		fmt.Fprintf(&b, "\nwire \"w%d\" { gauge = %q }\n\nlead \"l%d\" {\n  from   = %s\n  to     = %s\n  wire   = wire.w%d\n  length = \"%g m\"\n", i, gauges[i], i, from, to, i, m)
		if fuses[i] > 0 {
			fmt.Fprintf(&b, "  fuse   = \"%g A\"\n", fuses[i])
		}
		b.WriteString("}\n")
		if x.hub && i == 0 {
			continue
		}
		fmt.Fprintf(&b, "\nrun \"r%d\" {\n  strip  = strip.led\n  length = %q\n}\n\nsignal \"r%d\" {\n  from   = %s\n  to     = run.r%d.start\n  wire   = wire.data\n  length = \"30 cm\"\n}\n", i, x.runs[i], i, data, i)
		data = fmt.Sprintf("run.r%d.end", i)
	}
	return b.String()
}

// cost is that of the leads: 8.96 g of copper per cm3 on both sides, 30 g for each
// lead and fuse.
func (x small) cost(gauges []wire.Gauge, fuses []float64) float64 {
	sum := 0.0
	for i, m := range x.lengths {
		sum += 2*m*gauges[i].Area()*8960e3 + 30
		if fuses[i] > 0 {
			sum += 30
		}
	}
	return sum
}

// fused reports whether every lead has a fuse where a fault in it is fed with more than
// the thinnest usual wire carries, 22 AWG: that of the supply, or what the fuse before the
// joint lets pass. All loads here are far below what that wire carries.
func (x small) fused(fuses []float64) bool {
	blade, _ := fuse.Named("blade")
	usual, err := wire.Ampacity(wire.AWG(22), 25, wire.InsulationTemperature)
	return err == nil && fuses[0] > 0 && (len(fuses) == 1 || fuses[1] > 0 || x.hub && blade.Protects(fuses[0], usual))
}

// passes judges a text by every rule.
func passes(t *testing.T, text string) bool {
	t.Helper()
	p := decode(text)
	fig, err := figures.Work(t.Context(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	v, err := lint.Run(t.Context(), p, fig, All)
	if err != nil {
		t.Fatal(err)
	}
	return !slices.ContainsFunc(v.Findings, func(f lint.Finding) bool { return f.Level >= lint.Warning })
}

// Of a small plan Size finds what an exhaustive search over the same choices finds: what
// it gives passes, costs what it says, and of all that is cheaper nothing passes.
func TestSizeIsExact(t *testing.T) {
	blade, _ := fuse.Named("blade")
	r := rand.New(rand.NewPCG(20, 12))
	tried := 0
	for n := range thorough.Or(20, 1) {
		x := small{hub: r.IntN(3) == 0}
		for range 1 + r.IntN(2) {
			x.lengths = append(x.lengths, []float64{0.5, 1, 2, 3, 4}[r.IntN(5)])
			x.runs = append(x.runs, []string{"30 cm", "50 cm", "1 m"}[r.IntN(3)])
		}
		x.hub = x.hub && len(x.lengths) == 2
		thin, bare := make([]wire.Gauge, len(x.lengths)), make([]float64, len(x.lengths))
		for i := range thin {
			thin[i] = wire.AWG(28)
		}
		b := benchOf(t, x.text(thin, bare))
		s, err := b.trials.Size(t.Context(), sizing.Options{Only: []string{sizing.Gauges, sizing.Fuses}, Keep: []string{"lead.board"}, Judged: 100_000})
		if err != nil {
			t.Fatal(err)
		}
		if s.Draft == nil || !s.Exact {
			t.Errorf("plan %d: found %v, exact %v after %d plans", n, s.Draft != nil, s.Exact, s.Judged)
			continue
		}
		texts, err := b.plan.Edited(s.Edits())
		if err != nil {
			t.Fatal(err)
		}
		if !passes(t, string(texts["demo/plan.ohm.hcl"])) {
			t.Errorf("plan %d does not pass with %s", n, s.Title())
		}
		var gauges []wire.Gauge
		var fuses []float64
		for i := range x.lengths {
			for _, l := range s.After.Leads {
				if l.ID() == fmt.Sprintf("lead.l%d", i) {
					gauges, fuses = append(gauges, l.Gauge), append(fuses, l.Fuse.V.SI)
				}
			}
		}
		if !x.fused(fuses) {
			t.Errorf("plan %d: fuses %v: a lead has none, with %s", n, fuses, s.Title())
		}
		best := x.cost(gauges, fuses)
		var search func(gauges []wire.Gauge, fuses []float64)
		search = func(gauges []wire.Gauge, fuses []float64) {
			if len(gauges) == len(x.lengths) {
				if x.fused(fuses) && x.cost(gauges, fuses) < best-1e-3 {
					if tried++; passes(t, x.text(gauges, fuses)) {
						t.Errorf("plan %d: %v with fuses %v passes and costs %g, less than %g of %s", n, gauges, fuses, x.cost(gauges, fuses), best, s.Title())
					}
				}
				return
			}
			for _, g := range wire.Standard(true) {
				amps, err := wire.Ampacity(g, 25, wire.InsulationTemperature)
				if err != nil || g.Area() > wire.AWG(6).Area()*1.001 {
					continue
				}
				for _, a := range append([]float64{0}, blade.Ratings...) {
					if blade.Protects(a, amps) {
						search(append(slices.Clone(gauges), g), append(slices.Clone(fuses), a))
					}
				}
			}
		}
		search(nil, nil)
		t.Logf("plan %d: %s, %s after %d plans judged; %d cheaper ones tried so far", n, s.Title(), s.Is, s.Judged, tried)
	}
}
