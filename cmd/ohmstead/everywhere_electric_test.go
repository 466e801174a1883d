package main

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
)

// rewired says what a change of the wiring does not keep of what its title says; ok is false where it is none.
func (p *read) rewired(a ide.Action) (check func(*read) []string, ok bool) {
	switch {
	case a.Kind != ide.RefactorRewrite:
	case strings.HasPrefix(a.Title, "Swap the ends of ") && strings.Contains(a.Title, "puts the fuse"):
		return p.bears(func(was, is float64) bool { return near(was, is) || near(was, -is) }), true
	case strings.HasPrefix(a.Title, "Swap the ends of "):
		return p.swapped, true
	case strings.HasPrefix(a.Title, "Give lead."):
		return func(after *read) []string {
			// Its resistance moves currents in rings.
			wrong := p.bears(func(_, _ float64) bool { return true })(after)
			for i, l := range after.plan.Leads {
				x, now := p.fig.Leads[i], after.fig.Leads[i]
				if !l.Fuse.Set || x.Fuse.Set {
					continue
				}
				if !now.Device.Carries(l.Fuse.V.SI, after.fig.WorstLead(now).Value) || !now.Device.Protects(l.Fuse.V.SI, now.Ampacity) {
					wrong = append(wrong, fmt.Sprintf("%s of %s does not suit", l.Fuse.V, l.ID()))
				}
			}
			for i, c := range p.fig.Cases {
				for k, x := range c.Supplies {
					if y := after.fig.Cases[i].Supplies[k]; c.Held && x.OK && len(p.plan.Supplies) == 1 && math.Abs(x.Amps-y.Amps) > 0.05*max(x.Amps, 0.1) {
						wrong = append(wrong, fmt.Sprintf("%s gives %g A, was %g A", x.Supply.ID(), y.Amps, x.Amps))
					}
				}
			}
			return wrong
		}, true
	case strings.HasPrefix(a.Title, "Turn run."):
		return p.turned, true
	case strings.HasPrefix(a.Title, "Split run."):
		return p.split, true
	}
	return nil, false
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(math.Abs(a), math.Abs(b), 1e-3) }

// swapped says what differs beside the sign of the currents of leads whose ends have changed places.
func (p *read) swapped(after *read) []string {
	signs := map[string]bool{}
	for i, l := range p.plan.Leads {
		if i < len(after.plan.Leads) && l.From.Known() && after.plan.Leads[i].To.Known() && l.From.V.Same(after.plan.Leads[i].To.V) {
			signs[l.ID()] = true
		}
	}
	if len(signs) == 0 {
		return []string{"swaps nothing"}
	}
	var doc map[string]any
	if err := json.Unmarshal([]byte(after.shown), &doc); err != nil {
		return []string{err.Error()}
	}
	for _, c := range doc["cases"].([]any) {
		for _, l := range c.(map[string]any)["leads"].([]any) {
			if l := l.(map[string]any); signs[l["id"].(string)] {
				if amps, ok := l["amps"].(float64); ok {
					l["amps"] = -amps
				}
			}
		}
	}
	data, _ := json.Marshal(doc)
	now := *after
	now.shown = string(data)
	return p.same(nil)(&now)
}

// bears says which warnings and errors have come, and where currents of leads are not what they may be.
func (p *read) bears(may func(was, is float64) bool) func(*read) []string {
	return func(after *read) (wrong []string) {
		before := p.ills(lint.Warning, false)
		for k, n := range after.ills(lint.Warning, false) {
			if n > before[k] {
				wrong = append(wrong, fmt.Sprintf("adds %s of %s", k[0], k[1]))
			}
		}
		for i, c := range p.fig.Cases {
			for k, x := range c.Leads {
				if y := after.fig.Cases[i].Leads[k]; x.OK && !may(x.Amps, y.Amps) {
					wrong = append(wrong, fmt.Sprintf("%s carries %g A, was %g A", p.plan.Leads[k].ID(), y.Amps, x.Amps))
				}
			}
		}
		return wrong
	}
}

// turned says what of power is not as it was once a run is turned: its least voltage lies at the pixel counted from its other end.
func (p *read) turned(after *read) []string {
	wrong := p.bears(near)(after)
	wrong = slices.DeleteFunc(wrong, func(s string) bool { return strings.Contains(s, " of signal.") }) // which go elsewhere, as the title says
	for i, c := range p.fig.Cases {
		o := after.fig.Cases[i]
		for k, x := range c.Runs {
			y := o.Runs[k]
			if x.OK && (!near(x.MinVolts, y.MinVolts) || !near(x.Amps, y.Amps) || !near(x.StartVolts+x.EndVolts, y.StartVolts+y.EndVolts)) {
				wrong = append(wrong, fmt.Sprintf("%s has %g V at least, was %g V", p.plan.Runs[k].ID(), y.MinVolts, x.MinVolts))
			}
		}
		for k, x := range c.Joints {
			if y := o.Joints[k]; x.OK && !near(x.Volts, y.Volts) {
				wrong = append(wrong, fmt.Sprintf("%s has %g V, was %g V", p.plan.Joints[k].ID(), y.Volts, x.Volts))
			}
		}
		for k, x := range c.Supplies {
			if y := o.Supplies[k]; x.OK && !near(x.Amps, y.Amps) {
				wrong = append(wrong, fmt.Sprintf("%s gives %g A, was %g A", p.plan.Supplies[k].ID(), y.Amps, x.Amps))
			}
		}
	}
	for i, u := range p.plan.Readings {
		if v := after.plan.Readings[i]; u.Place.Known() != v.Place.Known() {
			wrong = append(wrong, "loses the place of a reading")
		}
	}
	return wrong
}

// split says what is not as it was once a run is cut in two: pixels, warnings, and currents and voltages but for what the lead between the pieces takes.
func (p *read) split(after *read) (wrong []string) {
	name, link := "", 0.0
	for _, r := range after.plan.Runs {
		if _, ok := p.plan.Find(r.ID()); !ok {
			name = r.ID()
		}
	}
	of := strings.TrimSuffix(name, "-rest")
	joined := slices.IndexFunc(after.plan.Leads, func(l *schema.Lead) bool { return l.ID() == "lead."+strings.TrimPrefix(name, "run.") })
	if name == "" || joined < 0 {
		return []string{"makes no second run, or does not join it"}
	}
	for _, c := range after.fig.Cases {
		link = max(link, math.Abs(c.Leads[joined].Drop))
	}
	before := p.ills(lint.Warning, false)
	for k, n := range after.ills(lint.Warning, false) {
		if n > before[k] && before[[2]string{k[0], of}] == 0 {
			wrong = append(wrong, fmt.Sprintf("adds %s of %s", k[0], k[1]))
		}
	}
	pixels, now := 0, 0
	for _, r := range p.fig.Runs {
		pixels += r.Pixels
	}
	for _, r := range after.fig.Runs {
		now += r.Pixels
	}
	if pixels != now {
		wrong = append(wrong, fmt.Sprintf("has %d pixels, had %d", now, pixels))
	}
	for i, o := range p.fig.Orders {
		if q := after.fig.Orders[i]; q.Pixels != o.Pixels {
			wrong = append(wrong, o.ID()+" has another number of pixels")
		}
	}
	for i, c := range p.fig.Cases {
		o := after.fig.Cases[i]
		for k, x := range c.Runs {
			least, amps := math.Inf(1), 0.0
			for j, r := range after.plan.Runs {
				if id := p.plan.Runs[k].ID(); r.ID() == id || r.ID() == name && id == of {
					least, amps = min(least, o.Runs[j].MinVolts), amps+o.Runs[j].Amps
				}
			}
			if x.OK && (math.Abs(least-x.MinVolts) > link+1e-6 || math.Abs(amps-x.Amps) > 0.01*max(x.Amps, 0.1)) {
				wrong = append(wrong, fmt.Sprintf("%s has %g V and %g A, had %g V and %g A", p.plan.Runs[k].ID(), least, amps, x.MinVolts, x.Amps))
			}
		}
	}
	return wrong
}
