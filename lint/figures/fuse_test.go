package figures

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

// fusedPlan is a board of 1 A behind one fused lead. 22 AWG is 0.005 in *
// 92^(14/39) = 0.643803 mm thick (ASTM B258), 0.325533 mm2; 1/58/0.325533 * 1.02
// (stranded, NEC chapter 9 table 8) = 0.0540227 ohm/m at 20 degC.
// At 1 A of the 3 A that it may carry at 60 degC in air of 30 degC it is
// 30 K * (1 / 3)^2 = 3.333 K warmer than the air.
const fusedPlan = `
plan "p" { ambient = "20 degC" }
wire "w" { gauge = "22 AWG" }
supply "brick" {
  output = "12 V"
  rating = "2 A"
}
controller "brain" {
  board         = catalog.esp32_devkit
  input_voltage = ["12 V"]
  needs         = "1 A"
}
holder "h" {
  %s
}
lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.w
  length = "1 m"
  fuse   = %q
  holder = holder.h
}
`

// TestFuseInTheDrop works out by hand what a fuse adds to its lead, and lets
// ngspice do the same where it is installed.
func TestFuseInTheDrop(t *testing.T) {
	const wire = 0.0540227 * (1 + 0.00393*30/9) // ohm a side
	for _, c := range []struct {
		holder, fuse string
		ohms         float64
		source       string
	}{
		{`kind = "blade"`, "2 A", 0.141 / 2, "typical drop of a 2 A blade at 2 A, from memory"},
		{"resistance = \"3 mohm\"", "4 A", (0.137+0.128)/2/4 + 0.003, "between those of 3 A and 5 A, and the contacts of the holder"},
		{`kind = "glass"`, "1.6 A", 0.2 / 1.6, "greatest of IEC 60127-2 sheet 2, from memory"},
		{`kind = "resettable"`, "1.1 A", 0.140, "maker's datasheet: greatest resistance one hour after a trip"},
	} {
		f := figuresOf(t, decode(t, "p", fmt.Sprintf(fusedPlan, c.holder, c.fuse)), nil)
		lead := f.Cases[0].Leads[0]
		want := 2*wire + c.ohms
		if !lead.OK || math.Abs(lead.Amps-1) > 1e-9 || math.Abs(lead.Drop-want) > 1e-5 || math.Abs(lead.Watts-want) > 1e-5 {
			t.Errorf("%s in %s: %+v, want 1 A and %.6f V (%s)", c.fuse, c.holder, lead, want, c.source)
		}
		if got := f.Cases[0].Controllers[0].Volts; math.Abs(got-12+lead.Drop) > 1e-9 {
			t.Errorf("%s in %s: %g V at the board, %g V lost", c.fuse, c.holder, got, lead.Drop)
		}
		if volts, ok := spiced(t, fmt.Sprintf("V1 a 0 12\nRplus a b %g\nRfuse b c %.9g\nIload c d 1\nRminus d 0 %g\n", wire, c.ohms, wire)); ok && math.Abs(volts-12+want) > 1e-5 {
			t.Errorf("%s in %s: ngspice has %.6f V at the board, by hand %.6f V", c.fuse, c.holder, volts, 12-want)
		}
	}
}

// spiced is the voltage between c and d of a netlist by ngspice; false where it
// is not installed and may be missing.
func spiced(t *testing.T, netlist string) (float64, bool) {
	t.Helper()
	if _, err := exec.LookPath("ngspice"); err != nil {
		if os.Getenv("OHMSTEAD_NO_SKIP") != "" {
			t.Fatal("ngspice is not installed, and OHMSTEAD_NO_SKIP forbids skipping")
		}
		t.Log("ngspice is not installed: the drop is not compared with it")
		return 0, false
	}
	file := filepath.Join(t.TempDir(), "net.cir")
	text := "a fuse in a lead\n" + netlist + ".control\nop\nset numdgt=10\nprint v(c)-v(d)\nquit\n.endc\n.end\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	out, _ := exec.Command("ngspice", "-b", file).CombinedOutput()
	m := regexp.MustCompile(`v\(c\)-v\(d\) = (\S+)`).FindSubmatch(out)
	if m == nil {
		t.Fatalf("ngspice wrote %s", out)
	}
	volts, err := strconv.ParseFloat(string(m[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return volts, true
}
