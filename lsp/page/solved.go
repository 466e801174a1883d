package page

import (
	"fmt"
	"math"

	"ohmstead/lint"
	"ohmstead/lint/drawing"
	"ohmstead/lint/figures"
	"ohmstead/lsp/ide"
)

// solvedKinds are the kinds of pieces that solved makes.
var solvedKinds = []string{"volts", "flow", "level", "scale"}

// solved is what flows, in every case.
func solved(f *figures.Figures) map[string]any {
	out := map[string]any{}
	low, high := math.Inf(1), math.Inf(-1)
	for i, r := range f.Runs {
		v, some := volts{}, false
		for _, c := range f.Cases {
			rc := &c.Runs[i]
			if !rc.OK {
				v.Cases = append(v.Cases, nil)
				continue
			}
			p := &profile{Amps: milli(rc.Amps), Min: milli(rc.MinVolts), MinPixel: rc.MinPixel}
			for _, u := range rc.Volts() {
				p.At = append(p.At, milli(u))
				low, high = min(low, u/r.Volts), max(high, u/r.Volts)
			}
			v.Cases, some = append(v.Cases, p), true
		}
		if !some {
			continue
		}
		if w := f.WorstVolts(r, r.Strip.V.MinVoltage.V.SI); w.OK {
			v.Worst = &worst{milli(w.Value), w.Pixel, w.Case}
		}
		out["volts/"+r.ID()] = v
	}
	for i, l := range f.Leads {
		x := flow{Ampacity: milli(l.Ampacity)}
		for _, c := range f.Cases {
			if lc := c.Leads[i]; lc.OK {
				x.Cases = append(x.Cases, &[2]int{milli(math.Abs(lc.Amps)), milli(lc.Drop)})
			} else {
				x.Cases = append(x.Cases, nil)
			}
		}
		if w := f.WorstLead(l); w.OK {
			x.Worst = &worst{Value: milli(w.Value), Case: w.Case}
		}
		out["flow/"+l.ID()] = x
	}
	for i, s := range f.Plan.Supplies {
		x := levels(f, func(c *figures.Case) (float64, bool) { return c.Supplies[i].Volts, c.Supplies[i].OK })
		x.Loads = levels(f, func(c *figures.Case) (float64, bool) { return c.Supplies[i].Load, c.Supplies[i].OK }).Cases
		out["level/"+s.ID()] = x
	}
	for i, j := range f.Plan.Joints {
		out["level/"+j.ID()] = levels(f, func(c *figures.Case) (float64, bool) { return c.Joints[i].Volts, c.Joints[i].OK })
	}
	for i, ctl := range f.Controllers {
		out["level/"+ctl.ID()] = levels(f, func(c *figures.Case) (float64, bool) { return c.Controllers[i].Volts, c.Controllers[i].OK })
	}
	out["scale"] = scaleOf(low, high)
	return out
}

// levels reads one figure of every case.
func levels(f *figures.Figures, of func(*figures.Case) (float64, bool)) (x level) {
	for _, c := range f.Cases {
		var at *int
		if v, ok := of(c); ok && !math.IsNaN(v) {
			at = new(milli(v))
		}
		x.Cases = append(x.Cases, at)
	}
	return x
}

// narrow is the least span of the colours: a plan that loses nothing is all of one.
const narrow = 0.02

func scaleOf(low, high float64) scale {
	if !(low <= high) {
		low, high = 1, 1
	}
	out := scale{Low: min(low, high-narrow), High: high}
	for i := range drawing.Steps {
		r, g, b := drawing.Ramp(float64(i) / (drawing.Steps - 1)).RGB()
		out.Ramp = append(out.Ramp, fmt.Sprintf("#%02x%02x%02x", r, g, b))
	}
	return out
}

// foundKinds are the kinds of pieces that tell what was found.
var foundKinds = []string{"findings", "hidden"}

// hidden counts what the plan says not to tell, by its means.
func hidden(of []lint.Hidden) map[lint.Means]int {
	out := map[lint.Means]int{}
	for i := range of {
		out[of[i].Means]++
	}
	return out
}

// found lists findings at their places.
func found(v *ide.View, ds []ide.Diagnostic) []finding {
	out := make([]finding, 0, len(ds))
	for _, d := range ds {
		f := &v.Findings[d.Finding]
		x := finding{Level: d.Level.String(), Rule: f.Rule, Subject: f.Subject, Message: f.Message, Case: f.Case, Place: Place{d.Path, 1}}
		if at, ok := placeOf(v.Plan, f.At); ok {
			x.Place = at
		}
		out = append(out, x)
	}
	return out
}

// patternOf gives the runs that the worst pattern of a lead, or of a run's
// worst pixel, reaches.
func patternOf(f *figures.Figures, id string) map[string]lit {
	var all []figures.Lit
	if l, ok := f.LeadNamed(id); ok {
		all = f.LeadPattern(l)
	} else if r, ok := f.RunNamed(id); ok {
		all = f.RunPattern(r)
	}
	out := map[string]lit{}
	for _, x := range all {
		y := lit{}
		for k, s := range x.Shares {
			y.Shares = append(y.Shares, rounded(100*s))
			if x.Volts != nil {
				y.At = append(y.At, milli(x.Volts[k]))
			}
		}
		out[x.Run.ID()] = y
	}
	return out
}
