package circuit

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"ohmstead/calc/thorough"
)

// needNgspice skips a test where ngspice is missing, unless skipping is forbidden.
func needNgspice(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("ngspice"); err != nil {
		if os.Getenv("OHMSTEAD_NO_SKIP") != "" {
			t.Fatal("ngspice is not installed, and OHMSTEAD_NO_SKIP forbids skipping")
		}
		t.Skip("ngspice is not installed: the solver is not compared with it")
	}
}

// netlist writes a circuit for ngspice, with the law of each pixel as a behavioural current source.
// The minus of the first source is ground.
func netlist(e *expanded) []byte {
	var b bytes.Buffer
	ground := e.circuit.Sources[0].Minus
	name := func(n int) string {
		if n == ground {
			return "0"
		}
		return "n" + strconv.Itoa(n)
	}
	g := func(x float64) string { return strconv.FormatFloat(x, 'g', 17, 64) }
	fmt.Fprintln(&b, "a network of runs")
	for i, s := range e.circuit.Sources {
		fmt.Fprintf(&b, "V%d %s %s %s\n", i, name(s.Plus), name(s.Minus), g(s.Volts))
	}
	for i, w := range e.wires {
		if w.Heat > 0 {
			amps := fmt.Sprintf("i(VW%d)", i)
			fmt.Fprintf(&b, "VW%d %s w%d 0\nBW%d w%d %s V=%s*%s*(1+%s*min(%s*%s,%s))\n", i, name(w.A), i,
				i, i, name(w.B), g(w.Ohms), amps, g(w.Heat), amps, amps, g(w.Most*w.Most))
			continue
		}
		fmt.Fprintf(&b, "R%d %s %s %s\n", i, name(w.A), name(w.B), g(w.Ohms))
	}
	// term is amps*s((V-foot)/width) as text.
	term := func(v string, amps, foot, width float64) string {
		return fmt.Sprintf("%s*min(1,max(0,(%s-%s)/%s))", g(amps), v, g(foot), g(max(width, MinHeadroom)))
	}
	volts := func(plus, minus int) string {
		if minus == ground {
			return "V(" + name(plus) + ")"
		}
		if plus == ground {
			return "(-V(" + name(minus) + "))"
		}
		return "V(" + name(plus) + "," + name(minus) + ")"
	}
	for i, s := range e.circuit.Sinks {
		fmt.Fprintf(&b, "BS%d %s %s I=%s\n", i, name(s.Plus), name(s.Minus), term(volts(s.Plus, s.Minus), s.Amps, 0, 3))
	}
	for i, p := range e.pixels {
		s := &e.circuit.Strips[p.strip]
		v := volts(p.plus, p.minus)
		terms := []string{term(v, s.Law.Idle, 0, 3)}
		var amps, forward, headroom float64
		for c, ch := range s.Law.Channels {
			a := shareOf(s, p.k)[c] * ch.Amps
			if s.Law.Series {
				amps, forward, headroom = max(amps, a), forward+ch.Forward, max(headroom, ch.Headroom)
			} else if a > 0 {
				terms = append(terms, term(v, a, ch.Forward, ch.Headroom))
			}
		}
		if s.Law.Series {
			terms = append(terms, term(v, amps, forward, headroom))
		}
		fmt.Fprintf(&b, "BP%d %s %s I=%s\n", i, name(p.plus), name(p.minus), strings.Join(terms, "+"))
	}
	fmt.Fprint(&b, `.options reltol=1e-10 abstol=1e-14 vntol=1e-11 gmin=1e-16 itl1=500
.control
set filetype=ascii
op
write out.raw
quit
.endc
.end
`)
	return b.Bytes()
}

// runNgspice returns the potential of each node of e, or false where ngspice does not converge.
func runNgspice(t testing.TB, e *expanded) ([]float64, bool) {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "net.cir"), netlist(e), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("ngspice", "-b", "net.cir")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	raw, readErr := os.ReadFile(filepath.Join(dir, "out.raw"))
	if err != nil || readErr != nil || bytes.Contains(out, []byte("aborted")) {
		if testing.Verbose() {
			t.Logf("ngspice: %v\n%s", err, out[:min(len(out), 600)])
		}
		return nil, false
	}
	potential := make([]float64, e.nodes)
	names := map[int]int{} // variable to node
	scan := bufio.NewScanner(bytes.NewReader(raw))
	scan.Buffer(nil, 1<<20)
	inValues, at := false, 0
	for scan.Scan() {
		line := strings.Fields(scan.Text())
		switch {
		case len(line) == 0:
		case line[0] == "Values:":
			inValues = true
		case inValues:
			x, err := strconv.ParseFloat(line[len(line)-1], 64)
			if err != nil {
				t.Fatalf("ngspice wrote %q", scan.Text())
			}
			if n, ok := names[at]; ok {
				potential[n] = x
			}
			at++
		case len(line) == 3 && line[2] == "voltage":
			v, _ := strconv.Atoi(line[0])
			n, err := strconv.Atoi(strings.Trim(strings.ToLower(line[1]), "v(n)"))
			if err == nil {
				names[v] = n
			}
		}
	}
	return potential, len(names) > 0
}

// TestNgspice compares every pixel with ngspice, an independent circuit simulator, on random
// installations.
func TestNgspice(t *testing.T) { againstNgspice(t, thorough.Or(60, 15), func(*rand.Rand, *Circuit) {}) }

// TestNgspiceWarm does so with wires whose resistance rises with their current.
func TestNgspiceWarm(t *testing.T) { againstNgspice(t, thorough.Or(50, 10), warmUp) }

func againstNgspice(t *testing.T, wanted int, change func(*rand.Rand, *Circuit)) {
	needNgspice(t)
	const tolerance = 1e-6
	compared, pixels, starved, failed, worst := 0, 0, 0, 0, 0.0
	for seed := uint64(0); compared < wanted && seed < 4*uint64(wanted); seed++ {
		c := randomCircuit(rand.New(rand.NewPCG(seed, 2)), 60)
		change(rand.New(rand.NewPCG(seed, 5)), c)
		sol, err := Solve(c)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		e := expand(c, nil)
		potential, ok := runNgspice(t, e)
		if !ok {
			failed++
			continue
		}
		compared++
		for _, p := range e.pixels {
			want := potential[p.plus] - potential[p.minus]
			got := sol.Strips[p.strip].Volts()[p.k]
			s := &c.Strips[p.strip]
			if sol.Strips[p.strip].PixelAmps()[p.k] < 0.999*s.Law.Nominal(shareOf(s, p.k)) {
				starved++
			}
			pixels++
			if d := math.Abs(got - want); d > tolerance {
				t.Fatalf("seed %d: strip %d pixel %d has %.9f V, ngspice says %.9f V", seed, p.strip, p.k, got, want)
			} else {
				worst = max(worst, d)
			}
		}
	}
	t.Logf("%d networks with %d pixels, %d of them starved, compared with ngspice: worst difference %.2g V; ngspice did not converge on %d more",
		compared, pixels, starved, worst, failed)
	if least := thorough.Or(100, 10); starved < least || pixels-starved < least {
		t.Errorf("%d of %d pixels are starved: both kinds must be among them", starved, pixels)
	}
	if least := wanted * 4 / 5; compared < least {
		t.Errorf("only %d networks were compared, %d are the least", compared, least)
	}
}

// BenchmarkNgspice tells how many times longer ngspice takes for 50,000 pixels. Run it alone, with
// -benchtime 1x.
func BenchmarkNgspice(b *testing.B) {
	needNgspice(b)
	c := trunk(50_000, 500)
	e := expand(c, nil)
	var ours, theirs time.Duration
	for b.Loop() {
		began := time.Now()
		sol, err := Solve(c)
		if err != nil {
			b.Fatal(err)
		}
		ours += time.Since(began)
		began = time.Now()
		potential, ok := runNgspice(b, e)
		if !ok {
			b.Fatal("ngspice did not converge")
		}
		theirs += time.Since(began)
		for _, p := range e.pixels {
			if d := math.Abs(sol.Strips[p.strip].Volts()[p.k] - potential[p.plus] + potential[p.minus]); d > 1e-6 {
				b.Fatalf("pixel %d differs by %g V", p.k, d)
			}
		}
	}
	b.ReportMetric(theirs.Seconds()/ours.Seconds(), "times")
	b.ReportMetric(theirs.Seconds()/float64(b.N), "s/ngspice")
}
