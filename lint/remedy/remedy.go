// Package remedy tries what may clear a finding. A remedy is edits of the
// plan's text: they are made, the text is decoded, worked out and judged by the
// same rules, and what then holds for every block that shares the text decides
// whether the remedy is offered. So what is offered is what is written.
package remedy

import (
	"bytes"
	"cmp"
	"context"
	"slices"
	"strings"
	"sync"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

// mostTrials bounds how many changes are tried for one finding, and
// mostCombined how many plans are judged where only several together may clear it.
const (
	mostTrials   = 16
	mostCombined = 60
)

// Trials are those against one plan as it stands. They are safe for concurrent
// use, and remember what they found.
type Trials struct {
	plan  *schema.Plan
	fig   *figures.Figures
	found []lint.Finding
	rules map[string]*lint.Rule
	list  []*lint.Rule

	mu     sync.Mutex
	before *judged // nil until it is asked for
	known  map[int][]lint.Fix
}

// New makes trials against a plan with the findings that Run gave for it.
func New(plan *schema.Plan, fig *figures.Figures, found []lint.Finding, rules []*lint.Rule) *Trials {
	t := &Trials{plan: plan, fig: fig, found: found, rules: map[string]*lint.Rule{}, list: rules, known: map[int][]lint.Fix{}}
	for _, r := range rules {
		t.rules[r.Name] = r
	}
	return t
}

// For lists the fixes of finding i that hold what they promise: with each of
// them the finding is gone for all that share its text, and no warning or error
// has come. The only error is that of ctx.
func (t *Trials) For(ctx context.Context, i int) ([]lint.Fix, error) {
	t.mu.Lock()
	out, ok := t.known[i]
	t.mu.Unlock()
	if ok {
		return out, nil
	}
	out, _, err := t.try(ctx, i)
	if err != nil {
		return nil, err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.known[i] = out
	return out, nil
}

// try tries what is proposed for finding i, and counts the plans that were
// worked out for it.
func (t *Trials) try(ctx context.Context, i int) (out []lint.Fix, trials int, err error) {
	f := &t.found[i]
	worksOut := t.worksOut(f)
	left := mostTrials
	type cure struct {
		fix lint.Fix
		fig *figures.Figures
	}
	var cures []cure
	helped := false // without taking light
	offer := func(p lint.Proposal) (bool, error) {
		if left == 0 {
			return false, nil
		}
		left--
		if worksOut {
			trials++
		}
		fix := p.Fix
		fix.Edits = LaidOut(p.Edits)
		fig, ok, err := t.clears(ctx, f, fix.Edits)
		if !ok || err != nil {
			return false, err
		}
		dims := dimming(t.fig, fig)
		fix.Title += dims
		helped = helped || dims == ""
		if p.Then != nil {
			fix.Title += " (" + p.Then(fig) + " then)"
		} else if fig != nil {
			fix.Then = brings(t.fig, fig, f.Subject)
		}
		cures = append(cures, cure{fix, fig})
		return true, nil
	}
	for _, fix := range f.Fixes {
		if _, err := offer(lint.Proposal{Fix: fix}); err != nil {
			return nil, trials, err
		}
	}
	if f.Propose != nil {
		for _, alternatives := range f.Propose() {
			for _, p := range alternatives {
				if p.Last && helped {
					break
				}
				ok, err := offer(p)
				if err != nil {
					return nil, trials, err
				}
				if ok {
					break
				}
			}
		}
	}
	for _, c := range sizing.Brightest(t.fig, cures, func(c cure) *figures.Figures { return c.fig }) {
		out = append(out, c.fix)
	}
	if len(out) > 0 || !worksOut || f.Level < lint.Warning {
		return out, trials, nil
	}
	out, more, err := t.combine(ctx, f)
	return out, trials + more, err
}

// combine looks for a remedy of several changes together.
func (t *Trials) combine(ctx context.Context, f *lint.Finding) (out []lint.Fix, trials int, err error) {
	target := sizing.Obstacle{Rule: f.Rule, Subject: f.Subject, Hazard: t.rules[f.Rule].Hazard}
	mended, trials, err := sizing.Mend(ctx, t.fig, target, mostCombined, func(ctx context.Context, edits []schema.Edit) (*figures.Figures, []sizing.Obstacle, error) {
		return t.inTheWay(ctx, f, LaidOut(edits))
	})
	if err != nil {
		return nil, trials, err
	}
	for _, m := range mended {
		fix := lint.Fix{Title: m.Title() + dimming(t.fig, m.Figures), Edits: LaidOut(m.Edits())}
		if then := strings.Join(slices.DeleteFunc([]string{m.Then(target), sizing.More(t.fig, m.Figures)}, func(s string) bool { return s == "" }), " then; "); then != "" {
			fix.Title += " (" + then + ")"
		}
		if !m.Measured() {
			fix.Grade = schema.GradeFact
		}
		out = append(out, fix)
	}
	return out, trials, nil
}

// dimming ends a title where a remedy takes light: "; dims to 33 %".
func dimming(before, after *figures.Figures) string {
	if after == nil {
		return ""
	}
	if dims := sizing.Dims(before, after); dims != "" {
		return "; " + dims
	}
	return ""
}

// inTheWay tries some edits and lists what speaks against them: what is left of
// the finding, what has come, and what is nearer to harm.
func (t *Trials) inTheWay(ctx context.Context, f *lint.Finding, edits []lint.Edit) (*figures.Figures, []sizing.Obstacle, error) {
	fig, before, after, err := t.tried(ctx, edits)
	if fig == nil || err != nil {
		return nil, nil, err
	}
	var out []sizing.Obstacle
	hazard := t.rules[f.Rule].Hazard
	for _, id := range after.left(before, f, hazard, sharing(t.plan, fig.Plan)) {
		out = append(out, sizing.Obstacle{Rule: f.Rule, Subject: id, Hazard: hazard})
	}
	out, ok := t.against(out, before, after)
	if !ok {
		return nil, nil, nil
	}
	return fig, out, nil
}

// tried works out and judges the plan with some edits, beside what it is judged to be as it stands; there are
// no figures where the edits cannot be made.
func (t *Trials) tried(ctx context.Context, edits []lint.Edit) (fig *figures.Figures, before, after *judged, err error) {
	changed, err := t.plan.With(edits)
	if err != nil {
		return nil, nil, nil, nil // into the catalogue, say
	}
	if before, err = t.asItStands(ctx); err != nil {
		return nil, nil, nil, err
	}
	if fig, err = t.fig.Try(ctx, changed); err != nil {
		return nil, nil, nil, err
	}
	after = &judged{margins: fig.Margins()}
	after.found, err = findings(ctx, changed, fig, t.list)
	return fig, before, after, err
}

// against adds what has come and what is nearer to harm to what stands in the way; false where a rule failed.
func (t *Trials) against(out []sizing.Obstacle, before, after *judged) ([]sizing.Obstacle, bool) {
	for _, k := range after.added(before) {
		if k[0] == lint.RuleFailed {
			return nil, false
		}
		out = append(out, sizing.Obstacle{Rule: k[0], Subject: k[1], Hazard: t.hazard(k[0])})
	}
	for _, k := range after.endangered(before) {
		out = append(out, sizing.Obstacle{Subject: k.ID, Hazard: k.Hazard})
	}
	slices.SortFunc(out, func(a, b sizing.Obstacle) int {
		return cmp.Or(cmp.Compare(a.Subject, b.Subject), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Hazard, b.Hazard))
	})
	return out, true
}

func (t *Trials) hazard(rule string) figures.Hazard {
	if r, ok := t.rules[rule]; ok {
		return r.Hazard
	}
	return ""
}

// worksOut reports whether a remedy of the finding is tried by working the plan
// out: not where it is about the text alone.
func (t *Trials) worksOut(f *lint.Finding) bool {
	r, ok := t.rules[f.Rule]
	return ok && r.Silenceable()
}

// clears tries some edits. It gives the figures of the changed plan where those
// were worked out.
func (t *Trials) clears(ctx context.Context, f *lint.Finding, edits []lint.Edit) (*figures.Figures, bool, error) {
	changed, err := t.plan.With(edits)
	if err != nil {
		return nil, false, nil // into the catalogue, say
	}
	if !t.worksOut(f) {
		return nil, t.reads(f, changed), nil
	}
	before, err := t.asItStands(ctx)
	if err != nil {
		return nil, false, err
	}
	fig, err := t.fig.Try(ctx, changed)
	if err != nil {
		return nil, false, err
	}
	after, own := &judged{}, t.rules[f.Rule]
	if after.found, err = findings(ctx, changed, fig, []*lint.Rule{own}); err != nil {
		return nil, false, err
	}
	share := sharing(t.plan, changed)
	if len(after.left(before, f, "", share)) > 0 { // mostly that says already that it is not
		return nil, false, nil
	}
	after.margins = fig.Margins()
	if len(after.endangered(before)) > 0 || len(after.left(before, f, own.Hazard, share)) > 0 {
		return nil, false, nil
	}
	if after.found, err = findings(ctx, changed, fig, t.list); err != nil {
		return nil, false, err
	}
	return fig, len(after.added(before)) == 0, nil
}

// reads reports whether a problem of the text is gone and none has come
// elsewhere. What the mended statement says could not be judged before, so that
// what is then found in its block was there all the time.
func (t *Trials) reads(f *lint.Finding, changed *schema.Plan) bool {
	was, is := map[[2]string]int{}, map[[2]string]int{}
	for _, p := range t.plan.Problems {
		was[[2]string{p.Rule, t.plan.BlockAt(p.At)}]++
	}
	for _, p := range changed.Problems {
		is[[2]string{p.Rule, changed.BlockAt(p.At)}]++
	}
	here := [2]string{f.Rule, f.Subject}
	for k, n := range is {
		if n > was[k] && k[1] != f.Subject {
			return false
		}
	}
	return was[here] == 0 || is[here] < was[here] // the comments that silence are no problems of the language
}

// judged is what a judged plan has.
type judged struct {
	found   map[[2]string]found // by rule and subject
	margins map[figures.Guarded]float64
}

type found struct {
	level lint.Level
	count int
}

// findings judges a plan by some rules, silenced findings among them.
func findings(ctx context.Context, plan *schema.Plan, fig *figures.Figures, rules []*lint.Rule) (map[[2]string]found, error) {
	list, err := lint.Judge(ctx, plan, fig, rules)
	if err != nil {
		return nil, err
	}
	out := map[[2]string]found{}
	for _, f := range list {
		k := [2]string{f.Rule, f.Subject}
		was := out[k]
		out[k] = found{max(was.level, f.Level), was.count + 1}
	}
	return out, nil
}

// asItStands judges the plan before any change, once.
func (t *Trials) asItStands(ctx context.Context) (*judged, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.before == nil {
		found, err := findings(ctx, t.plan, t.fig, t.list)
		if err != nil {
			return nil, err
		}
		t.before = &judged{found, t.fig.Margins()}
	}
	return t.before, nil
}

// left lists where a finding is still there, of its subject, of the copies that it
// is told of together with, and of all that share the text.
func (j *judged) left(before *judged, f *lint.Finding, of figures.Hazard, sharing []string) (out []string) {
	for _, id := range slices.Concat(sharing, f.Members, []string{f.Subject}) {
		k := [2]string{f.Rule, id}
		if before.found[k].count == 0 || slices.Contains(out, id) {
			continue
		}
		if j.found[k].count >= before.found[k].count || of != "" && j.margins[figures.Guarded{ID: id, Hazard: of}] > 1+same {
			out = append(out, id)
		}
	}
	return out
}

// added lists what has come that was not there, by rule and subject.
func (j *judged) added(before *judged) (out [][2]string) {
	for k, is := range j.found {
		was := before.found[k]
		if is.level >= lint.Warning && (is.level > was.level || is.count > was.count) || k[0] == lint.RuleFailed {
			out = append(out, k)
		}
	}
	return out
}

// endangered lists what is nearer to harm: max(1, margin) of a guarded thing has
// risen. What is new starts at 1.
func (j *judged) endangered(before *judged) (out []figures.Guarded) {
	for k, is := range j.margins {
		if is > max(1, before.margins[k])*(1+same) {
			out = append(out, k)
		}
	}
	return out
}

// same is the share by which two margins may differ and be one.
const same = 1e-6

// sharing lists the blocks that say something else after a change: the one that
// was changed, its copies, and all that is like it and takes over what was
// changed.
func sharing(before, after *schema.Plan) []string {
	var out []string
	for _, b := range after.Blocks {
		id := schema.HeaderOf(b).ID()
		if old, ok := before.Find(id); ok && old != b && !saysTheSame(old, b) {
			out = append(out, id)
		}
	}
	return out
}

func saysTheSame(a, b schema.Block) bool {
	x, inX := schema.Says(a)
	y, inY := schema.Says(b)
	if len(x) != len(y) || len(inX) != len(inY) {
		return false
	}
	for i := range x {
		if x[i].Name != y[i].Name || x[i].Val == nil || y[i].Val == nil || !bytes.Equal(x[i].Val.At.Bytes(), y[i].Val.At.Bytes()) {
			return false
		}
	}
	for i := range inX {
		if !bytes.Equal(inX[i].Whole.Bytes(), inY[i].Whole.Bytes()) {
			return false
		}
	}
	return true
}
