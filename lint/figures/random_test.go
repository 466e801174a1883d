package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ohmstead/schema"
)

// TestRandomPlans writes plans at random and solves each a second time in the
// plainest way: a node for each side of each place and of each pixel, Newton on
// a dense matrix, all resistances and laws worked out afresh from the typed plan.
func TestRandomPlans(t *testing.T) {
	for seed := range uint64(30) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			text := randomPlan(rand.New(rand.NewPCG(seed, 7)))
			f := figuresOf(t, decode(t, "x", text), nil)
			for i, c := range f.Cases {
				if i == 1 {
					continue // held: the ceiling has tests of its own
				}
				compare(t, f, c, text)
			}
		})
	}
}

// randomPlan writes a plan of one to three supplies, joints, a controller and
// runs with feeds anywhere, some leads with one conductor alone.
func randomPlan(rng *rand.Rand) string {
	var b strings.Builder
	pick := func(all ...string) string { return all[rng.IntN(len(all))] }
	volts := []float64{5, 12, 24}[rng.IntN(3)]
	catalog := map[float64][]string{
		5:  {"ws2812b_5v_60", "sk6812_rgbw_5v_30", "ws2812b_5v_144"},
		12: {"ws2811_12v_60", "ws2815_12v_30", "ws2815_12v_60"},
		24: {"ws2811_24v_60"},
	}[volts]
	fmt.Fprintf(&b, "plan \"x\" { ambient = \"%d degC\" }\n", rng.IntN(60)-10)
	var ends []string // places that leads may come from
	for i := range 1 + rng.IntN(3) {
		outputs := 1 + rng.IntN(2)
		fmt.Fprintf(&b, "supply \"s%d\" {\n  output  = \"%g V\"\n  trim    = \"%.3f V\"\n  rating  = \"20 A\"\n  outputs = %d\n}\n",
			i, volts, volts*(1+0.02*rng.Float64()), outputs)
		for o := range outputs {
			ends = append(ends, fmt.Sprintf("supply.s%d.out[%d]", i, o+1))
		}
	}
	leads := 0
	lead := func(from, to string) {
		fmt.Fprintf(&b, "wire \"w%d\" {\n  gauge    = %q\n  stranded = %v\n}\n", leads, pick("18 AWG", "16 AWG", "22 AWG", "0.75 mm2", "1.5 mm2", "2.5 mm2"), rng.IntN(3) > 0)
		fmt.Fprintf(&b, "lead \"l%d\" {\n  from     = %s\n  to       = %s\n  wire     = wire.w%d\n  length   = \"%d mm\"\n  parallel = %d\n  carries  = %q\n}\n",
			leads, from, to, leads, 50+rng.IntN(4000), 1+rng.IntN(2), pick("pair", "pair", "pair", "pair", "pair", "pair", "plus", "minus"))
		leads++
	}
	for i := range rng.IntN(4) {
		fmt.Fprintf(&b, "joint \"j%d\" { resistance = \"%d mohm\" }\n", i, rng.IntN(20))
		for range 1 + rng.IntN(2) {
			lead(ends[rng.IntN(len(ends))], fmt.Sprintf("joint.j%d", i))
		}
		ends = append(ends, fmt.Sprintf("joint.j%d", i))
	}
	runs := 1 + rng.IntN(3)
	for i := range runs {
		density, group, length := 60.0, 1, 0.1+rng.Float64()
		strip := catalog[rng.IntN(len(catalog))]
		pixels := ""
		if rng.IntN(4) == 0 {
			pixels = fmt.Sprintf("  pixels = %d\n", 1+rng.IntN(40))
		}
		fmt.Fprintf(&b, "run \"r%d\" {\n  strip  = catalog.%s\n  length = \"%.3f m\"\n%s}\n", i, strip, length, pixels)
		place := func() string {
			switch rng.IntN(5) {
			case 0:
				return fmt.Sprintf("run.r%d.start", i)
			case 1:
				return fmt.Sprintf("run.r%d.end", i)
			case 2:
				return fmt.Sprintf("run.r%d[%d]", i, rng.IntN(int(length*density)/group+3))
			}
			return fmt.Sprintf("run.r%d[\"%d mm\"]", i, rng.IntN(int(length*1000)+100))
		}
		for range 1 + rng.IntN(3) {
			lead(ends[rng.IntN(len(ends))], place())
		}
		ends = append(ends, place())
	}
	fmt.Fprintf(&b, "controller \"c\" {\n  board   = catalog.esp32_devkit\n  needs   = \"%d mA\"\n  ceiling = \"%d mA\"\n  port \"p\" { pin = 4 }\n}\n", rng.IntN(400), 50+rng.IntN(2500))
	from := "controller.c.port.p"
	for i := range rng.IntN(runs + 1) {
		fmt.Fprintf(&b, "signal \"d%d\" {\n  from = %s\n  to   = run.r%d.start\n}\n", i, from, i)
		from = fmt.Sprintf("run.r%d.end", i)
	}
	lead(ends[rng.IntN(len(ends))], "controller.c.power")
	fmt.Fprintf(&b, "case \"own\" {\n  color    = \"#%06x\"\n  channels = { W = \"%d %%\" }\n  level    = \"%d %%\"\n  runs     = [run.r0]\n}\n", rng.IntN(1<<24), rng.IntN(101), rng.IntN(101))
	return b.String()
}

// dense is a network of resistors and loads between plus and minus, solved by
// Newton's method with full matrices.
type dense struct {
	names     map[string]int
	resistors []resistor
	sources   []resistor // ohms are volts
	loads     []denseLoad
}

type resistor struct {
	a, b int
	ohms float64
	lead *Lead // whose warmth it has, or nil
}

// flow is the current with volts over it and its slope, by bisection.
func (r *resistor) flow(volts float64) (amps, slope float64) {
	at := func(amps float64) float64 {
		return amps * r.ohms * (1 + r.lead.heat*min(amps*amps, r.lead.most*r.lead.most))
	}
	if r.lead == nil {
		return volts / r.ohms, 1 / r.ohms
	}
	low, high := 0.0, math.Abs(volts)/r.ohms
	for range 200 {
		if mid := (low + high) / 2; at(mid) < math.Abs(volts) {
			low = mid
		} else {
			high = mid
		}
	}
	const d = 1e-7
	return math.Copysign(high, volts), d / (at(high+d) - at(high))
}

type denseLoad struct {
	plus, minus int
	amps        func(v float64) (amps, slope float64)
}

func (d *dense) node(name string) int {
	if n, ok := d.names[name]; ok {
		return n
	}
	d.names[name] = len(d.names)
	return len(d.names) - 1
}

// solve gives the potential of each node and the current out of each source's
// plus. A leak across each load gives the nodes that float a place.
func (d *dense) solve(t *testing.T) (v, sourceAmps []float64) {
	t.Helper()
	n, m := len(d.names), len(d.sources)
	const leak = 1e-10 // S
	x := make([]float64, n+m)
	group := make([]int, n) // nodes that hang together in any way
	for i := range group {
		group[i] = i
	}
	join := func(a, b int) {
		from, to := group[a], group[b]
		for i := range group {
			if group[i] == from {
				group[i] = to
			}
		}
	}
	for _, r := range append(d.resistors[:len(d.resistors):len(d.resistors)], d.sources...) {
		join(r.a, r.b)
	}
	for _, l := range d.loads {
		join(l.plus, l.minus)
	}
	residual := func(x []float64) ([]float64, [][]float64) {
		f := make([]float64, n+m)
		j := make([][]float64, n+m)
		for i := range j {
			j[i] = make([]float64, n+m)
		}
		for i := range n {
			if group[i] == i {
				f[i] += x[i] // one node of each group is the reference
				j[i][i]++
			}
		}
		flow := func(a, b int, amps, slope float64) {
			f[a] += amps
			f[b] -= amps
			j[a][a] += slope
			j[a][b] -= slope
			j[b][b] += slope
			j[b][a] -= slope
		}
		for _, r := range d.resistors {
			amps, slope := r.flow(x[r.a] - x[r.b])
			flow(r.a, r.b, amps, slope)
		}
		for _, l := range d.loads {
			amps, slope := l.amps(x[l.plus] - x[l.minus])
			flow(l.plus, l.minus, amps+leak*(x[l.plus]-x[l.minus]), slope+leak)
		}
		for i, s := range d.sources {
			f[s.a] -= x[n+i]
			f[s.b] += x[n+i]
			j[s.a][n+i]--
			j[s.b][n+i]++
			f[n+i] = x[s.a] - x[s.b] - s.ohms
			j[n+i][s.a], j[n+i][s.b] = 1, -1
		}
		return f, j
	}
	for n := range 300 {
		f, j := residual(x)
		worst := 0.0
		for _, y := range f {
			worst = math.Max(worst, math.Abs(y))
		}
		if worst < 1e-10 {
			return x[:len(d.names)], x[len(d.names):]
		}
		step := gauss(j, f)
		if step == nil {
			t.Fatal("singular")
		}
		greatest := 0.0
		for _, y := range step[:len(d.names)] {
			greatest = math.Max(greatest, math.Abs(y))
		}
		// No leaps over the kinks of the laws, and ever shorter ones.
		scale := math.Min(1, 2/greatest)
		if n > 30 {
			scale = math.Min(1, 30/float64(n)/greatest)
		}
		for i := range x {
			x[i] -= scale * step[i]
		}
	}
	t.Fatal("the plain solver does not converge")
	return nil, nil
}

// gauss solves a x = b with row pivots.
func gauss(a [][]float64, b []float64) []float64 {
	n := len(b)
	for k := range n {
		p := k
		for i := k; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		if a[p][k] == 0 {
			return nil
		}
		a[k], a[p], b[k], b[p] = a[p], a[k], b[p], b[k]
		for i := k + 1; i < n; i++ {
			q := a[i][k] / a[k][k]
			if q == 0 {
				continue
			}
			for c := k; c < n; c++ {
				a[i][c] -= q * a[k][c]
			}
			b[i] -= q * b[k]
		}
	}
	for k := n - 1; k >= 0; k-- {
		for c := k + 1; c < n; c++ {
			b[k] -= a[k][c] * b[c]
		}
		b[k] /= a[k][k]
	}
	return b
}

func ramp(x float64) (y, inside float64) {
	switch {
	case x <= 0:
		return 0, 0
	case x >= 1:
		return 1, 0
	}
	return x, 1
}

// compare builds the plan plainly and compares a case.
func compare(t *testing.T, f *Figures, c *Case, text string) {
	t.Helper()
	p := f.Plan
	d := &dense{names: map[string]int{}}
	warm := 1 + 0.00393*(p.Head.Ambient.V.SI-20)

	// pads counts the LEDs before the pad that a place on a run means.
	leds := map[*schema.Run]int{}
	for i, r := range p.Runs {
		leds[r] = f.Runs[i].Pixels * r.Strip.V.Group.V
		if !r.Pixels.Set {
			s := r.Strip.V
			cuts := math.Floor(r.Length.V.SI*s.Density.V.SI/float64(s.Cut.V) + 1e-3)
			if leds[r] != int(cuts)*s.Cut.V {
				t.Errorf("%s: %d LEDs, want %d", r.ID(), leds[r], int(cuts)*s.Cut.V)
			}
		}
	}
	pad := func(pt *schema.Point) int {
		s := pt.Run.Strip.V
		at := 0.0 // LEDs
		switch pt.Where {
		case schema.AtStart:
			return 0
		case schema.AtEnd:
			return leds[pt.Run]
		case schema.AtPixel:
			at = float64(pt.Pixel * s.Group.V)
		case schema.AtDistance:
			at = pt.Distance.SI * s.Density.V.SI
		}
		n := int(math.Round(at/float64(s.Cut.V)-1e-9)) * s.Cut.V
		return min(n, leds[pt.Run])
	}
	side := []string{"+", "-"}
	name := func(pt *schema.Point, i int) string {
		switch {
		case pt.Supply != nil && i == 0:
			return fmt.Sprint(pt.Supply.Name, ".out", pt.Output, "+")
		case pt.Supply != nil:
			return pt.Supply.Name + "-"
		case pt.Run != nil:
			return fmt.Sprint("run ", pt.Run.Name, " pad ", pad(pt), side[i])
		case pt.Joint != nil:
			return "joint " + pt.Joint.Name + side[i]
		}
		return "controller " + pt.Controller.Name + side[i]
	}
	type conductor struct{ lead, side, resistor int }
	var conductors []conductor
	for i, l := range p.Leads {
		g, stranded := l.Wire.V.Gauge.V, l.Wire.V.Stranded.V
		perMetre := 0.0
		if n, ok := strings.CutSuffix(g.String(), " AWG"); ok {
			var awg float64
			fmt.Sscan(n, &awg)
			mm := 0.127 * math.Pow(92, (36-awg)/39)
			perMetre = 1 / 58. / (math.Pi / 4 * mm * mm)
			if stranded {
				perMetre *= 1.02
			}
		} else {
			class := map[string][2]float64{"0.75 mm2": {24.5, 26}, "1.5 mm2": {12.1, 13.3}, "2.5 mm2": {7.41, 7.98}}[g.String()]
			perMetre = class[0] / 1000
			if stranded {
				perMetre = class[1] / 1000
			}
		}
		ohms := perMetre * warm * l.Length.V.SI
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt.Joint != nil {
				ohms += pt.Joint.Resistance.V.SI
			}
		}
		ohms /= float64(l.Parallel.V)
		for k := range side {
			if l.Carries.V == "plus" && k == 1 || l.Carries.V == "minus" && k == 0 {
				continue
			}
			conductors = append(conductors, conductor{i, k, len(d.resistors)})
			d.resistors = append(d.resistors, resistor{d.node(name(l.From.V, k)), d.node(name(l.To.V, k)), ohms, f.Leads[i]})
		}
	}
	for _, s := range p.Supplies {
		for o := range s.Outputs.V {
			d.sources = append(d.sources, resistor{d.node(fmt.Sprint(s.Name, ".out", o+1, "+")), d.node(s.Name + "-"), s.Trim.V.SI, nil})
		}
	}
	for _, ctl := range p.Controllers {
		needs := ctl.Needs.V.SI
		d.loads = append(d.loads, denseLoad{d.node("controller " + ctl.Name + "+"), d.node("controller " + ctl.Name + "-"), func(v float64) (float64, float64) {
			y, in := ramp(v / 3)
			return needs * y, needs * in / 3
		}})
	}
	pixel := map[*schema.Run][]int{} // index of its first load
	for _, r := range p.Runs {
		s := r.Strip.V
		lit := c.Own == nil
		share := map[string]float64{}
		if c.Own != nil {
			for _, x := range c.Own.Runs.V {
				lit = lit || x == r
			}
			share = map[string]float64{"R": c.Own.Color.V.R, "G": c.Own.Color.V.G, "B": c.Own.Color.V.B, "W": c.Own.Channels.V["W"]}
		}
		amps, slope := make([]float64, 0), make([]float64, 0) // of each channel: most, foot
		sum, most := 0.0, 0.0
		for _, letter := range s.Channels.V {
			q, _ := s.ChannelCurrent.V.For(string(letter))
			fw, _ := s.Forward.V.For(string(letter))
			x := q.SI
			if c.Own != nil {
				x *= share[string(letter)] * c.Own.Level.V.SI
			}
			if !lit {
				x = 0
			}
			amps, slope = append(amps, x), append(slope, fw.SI*float64(s.Series.V))
			sum += fw.SI * float64(s.Series.V)
			most = math.Max(most, x)
		}
		if s.Stack.V == "series" {
			amps, slope = []float64{most}, []float64{sum}
		}
		idle, headroom := s.IdleCurrent.V.SI, s.Headroom.V.SI
		law := func(v float64) (float64, float64) {
			y, in := ramp(v / 3)
			i, g := idle*y, idle*in/3
			for c := range amps {
				y, in := ramp((v - slope[c]) / headroom)
				i += amps[c] * y
				g += amps[c] * in / headroom
			}
			return i, g
		}
		// A point at each end, each tapped pad and each pixel, in half LEDs.
		points := map[int]string{0: "pad 0", 2 * leds[r]: fmt.Sprint("pad ", leds[r])}
		for _, l := range p.Leads {
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				if pt.Run == r {
					points[2*pad(pt)] = fmt.Sprint("pad ", pad(pt))
				}
			}
		}
		for k := range leds[r] / s.Group.V {
			points[(2*k+1)*s.Group.V] = fmt.Sprint("pixel ", k)
		}
		last := -1
		for at := range 2*leds[r] + 1 {
			what, ok := points[at]
			if !ok {
				continue
			}
			plus, minus := d.node("run "+r.Name+" "+what+"+"), d.node("run "+r.Name+" "+what+"-")
			if strings.HasPrefix(what, "pixel") {
				pixel[r] = append(pixel[r], len(d.loads))
				d.loads = append(d.loads, denseLoad{plus, minus, law})
			}
			if last >= 0 {
				ohms := f.runs[r].Island.Circuit.Strips[f.runs[r].strip].Rail * float64(at-last) / 2 / s.Density.V.SI
				before := points[last]
				d.resistors = append(d.resistors,
					resistor{d.node("run " + r.Name + " " + before + "+"), plus, ohms, nil},
					resistor{d.node("run " + r.Name + " " + before + "-"), minus, ohms, nil})
			}
			last = at
		}
	}

	v, amps := d.solve(t)
	const volts, current = 1e-6, 1e-6
	for i, r := range p.Runs {
		rc := c.Runs[i]
		for k, l := range pixel[r] {
			want := v[d.loads[l].plus] - v[d.loads[l].minus]
			if !rc.OK {
				if a, _ := d.loads[l].amps(want); math.Abs(a) > 1e-7 {
					t.Fatalf("case %s: %s is not worked out, yet pixel %d draws %v A\n%s", c.Name, r.ID(), k, a, text)
				}
				continue
			}
			if math.Abs(rc.Volts()[k]-want) > volts {
				t.Fatalf("case %s: pixel %d of %s gets %.9f V, plainly %.9f V\n%s", c.Name, k, r.ID(), rc.Volts()[k], want, text)
			}
		}
		if rc.OK {
			near(t, r.ID()+" start, V", rc.StartVolts, v[d.node("run "+r.Name+" pad 0+")]-v[d.node("run "+r.Name+" pad 0-")], volts)
			near(t, r.ID()+" end, V", rc.EndVolts, v[d.node(fmt.Sprint("run ", r.Name, " pad ", leds[r], "+"))]-v[d.node(fmt.Sprint("run ", r.Name, " pad ", leds[r], "-"))], volts)
		}
	}
	for _, x := range conductors {
		r := d.resistors[x.resistor]
		want, _ := r.flow(v[r.a] - v[r.b])
		got := c.Leads[x.lead].Amps
		if x.side == 1 {
			got, want = c.Leads[x.lead].Back, -want
		}
		if !c.Leads[x.lead].OK || math.Abs(got-want) > current {
			t.Errorf("case %s: %s side %d carries %.9f A, plainly %.9f A\n%s", c.Name, p.Leads[x.lead].ID(), x.side, got, want, text)
		}
	}
	i := 0
	for k, s := range p.Supplies {
		for o := range s.Outputs.V {
			got := 0.0
			if c.Supplies[k].OK {
				got = c.Supplies[k].Each[o]
			}
			if math.Abs(got-amps[i]) > current {
				t.Errorf("case %s: output %d of %s gives %.9f A, plainly %.9f A\n%s", c.Name, o+1, s.ID(), got, amps[i], text)
			}
			i++
		}
	}
	for k, j := range p.Joints {
		if c.Joints[k].OK {
			near(t, j.ID()+", V", c.Joints[k].Volts, v[d.node("joint "+j.Name+"+")]-v[d.node("joint "+j.Name+"-")], volts)
		}
	}
}
