package figures

import (
	"fmt"
	"math"
	"testing"

	"ohmstead/schema"
)

// twoFeeds is a run that two leads feed, of strip that loses next to nothing, so that all of it is one load.
const twoFeeds = `plan "x" { ambient = "30 degC" }
strip "s" {
  voltage         = "12 V"
  density         = "60/m"
  channel_current = "16 mA"
  idle_current    = "1 mA"
  forward         = "3 V"
  headroom        = "0.5 V"
  min_voltage     = "9 V"
  rail            = "0.01 mohm/m"
}
wire "w" { gauge = "18 AWG" }
supply "psu" {
  output = "12 V"
  trim   = "12 V"
  rating = "20 A"
}
joint "j" { kind = "lever" }
run "r" {
  strip  = strip.s
  length = "2 m"
}
lead "near" {
  from   = supply.psu.out
  to     = joint.j
  wire   = wire.w
  length = "2 m"
  fuse   = "10 A"
}
lead "far" {
  from   = joint.j
  to     = run.r.start
  wire   = wire.w
  length = "1 m"
}
lead "second" {
  from   = supply.psu.out
  to     = run.r.end
  wire   = wire.w
  length = "4 m"
}
`

// TestPlantedFaultsInSpice plants faults in a wall and has ngspice solve the same network, written by hand.
func TestPlantedFaultsInSpice(t *testing.T) {
	f := figuresOf(t, decode(t, "p", twoFeeds), nil)
	near, far, second, run := f.Leads[0], f.Leads[1], f.Leads[2], f.Runs[0]
	// side is one conductor of a lead, as warm as its current makes it.
	side := func(name string, l *Lead, a, b string, times, more float64) string {
		ohms := l.Ohms*times + more
		heat := l.heat * l.Ohms * times / ohms
		return fmt.Sprintf("V%[1]s %[2]s m%[1]s 0\nB%[1]s m%[1]s %[3]s V=%.12[4]g*i(V%[1]s)*(1+%.12[5]g*min(i(V%[1]s)*i(V%[1]s),%.12[6]g))\n", name, a, b, ohms, heat, l.most*l.most)
	}
	for _, c := range []struct {
		name        string
		change      []Change
		volts       float64
		times, more [3]float64 // of near, far and second
		share       float64    // of the pixels that are lit
	}{
		{name: "as planned", volts: 12, times: [3]float64{1, 1, 1}, share: 1},
		{name: "a bad crimp", change: []Change{{What: Added, Lead: far, Where: schema.AtEnd, By: 0.39}}, volts: 12, times: [3]float64{1, 1, 1}, more: [3]float64{0, 0.39, 0}, share: 1},
		{name: "a fuse in a bad holder", change: []Change{{What: Added, Lead: near, Where: schema.AtFuse, By: 0.08}}, volts: 12, times: [3]float64{1, 1, 1}, more: [3]float64{0.08, 0, 0}, share: 1},
		{name: "a longer lead", change: []Change{{What: Stretched, Lead: second, By: 2.5}}, volts: 12, times: [3]float64{1, 1, 2.5}, share: 1},
		{name: "a feed that is missing", change: []Change{{What: Opened, Lead: second}}, volts: 12, times: [3]float64{1, 1, 1e9}, share: 1},
		{name: "a supply set otherwise", change: []Change{{What: Trimmed, Supply: f.Plan.Supplies[0], By: 0.95}}, volts: 11.4, times: [3]float64{1, 1, 1}, share: 1},
		{name: "a dark stretch", change: []Change{{What: Darkened, Run: run, By: 0.5}}, volts: 12, times: [3]float64{1, 1, 1}, share: 0.5},
	} {
		w, err := f.Wall(f.Islands[0], f.Cases[0], c.change...)
		if err != nil {
			t.Fatal(err)
		}
		got, err := w.Shows(Probes{At: &schema.Point{Kind: schema.RunPlace, Run: run.Run, Where: schema.AtStart}})
		if err != nil {
			t.Fatal(err)
		}
		net := fmt.Sprintf("Vpsu s 0 %g\n", c.volts)
		net += side("nearp", near, "s", "f", c.times[0], c.more[0]) + fmt.Sprintf("Rfuse f jp %.12g\n", near.FuseOhms) + side("nearm", near, "jm", "0", c.times[0], 0)
		net += side("farp", far, "jp", "c", c.times[1], c.more[1]) + side("farm", far, "d", "jm", c.times[1], 0)
		net += side("secondp", second, "s", "c", c.times[2], c.more[2]) + side("secondm", second, "d", "0", c.times[2], 0)
		idle := run.Law.Idle * float64(run.Pixels)
		net += fmt.Sprintf("Iload c d %.12g\n", idle+c.share*(run.PixelMax*float64(run.Pixels)-idle))
		want, ok := spiced(t, net)
		if !ok {
			return
		}
		if math.Abs(got-want) > 1e-4 {
			t.Errorf("%s: %.6f V, ngspice has %.6f V", c.name, got, want)
		}
		t.Logf("%-24s %.5f V, ngspice %.5f V", c.name, got, want)
	}
}

// What is lost along the parts of a lead adds up to what is lost along all of it (Kirchhoff's voltage law), wherever resistance
// is added; what is added at the start or in the fuse is lost before the wire behind the fuse, at the current of the lead.
func TestPartsOfALeadAddUp(t *testing.T) {
	f := figuresOf(t, decode(t, "p", twoFeeds), nil)
	near := f.Leads[0]
	shows := func(w *Wall, where schema.Where, reads Reads) float64 {
		x, err := w.Shows(Probes{At: &schema.Point{Kind: schema.LeadPlace, Lead: near.Lead, Where: where}, Reads: reads})
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	const more = 0.08
	for _, fault := range []schema.Where{schema.AtStart, schema.AtFuse, schema.AtEnd} {
		w, err := f.Wall(f.Islands[0], f.Cases[0], Change{What: Added, Lead: near, Where: fault, By: more})
		if err != nil {
			t.Fatal(err)
		}
		amps := shows(w, schema.Along, Amps)
		for reads, factor := range map[Reads]float64{Volts: amps, Ohms: 1} {
			all := shows(w, schema.Along, reads)
			toFuse, wire, end := shows(w, schema.ToFuse, reads), shows(w, schema.AtWire, reads), shows(w, schema.AtEnd, reads)
			if math.Abs(toFuse+wire+end-all) > 1e-9 {
				t.Errorf("fault at %v: %.9f to the fuse, %.9f of wire, %.9f at the end: not %.9f", fault, toFuse, wire, end, all)
			}
			// From the plan's numbers: a crimp or screw on both sides, the fuse on plus alone.
			want := factor * (2*contact(near.From.V) + near.FuseOhms)
			if fault != schema.AtEnd {
				want += factor * more
			}
			if math.Abs(toFuse-want) > 1e-9 {
				t.Errorf("fault at %v: %.9f to behind the fuse, want %.9f", fault, toFuse, want)
			}
		}
	}
}
