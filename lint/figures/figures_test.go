package figures

import (
	"math"
	"os"
	"strings"
	"testing"

	"ohmstead/calc/circuit"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// textOf reads the plan file of a demo plan.
func textOf(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/plans/" + name + "/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// decode reads a plan that must have no problems.
func decode(t testing.TB, name, text string) *schema.Plan {
	t.Helper()
	p := schema.Decode(name, []*source.File{source.Parse(source.NewText(name+"/plan.ohm.hcl", []byte(text)))}, nil)
	for _, pr := range p.Problems {
		t.Errorf("%s: %s", pr.Rule, pr.Message)
	}
	return p
}

func planOf(t testing.TB, name string) *schema.Plan { return decode(t, name, textOf(t, name)) }

// One lead and one pixel of the porch arch, worked by hand.
//
// Lead: 16 AWG is 0.005 in * 92^(20/39) = 1.29086 mm thick (ASTM B258), 1.30873
// mm2; 1/58/1.30873 * 1.02 (stranded, NEC chapter 9 table 8) = 0.0134376 ohm/m;
// times 1.2 m and 1 + 0.00393 * 5 K at 25 degC = 0.0164422 ohm a side.
//
// Run: 1.4 + pi * 0.45 + 1.4 = 4.21372 m, 252 whole pixels at 60/m, each 15 mA
// and 2.1 mA idle: 4.3092 A, which warm the lead by 30 K * (4.3092/8)^2 = 8.7043 K: 0.0164422 * (1 + 0.00393 *
// 8.7043 / 1.01965) = 0.0169938 ohm. Lead drop 2 * 4.3092 * 0.0169938 = 0.146459 V; its 7.5 A
// blade loses 116 mV at 7.5 A, so 4.3092 / 7.5 * 0.116 = 0.066649 V; in all
// 0.213108 V, so 11.786892 V at the start. Pixel 251 lies behind the sum of (j + 1/2) for j = 0
// to 251 = 252^2/2 = 31752 pitches' worth of 17.1 mA in both rails:
// 2 * 0.041 ohm/m / 60 * 0.0171 * 31752 = 0.742044 V at 20 degC. The rail has 0.4195 mm2 = 650.2 square mil, and by
// IPC-2221 4.3092 A warm it by (4.3092 / (0.048 * 650.2^0.725))^(1/0.44) = 0.637 K; 12 V * 17.1 mA * 60/m =
// 12.312 W/m of the 12.5 W/m that the diffuser carries away warm it by 20 K * 12.312/12.5 = 19.699 K. So it is at
// 45.336 degC and loses 0.742044 * (1 + 0.00393 * 25.336) = 0.815930 V, leaving 10.970962 V.
func TestPorchArchByHand(t *testing.T) {
	f := figuresOf(t, planOf(t, "porch-arch"), nil)
	run, lead := f.Runs[0], f.Leads[0]
	full := f.Cases[0]
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"length of the run, m", run.Length, 4.21372},
		{"pixels", float64(run.Pixels), 252},
		{"resistance of the lead, ohm a side", lead.Ohms, 0.0164422},
		{"ampacity of the lead, A (NFPA 70 table 402.5, 16 AWG)", lead.Ampacity, 8},
		{"current of the lead, A", full.Leads[0].Amps, 4.3092},
		{"drop of the lead, V", full.Leads[0].Drop, 0.213108},
		{"start of the run, V", full.Runs[0].StartVolts, 11.786892},
		{"last pixel, V", full.Runs[0].Volts()[251], 10.970962},
		{"least over every pattern, V", f.Any.Runs[0].MinVolts, 10.970962},
		// 252 pixels * 24 bits * 1.25 us + 300 us
		{"frame time, s", f.Ports[0].FrameTime, 252*24*1.25e-6 + 300e-6},
	} {
		if math.Abs(c.got-c.want) > 5e-5*math.Abs(c.want) {
			t.Errorf("%s: %.6f, by hand %.6f", c.what, c.got, c.want)
		}
	}
}

// A ceiling scales what the firmware counts, not what the wires feel.
func TestCeilingHoldsTheEstimate(t *testing.T) {
	f := figuresOf(t, decode(t, "porch-arch", strings.Replace(textOf(t, "porch-arch"), `"6 A"`, `"2 A"`, 1)), nil)
	held := f.Cases[1]
	// 252 pixels idle at 2.1 mA are 0.5292 A; 252 * 15 mA = 3.78 A are left to scale.
	if want := (2 - 0.5292) / 3.78; math.Abs(held.Controllers[0].Scale-want) > 1e-9 || math.Abs(held.Controllers[0].Estimate-2) > 1e-9 {
		t.Errorf("scale %v (want %v), estimate %v", held.Controllers[0].Scale, want, held.Controllers[0].Estimate)
	}
	if amps := held.Runs[0].Amps; math.Abs(amps-2) > 1e-9 {
		t.Errorf("the run draws %v A", amps)
	}
	if amps := f.Any.Leads[0].Amps; math.Abs(amps-2) > 1e-9 {
		t.Errorf("any pattern puts %v A through the lead", amps)
	}
}

// An edit in one island leaves the solutions of the others as they are.
func TestMemoSolvesOnlyWhatChanged(t *testing.T) {
	island := func(name, length string) string {
		return strings.NewReplacer("NAME", name, "LENGTH", length).Replace(`
supply "NAME" {
  output = "5 V"
  rating = "10 A"
}
run "NAME" {
  strip  = catalog.ws2812b_5v_60
  length = "1 m"
}
lead "NAME" {
  from   = supply.NAME.out
  to     = run.NAME.start
  wire   = catalog.awg_18
  length = "LENGTH"
}
`)
	}
	memo := NewMemo()
	figuresOf(t, decode(t, "x", `plan "x" {}`+island("a", "1 m")+island("b", "1.5 m")), memo)
	before := map[*kept[*circuit.Network]]bool{}
	for _, s := range memo.networks.cur {
		before[s] = true
	}
	figuresOf(t, decode(t, "x", `plan "x" {}`+island("a", "1 m")+island("b", "2 m")), memo)
	same := 0
	for _, s := range memo.networks.cur {
		if before[s] {
			same++
		}
	}
	if len(before) != 2 || len(memo.networks.cur) != 2 || same != 1 {
		t.Errorf("%d solved, then %d of which %d kept", len(before), len(memo.networks.cur), same)
	}
}

// What hangs on a broken value is left out; the rest stays.
func TestBrokenValueTakesOnlyItsIsland(t *testing.T) {
	text := strings.Replace(textOf(t, "porch-arch"), `length = "1.2 m"`, `length = "1.2"`, 1) + `
supply "b" {
  output = "5 V"
  rating = "10 A"
}
run "b" {
  strip  = catalog.ws2812b_5v_60
  length = "1 m"
}
lead "b" {
  from   = supply.b.out
  to     = run.b.start
  wire   = catalog.awg_18
  length = "1 m"
}
`
	p := schema.Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
	f := figuresOf(t, p, nil)
	if f.Complete || f.Cases[0].Runs[0].OK || !f.Cases[0].Runs[1].OK {
		t.Errorf("complete %v, arch %v, b %v", f.Complete, f.Cases[0].Runs[0].OK, f.Cases[0].Runs[1].OK)
	}
}

func BenchmarkWork(b *testing.B) {
	for _, name := range []string{"porch-arch", "bookcase", "eave", "stair", "matrix"} {
		p := planOf(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				figuresOf(b, p, nil)
			}
		})
	}
}
