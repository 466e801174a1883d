package figures

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// TestWildValues puts wild numbers, units and references into plans. Whatever
// is worked out is a number, and what is not is not claimed.
func TestWildValues(t *testing.T) {
	number := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	ref := regexp.MustCompile(`(supply|joint|run|controller|wire|strip|catalog)\.[a-z0-9_.-]+`)
	wild := []string{"0", "1", "3", "0.001", "1e-9", "1e-300", "1e9", "1e300", "-1", "-0", "99999", "7.3", "1000000"}
	var texts []string
	for _, name := range demos(t) {
		texts = append(texts, textOf(t, name))
	}
	for seed := range uint64(6) {
		texts = append(texts, randomPlan(rand.New(rand.NewPCG(seed, 3))))
	}
	whole := 0
	for seed := range uint64(600) {
		rng := rand.New(rand.NewPCG(seed, 19))
		text := texts[rng.IntN(len(texts))]
		for range 1 + rng.IntN(3) {
			if rng.IntN(3) == 0 {
				all := ref.FindAllStringIndex(text, -1)
				a, b := all[rng.IntN(len(all))], all[rng.IntN(len(all))]
				text = text[:a[0]] + text[b[0]:b[1]] + text[a[1]:]
				continue
			}
			all := number.FindAllStringIndex(text, -1)
			a := all[rng.IntN(len(all))]
			text = text[:a[0]] + wild[rng.IntN(len(wild))] + text[a[1]:]
		}
		if rng.IntN(8) == 0 {
			text = text[:rng.IntN(len(text))]
		}
		p := schema.Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text)))}, nil)
		pixels := 0
		for _, r := range p.Runs {
			pixels += r.Pixels.V + int(math.Min(1e7, r.Length.V.SI*1000))
		}
		if pixels > 3e6 {
			continue // sound, and slow
		}
		f := figuresOf(t, p, nil)
		if len(p.Problems) == 0 {
			whole++
		}
		sound := func(what string, xs ...float64) {
			t.Helper()
			for _, x := range xs {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("plan %d: %s is %v\n%s", seed, what, x, text)
				}
			}
		}
		for _, c := range f.Cases {
			for i, l := range c.Leads {
				sound(f.Leads[i].ID(), l.Amps, l.Back, l.Drop, l.Watts)
			}
			for _, s := range c.Supplies {
				sound(s.Supply.ID(), s.Volts, s.Amps)
				if s.Supply != nil && s.Supply.Rating.Known() {
					sound(s.Supply.ID(), s.Load)
				}
			}
			for _, j := range c.Joints {
				sound(j.Joint.ID(), j.Volts, j.Amps)
			}
			for i, x := range c.Controllers {
				sound(f.Controllers[i].ID(), x.Volts, x.Estimate, x.Scale)
			}
			for i, r := range c.Runs {
				sound(fmt.Sprint(c.Name, " ", f.Runs[i].ID()), r.Amps, r.Watts, r.MinVolts, r.StartVolts, r.EndVolts, r.RailAmps, r.RailAt)
				sound(f.Runs[i].ID(), r.Volts()...)
			}
		}
		for i, l := range f.Leads {
			sound(l.ID(), l.Length, l.Ohms, l.Ampacity, l.Fault.Amps, f.Any.Leads[i].Amps)
		}
		for i, r := range f.Runs {
			sound(r.ID(), r.Length, r.Pitch, r.LeastAt, r.PixelMax, f.Any.Runs[i].MinVolts, f.Any.Runs[i].RailAmps)
		}
		for _, port := range f.Ports {
			sound(port.ID(), port.FrameTime, port.Rate)
		}
		for i := range f.Plan.Supplies {
			sound("supply", f.Any.Supplies[i].Amps, f.WorstSupply(i).Value)
		}
		for _, r := range f.Readings() {
			sound(r.ID(), r.Want, r.Leave)
		}
		for _, l := range f.Leads {
			sound(l.ID(), f.WorstLead(l).Value)
		}
		for _, r := range f.Runs {
			rail, at := f.WorstRail(r)
			sound(r.ID(), f.WorstVolts(r, 4).Value, rail.Value, at)
		}
	}
	t.Logf("%d plans without problems among them", whole)
}
