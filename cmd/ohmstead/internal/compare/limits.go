package compare

import (
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// Limit is a figure of the policy that another value holds for now: what was found
// may be gone for that alone.
type Limit struct {
	Name string  `json:"name"` // "drop", "load", "slack", "tail", "spare"
	Was  float64 `json:"was"`  // a share; "tail" in m
	Is   float64 `json:"is"`
}

func (m *matching) limits() []Limit {
	list := func(l schema.Limits) []Limit {
		return []Limit{{Name: "drop", Is: l.Drop}, {Name: "load", Is: l.Load}, {Name: "slack", Is: l.Slack}, {Name: "tail", Is: l.Tail}, {Name: "spare", Is: l.Spare}}
	}
	out := []Limit{}
	before := list(m.base.Plan.Limits())
	for i, l := range list(m.head.Plan.Limits()) {
		if l.Was = before[i].Is; l.Was != l.Is {
			out = append(out, l)
		}
	}
	return out
}

// Policies says in sentences what the policies of two versions of a plan judge
// otherwise: levels of rules, and limits that findings hang on.
func Policies(base, head *schema.Plan) []string {
	m := &matching{base: &version{Side: &Side{Plan: base}}, head: &version{Side: &Side{Plan: head}}}
	var out []string
	var s Silenced
	m.settings(&s)
	for _, x := range s.Settings {
		out = append(out, x.sentence())
	}
	for _, l := range m.limits() {
		if l.judges() {
			out = append(out, l.sentence())
		}
	}
	return out
}

// judges reports whether findings hang on a limit itself, not on what it is added to.
func (l Limit) judges() bool { return l.Name == "drop" || l.Name == "load" }

// judged tells which limits changed and whether they are looser now.
func (p *Plan) judged() string {
	var parts []string
	for _, l := range p.Limits {
		parts = append(parts, l.sentence())
	}
	return strings.Join(parts, "; ")
}

func (l Limit) sentence() string {
	show := func(v float64) string {
		if l.Name == "tail" {
			return quantity.Show(quantity.Length, v)
		}
		return quantity.Show(quantity.Share, v)
	}
	how := ""
	switch {
	case !l.judges():
	case l.Is > l.Was:
		how = ", looser than before"
	default:
		how = ", stricter than before"
	}
	return "the policy's " + l.Name + " is " + show(l.Was) + " → " + show(l.Is) + how
}

// judges reports whether a change is one of what the plan is judged by alone, as
// Silenced and Limits tell it.
func (b Block) judges() bool {
	return b.Type == "policy" || b.Type == "let" && len(b.Reach) > 0 && !slices.ContainsFunc(b.Reach, func(id string) bool { return !strings.HasPrefix(id, "policy") })
}
