package lint

import (
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Trial reports whether the pass only tries a remedy out: no remedy is looked
// for then.
func (p *Pass) Trial() bool { return p.trial }

// Clears tries a change on a copy of the plan and judges the copy by the same
// rules. It reports whether the finding of this pass's rule about the subject
// is gone and no warning or error has come that was not there, and gives the
// figures of the changed plan. The change replaces blocks by changed copies,
// as Replace does; it never writes to the blocks themselves.
func (p *Pass) Clears(subject string, change func(*schema.Plan)) (*figures.Figures, bool) {
	if p.trial {
		return nil, false
	}
	changed := *p.Plan
	change(&changed)
	fig := p.Figures.Try(&changed)
	var before, after []Finding
	check(p.Plan, p.Figures, p.rules, true, &before)
	check(&changed, fig, p.rules, true, &after)
	was := map[[2]string]bool{}
	for _, f := range before {
		was[[2]string{f.Rule, f.Subject}] = true
	}
	for _, f := range after {
		if f.Rule == p.rule.Name && f.Subject == subject {
			return fig, false
		}
		if f.Level >= Warning && !was[[2]string{f.Rule, f.Subject}] {
			return fig, false
		}
	}
	return fig, true
}

// Replace gives a copy of a list with one block replaced by another.
func Replace[T comparable](list []T, old, new T) []T {
	out := make([]T, len(list))
	for i, x := range list {
		if x == old {
			x = new
		}
		out[i] = x
	}
	return out
}
