package lint

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Verdict is what a plan is judged to be.
type Verdict struct {
	Findings []Finding
	Hidden   []Hidden
}

// Hidden is a finding that is not told because the plan says so.
type Hidden struct {
	Finding
	By     source.Span // the comment that allows it, or the rule's name in a policy; zero for a baseline
	Means  Means
	Reason string
	Guard  bool // the rule guards against fire or shock
}

// Means is by what a finding is hidden.
type Means string

// A plan hides by comments and by its policy, who checks it by a list of what is known.
const (
	Comment  Means = "comment"
	Policy   Means = "policy"
	Baseline Means = "baseline"
)

// Run judges a plan by the rules: the decoder's problems, then every rule's
// findings, then policy and silencing comments. The result is ordered by file,
// place and rule, and is the same for the same plan. A rule that fails costs
// its own findings only, and is a finding itself. What is not yet solved of
// the figures is solved first. Several rules look at the plan at a time; before
// each Run looks whether ctx has ended, whose error it then returns.
func Run(ctx context.Context, plan *schema.Plan, fig *figures.Figures, rules []*Rule) (Verdict, error) {
	named := byName(rules)
	v, failed, err := judge(ctx, plan, fig, rules, named)
	if err != nil {
		return Verdict{}, err
	}
	applySilence(plan, named, failed, &v)
	v.Findings = mergeCopies(plan, followCauses(named, v.Findings))
	sortFindings(plan, v.Findings)
	if slices.ContainsFunc(failed, func(r *Rule) bool { return r.Guard }) {
		for i := range v.Findings {
			v.Findings[i].Fixes, v.Findings[i].Propose = nil, nil // nobody knows what they would do
		}
	}
	return v, nil
}

// Judge is Run before comments silence findings and copies are counted as one,
// in no order: what there is, whoever knows of it.
func Judge(ctx context.Context, plan *schema.Plan, fig *figures.Figures, rules []*Rule) ([]Finding, error) {
	v, _, err := judge(ctx, plan, fig, rules, byName(rules))
	return v.Findings, err
}

func judge(ctx context.Context, plan *schema.Plan, fig *figures.Figures, rules []*Rule, byName map[string]*Rule) (v Verdict, failed []*Rule, err error) {
	if err := fig.Solve(ctx); err != nil {
		return v, nil, err
	}
	looks, order := make([]look, len(rules)), make([]int, 0, len(rules))
	for _, long := range []bool{true, false} {
		for i, r := range rules {
			if r.Check != nil && r.Long == long {
				order = append(order, i)
			}
		}
	}
	var next atomic.Int64
	var work sync.WaitGroup
	some := func() {
		for i := int(next.Add(1)) - 1; i < len(order) && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
			looks[order[i]] = rules[order[i]].look(plan, fig)
		}
	}
	for range min(runtime.GOMAXPROCS(0), len(order)) - 1 {
		work.Go(some)
	}
	some()
	work.Wait()
	if err := ctx.Err(); err != nil {
		return v, nil, err
	}
	all := len(plan.Problems)
	for _, l := range looks {
		all += len(l.found)
	}
	out := make([]Finding, 0, all)
	for _, pr := range plan.Problems {
		level := Error
		if r, ok := byName[pr.Rule]; ok {
			level = r.Level
		}
		out = append(out, Finding{Rule: pr.Rule, Level: level, Subject: plan.BlockAt(pr.At), Message: pr.Message, At: pr.At, Related: pr.Related, Fixes: pr.Fixes})
	}
	for i, l := range looks {
		out = append(out, l.found...)
		if l.failed {
			failed = append(failed, rules[i])
		}
	}
	return applyPolicy(plan, byName, out), failed, nil
}

func byName(rules []*Rule) map[string]*Rule {
	out := make(map[string]*Rule, len(rules))
	for _, r := range rules {
		out[r.Name] = r
	}
	return out
}

// Setting is the level that a policy gives a rule.
type Setting struct {
	Rule   schema.Name // in the policy
	Level  Level
	Reason string
}

// Settings lists the levels that a plan's policies give to rules, known or not.
// Of two for one rule the first holds: the plan's own policy wins over its stock's.
func Settings(plan *schema.Plan) (out []Setting) {
	for _, p := range plan.Policies {
		for _, l := range []struct {
			names []schema.Name
			level Level
		}{{p.Off.V, Off}, {p.Error.V, Error}, {p.Warning.V, Warning}, {p.Hint.V, Hint}} {
			for _, n := range l.names {
				out = append(out, Setting{n, l.level, p.Because.V})
			}
		}
	}
	return out
}

// applyPolicy sets the levels that the plan's policies ask for; a guard rule stays
// at its level.
func applyPolicy(plan *schema.Plan, rules map[string]*Rule, in []Finding) (v Verdict) {
	levels := map[string]Setting{}
	var added []Finding
	for _, s := range Settings(plan) {
		name, at := s.Rule.Text, s.Rule.At
		r, known := rules[name]
		if !known {
			added = append(added, unknownRule(rules, name, at, true))
			continue
		}
		if !r.Silenceable() && s.Level < r.Level {
			added = append(added, Finding{Rule: RuleUnpermitted, Level: Error, Subject: "policy", At: at,
				Message: fmt.Sprintf("%s is about the text of plans and keeps its level; what it reports has to be mended", name), Fixes: leaveOut(s)})
			continue
		}
		if r.Guard && s.Level < r.Level {
			added = append(added, Finding{Rule: RuleUnpermitted, Level: Error, Subject: "policy", At: at,
				Message: fmt.Sprintf("%s guards against fire or shock and stays an error; where a finding of it is known to be harmless, silence it at the block with # ohmstead: allow %s because …", name, name), Fixes: leaveOut(s)})
			continue
		}
		if _, set := levels[name]; !set {
			levels[name] = s
		}
	}
	v.Findings = make([]Finding, 0, len(in)+len(added))
	for _, f := range in {
		s, set := levels[f.Rule]
		switch {
		case set && s.Level == Off:
			v.Hidden = append(v.Hidden, Hidden{f, s.Rule.At, Policy, s.Reason, false})
			continue
		case set:
			f.Level = s.Level
		}
		v.Findings = append(v.Findings, f)
	}
	v.Findings = append(v.Findings, added...)
	return v
}

// leaveOut takes a rule out of the list of a policy that may not name it.
func leaveOut(s Setting) []Fix {
	return []Fix{{Title: "Remove " + s.Rule.Text + " from the policy", Edits: []Edit{schema.RemoveItem(s.Rule.At)}}}
}

func unknownRule(rules map[string]*Rule, name string, at source.Span, quoted bool) Finding {
	f := Finding{Rule: RuleNameUnknown, Level: Warning, At: at, Message: fmt.Sprintf("there is no rule %q; ohmstead explain lists them", name)}
	var names []string
	for n := range rules {
		names = append(names, n)
	}
	slices.Sort(names)
	if best, ok := schema.Nearest(name, names); ok {
		f.Message = fmt.Sprintf("there is no rule %q; did you mean %q?", name, best)
		text := best
		if quoted && strings.HasPrefix(string(at.Bytes()), `"`) {
			text = `"` + best + `"`
		}
		f.Fixes = []Fix{{Title: "Write " + best, Edits: []Edit{{At: at, New: text}}}}
	}
	return f
}

func sortFindings(plan *schema.Plan, fs []Finding) {
	type place struct {
		path string
		at   int
	}
	where := func(f *Finding) place {
		if file, start, _, ok := plan.Locate(f.At); ok {
			return place{file.Text.Path(), start}
		}
		return place{}
	}
	keys := make([]place, len(fs))
	order := make([]int, len(fs))
	for i := range fs {
		keys[i], order[i] = where(&fs[i]), i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(strings.Compare(keys[a].path, keys[b].path), keys[a].at-keys[b].at,
			strings.Compare(fs[a].Rule, fs[b].Rule), strings.Compare(fs[a].Message, fs[b].Message))
	})
	sorted := make([]Finding, len(fs))
	for i, j := range order {
		sorted[i] = fs[j]
	}
	copy(fs, sorted)
}
