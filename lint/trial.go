package lint

import (
	"context"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Trial reports whether the pass only tries a remedy out: no remedy is looked
// for then.
func (p *Pass) Trial() bool { return p.before == nil }

// found is what a judged plan has: the level of each rule's findings about
// each subject.
type found map[[2]string]Level

// baseline is what the plan has before any remedy is tried. It is made when
// first asked for.
type baseline struct{ found found }

// Clears tries a change on a copy of the plan and judges the copy by the same
// rules. It reports whether the finding of this pass's rule about the subject
// is gone and no warning or error has come that was not there, and gives the
// figures of the changed plan. The change replaces blocks by changed copies,
// as Replace does; it never writes to the blocks themselves.
func (p *Pass) Clears(subject string, change func(*schema.Plan)) (*figures.Figures, bool) {
	if p.Trial() {
		return nil, false
	}
	if p.before.found == nil {
		p.before.found = p.judge(p.Plan, p.Figures)
	}
	changed := *p.Plan
	change(&changed)
	fig, err := p.Figures.Try(context.TODO(), &changed)
	if err != nil {
		return nil, false
	}
	after := p.judge(&changed, fig)
	if _, failed := after[[2]string{RuleFailed, ""}]; failed {
		return fig, false
	}
	if _, still := after[[2]string{p.rule.Name, subject}]; still {
		return fig, false
	}
	for k, level := range after {
		if level >= Warning && level > p.before.found[k] {
			return fig, false
		}
	}
	return fig, true
}

// judge tries all rules out on a plan. Rules that its policy switches off do
// not stand in the way of a remedy.
func (p *Pass) judge(plan *schema.Plan, fig *figures.Figures) found {
	var list []Finding
	_, _ = check(context.Background(), plan, fig, p.rules, nil, &list)
	out := found{}
	for _, f := range applyPolicy(plan, byName(p.rules), list) {
		k := [2]string{f.Rule, f.Subject}
		out[k] = max(out[k], f.Level)
	}
	return out
}

// Replace gives a copy of a list with one block replaced by another. Blocks that
// refer to the old one go on doing so: replace them too where that matters.
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
