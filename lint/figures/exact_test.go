package figures

import (
	"fmt"
	"math"
	"math/big"
	"testing"
)

// precise is a number of 160 bits.
func precise(x float64) *big.Float { return new(big.Float).SetPrec(160).SetFloat64(x) }

// ladder solves a run fed at one end, from its last pixel back to the source:
// lead is the one that feeds it, as warm as its current makes it, step that of a pitch of both
// rails. It gives the voltage of each pixel.
func ladder(t *testing.T, n int, volts float64, lead *Lead, step float64, law func(v *big.Float) *big.Float) []float64 {
	t.Helper()
	first := precise(step / 2)
	back := func(last *big.Float) (feed *big.Float, all []float64) {
		all = make([]float64, n)
		v, amps, drop, pitch := precise(0).Set(last), precise(0), precise(0), precise(step)
		for k := n - 1; k >= 0; k-- {
			all[k], _ = v.Float64()
			amps.Add(amps, law(v))
			if k == 0 {
				flows, _ := amps.Float64()
				w := lead.side(false, 0, 0)
				pitch = precise(2 * w.At(flows))
				pitch.Add(pitch, first)
			}
			v.Add(v, drop.Mul(pitch, amps))
		}
		return v, all
	}
	low, high := precise(0), precise(volts)
	for range 150 {
		mid := precise(0).Add(low, high)
		mid.Quo(mid, precise(2))
		feed, all := back(mid)
		switch d, _ := feed.Sub(feed, precise(volts)).Float64(); {
		case math.Abs(d) < 1e-13:
			return all
		case d > 0:
			high = mid
		default:
			low = mid
		}
	}
	t.Fatal("the ladder misses its source")
	return nil
}

// lawOf is the law of a run's pixel at full, in high precision.
func lawOf(r *Run) func(*big.Float) *big.Float {
	return func(v *big.Float) *big.Float {
		sum := precise(0)
		near, _ := v.Float64()
		add := func(foot, width, amps float64) {
			switch {
			case near < foot-1e-9:
			case near > foot+width+1e-9:
				sum.Add(sum, precise(amps))
			default:
				x := precise(0).Sub(v, precise(foot))
				x.Quo(x, precise(width))
				if x.Sign() < 0 {
					return
				}
				if x.Cmp(precise(1)) > 0 {
					x = precise(1)
				}
				sum.Add(sum, x.Mul(x, precise(amps)))
			}
		}
		add(0, 3, r.Law.Idle)
		for _, c := range r.Law.Channels {
			add(c.Forward, c.Headroom, c.Amps)
		}
		return sum
	}
}

// TestExactWhereHard solves plans that nobody should build: the solver keeps to
// a thousand-millionth of a volt.
func TestExactWhereHard(t *testing.T) {
	worst := func(got, want []float64) float64 {
		d := 0.0
		for k, v := range got {
			d = math.Max(d, math.Abs(v-want[k]))
		}
		return d
	}
	for _, tc := range []struct {
		name, strip   string
		length, volts float64
		gauge         string
		lead          string
		metres        float64
	}{
		{"100 m of 6,000 pixels from one end on 0.1 mm2", "ws2812b_5v_60", 100, 5, "0.1 mm2", "10 m", 10},
		{"100 m of 6,000 pixels from one end on 10 mm2", "ws2812b_5v_60", 100, 5, "10 mm2", "1 mm", 1e-3},
		{"100 m of 2,000 groups at 12 V", "ws2811_12v_60", 100, 12, "0.75 mm2", "1 m", 1},
		{"20 m of 144 a metre", "ws2812b_5v_144", 20, 5, "2.5 mm2", "50 cm", 0.5},
		{"5 m, sound", "ws2812b_5v_30", 5, 5, "2.5 mm2", "50 cm", 0.5},
	} {
		t.Run(tc.name, func(t *testing.T) {
			plan := func(length float64, more string) *Figures {
				return worked(t, fmt.Sprintf(`plan "x" {}
supply "s" {
  output = "%g V"
  rating = "100 A"
}
wire "w" { gauge = %q }
run "r" {
  strip  = catalog.%s
  length = "%g m"
}
lead "start" {
  from   = supply.s.out
  to     = run.r.start
  wire   = wire.w
  length = %q
}
`, tc.volts, tc.gauge, tc.strip, length, tc.lead)+more)
			}
			f := plan(tc.length, "")
			r := f.Runs[0]
			if f.Islands[0].Err != nil {
				t.Fatal(f.Islands[0].Err)
			}
			want := ladder(t, r.Pixels, tc.volts, f.Leads[0], 2*f.Islands[0].Circuit.Strips[0].Rail*r.Pitch, lawOf(r))
			d := worst(f.Cases[0].Runs[0].Volts(), want)
			// Fed at both ends and twice as long, each half is the same.
			g := plan(2*tc.length, fmt.Sprintf("lead \"end\" {\n  from   = supply.s.out\n  to     = run.r.end\n  wire   = wire.w\n  length = %q\n}\n", tc.lead))
			both := worst(g.Cases[0].Runs[0].Volts()[:r.Pixels], want)
			t.Logf("off by %.2g V, fed at both ends %.2g V; the last pixel has %.6f V", d, both, want[len(want)-1])
			if d > 1e-9 || both > 1e-9 {
				t.Errorf("off by %g V, fed at both ends by %g V", d, both)
			}
		})
	}
}

// Contacts of a millionth of an ohm among ordinary leads, in a ring.
func TestExactWithTinyContacts(t *testing.T) {
	f := worked(t, `plan "x" { ambient = "20 degC" }`+plain+`
joint "a" { resistance = "0.001 mohm" }
joint "b" { resistance = "0.001 mohm" }
wire "w" {
  gauge    = "0.1 mm2"
  stranded = false
}
run "r" {
  strip  = strip.plain
  length = "1 m"
}
`+lead("in", "supply.s.out", "joint.a", "awg_18", "20 m")+
		lead("left", "joint.a", "joint.b", "awg_10", "0.01 mm")+
		lead("right", "joint.a", "joint.b", "awg_10", "0.01 mm")+
		lead("out", "joint.b", "run.r.start", "awg_18", "0.01 mm"))
	full := f.Cases[0]
	flows := []float64{1.68, 0.84, 0.84, 1.68}
	ohms := func(i int) float64 { w := f.Leads[i].side(false, 0, 0); return w.At(flows[i]) }
	for i, want := range flows {
		near(t, f.Leads[i].ID()+", A", full.Leads[i].Amps, want, 1e-8)
	}
	near(t, "joint a, V", full.Joints[0].Volts, 12-2*1.68*ohms(0), 1e-9)
	near(t, "joint b, V", full.Joints[1].Volts, 12-2*1.68*(ohms(0)+ohms(1)/2), 1e-9)
	near(t, "run, V", full.Runs[0].StartVolts, 12-2*1.68*(ohms(0)+ohms(1)/2+ohms(3)), 1e-9)
}
