package compare

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// group is plans of which the same is to be told, but for their numbers: one change
// in stock is told once.
type group struct {
	lead  *Plan // the gravest of them, which speaks for all
	plans []*Plan
}

// groups puts plans together that are alike, in the order of the plans.
func (r *Report) groups() []group {
	at := map[string]int{}
	var out []group
	for _, p := range r.Plans {
		key := p.likeness()
		i, seen := at[key]
		if !seen {
			at[key] = len(out)
			out = append(out, group{p, []*Plan{p}})
			continue
		}
		g := &out[i]
		g.plans = append(g.plans, p)
		if p.strained() > g.lead.strained() {
			g.lead = p
		}
	}
	return out
}

// likeness is the same of plans of which the same is to be told.
func (p *Plan) likeness() string {
	if p.Failed != "" || p.Status != Changed || p.Moved != "" {
		return "only " + p.Dir
	}
	parts := []string{p.Unsolved, p.Why}
	parts = append(parts, p.sentences()...)
	rules := map[string]bool{}
	for _, f := range p.Findings.New {
		rules[fmt.Sprint("new ", f.Rule, f.Level, f.Worse, f.Again)] = true
	}
	for _, f := range p.Findings.Gone {
		rules["gone "+f.Rule+f.Level] = true
	}
	for _, s := range p.Silenced.New {
		rules["hidden "+s.Rule+s.ByFile] = true
	}
	for _, s := range p.Silenced.Changed {
		rules["otherwise "+s.Rule+s.Reason] = true
	}
	for _, s := range p.Silenced.Gone {
		rules["told "+s.Rule] = true
	}
	for _, s := range p.Silenced.Settings {
		rules["setting "+s.sentence()] = true
	}
	parts = append(parts, slices.Sorted(maps.Keys(rules))...)
	parts = append(parts, p.judged(), fmt.Sprint(len(p.Places) > 0))
	return strings.Join(parts, "\x00")
}

// strained is how near to a limit or beyond it the plan comes.
func (p *Plan) strained() float64 {
	most := 0.0
	for _, f := range p.Findings.New {
		if v := f.found; v != nil && v.Value != nil && v.Value.Limit != 0 {
			most = math.Max(most, 10+math.Abs(v.Value.Got-v.Value.Limit)/math.Abs(v.Value.Limit))
		}
	}
	for _, m := range p.Moves {
		if m.Is != nil && m.Limit != nil && *m.Limit > 0 && *m.Is > 0 {
			s := *m.Is / *m.Limit
			if m.Figure == LeastVoltage {
				s = *m.Limit / *m.Is
			}
			most = math.Max(most, math.Min(s, 9))
		}
	}
	return most
}

// heading names the plans of a group.
func (g group) heading(r *Report) string {
	if len(g.plans) == 1 {
		s := g.lead.heading()
		if r.Total > 1 {
			s += ", " + clip(oneLine(g.lead.Dir), 120)
		}
		return s
	}
	var names []string
	for _, p := range g.plans {
		names = append(names, r.label(p))
	}
	return fmt.Sprintf("%d plans alike: %s; told of %s", len(names), listed(names, 8), r.label(g.lead))
}

// short is what to call a group in a table of contents.
func (g group) short(r *Report) string {
	if n := len(g.plans) - 1; n > 0 {
		return fmt.Sprintf("%s and %d more", r.label(g.lead), n)
	}
	return r.label(g.lead)
}

// verdict is the gravest of what there is to know of a group, in a few words.
func (g group) verdict() string {
	all := g.lead.news()
	if len(all) == 0 {
		return ""
	}
	n := slices.MaxFunc(all, func(a, b news) int { return a.weight - b.weight })
	switch {
	case n.weight == notJudged:
		return "not judged"
	case len(n.each) > 0 && n.each[0] == 1:
		return n.one
	case len(n.each) > 0:
		return fmt.Sprintf(n.some, n.each[0])
	}
	return clip(oneLine(n.text), 90)
}

// Summary is that of the plan that speaks for the group, and what differs among them.
func (g group) summary(r *Report) []Point {
	out := g.lead.Summary()
	if len(g.plans) == 1 {
		return out
	}
	if s := g.among(r); s != "" {
		out = append(out, Point{"Among them", s})
	}
	return out
}

// among says between which values the plans of a group differ.
func (g group) among(r *Report) string {
	var parts []string
	span := func(what string, of func(*Plan) (float64, bool), show func(float64) string, lowest bool) {
		least, most := math.Inf(1), math.Inf(-1)
		var at *Plan
		for _, p := range g.plans {
			v, ok := of(p)
			if !ok {
				continue
			}
			if at == nil || lowest && v < least || !lowest && v > most {
				at = p
			}
			least, most = math.Min(least, v), math.Max(most, v)
		}
		if at == nil || show(least) == show(most) {
			return
		}
		where := "most"
		if lowest {
			where = "least"
		}
		parts = append(parts, fmt.Sprintf("%s %s to %s (%s in %s)", what, show(least), show(most), where, r.label(at)))
	}
	figure := func(f Figure) func(*Plan) (float64, bool) {
		return func(p *Plan) (v float64, ok bool) {
			for _, m := range p.Moves {
				if m.Figure == f && m.Is != nil && (m.Case == schema.Full || m.Case == schema.Any) && (!ok || f == LeastVoltage && *m.Is < v || f != LeastVoltage && *m.Is > v) {
					v, ok = *m.Is, true
				}
			}
			return v, ok
		}
	}
	span("least voltage", figure(LeastVoltage), volts, true)
	span("load", figure(Load), share, false)
	span("findings", func(p *Plan) (float64, bool) { return float64(len(p.Findings.New)), len(p.Findings.New) > 0 }, func(v float64) string { return fmt.Sprint(v) }, false)
	span("cost", func(p *Plan) (float64, bool) {
		if len(p.Cost) != 1 {
			return 0, false
		}
		return p.Cost[0].Is - p.Cost[0].Was, true
	}, func(v float64) string {
		for _, p := range g.plans {
			if len(p.Cost) == 1 {
				return Amount{v, p.Cost[0].Currency}.signed()
			}
		}
		return quantity.Number(v, 4)
	}, false)
	return strings.Join(parts, "; ")
}

func sortedKeys(m map[string]float64) []string { return slices.Sorted(maps.Keys(m)) }
