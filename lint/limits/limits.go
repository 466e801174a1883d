// Package limits reads a plan the other way round: how long a lead may be with its
// wire, how high a ceiling, how thin a wire, before anything is found. A value is
// changed in the text as a maker would change it, in steps that a maker would use, and
// the plan is judged by all rules, until the first step that does not pass.
package limits

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"
	"sync"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Limits finds those of one plan, and remembers them. It is safe for concurrent use.
type Limits struct {
	plan  *schema.Plan
	fig   *figures.Figures
	rules []*lint.Rule
	knobs []*Knob

	judging sync.Mutex
	today   *judged // the plan as it stands; nil until it is asked for

	mu    sync.Mutex // held for a moment only: a hover asks what is known while others are worked out
	known map[*Knob]*Limit
}

// New makes the limits of a plan that has been worked out.
func New(plan *schema.Plan, fig *figures.Figures, rules []*lint.Rule) *Limits {
	l := &Limits{plan: plan, fig: fig, rules: rules, knobs: knobsOf(plan, fig), known: map[*Knob]*Limit{}}
	return l
}

// Knobs lists what may be asked for: all, or that of one block, as "run.arch", or of one
// attribute, as "run.arch.length".
func (l *Limits) Knobs(at string) (out []*Knob) {
	for _, k := range l.knobs {
		if at == "" || k.of(at) {
			out = append(out, k)
		}
	}
	return out
}

// Limit is how far a value may go, both ways, before anything is found that is not found
// today, or anything that is found today gets worse.
type Limit struct {
	*Knob
	Least, Most Bound
	// Clears is the value nearest to today's with which most of what is found today is
	// gone and nothing has come; nil where there is none on the way.
	Clears *Clears
}

// Bound is where a value stops.
type Bound struct {
	Last   Value    // that passes, as all do that were looked at on the way from today's
	Next   Value    // one step beyond, which does not
	Why    []Reason // what speaks against it, the worst first
	Open   bool     // Last is as far as was looked, and passes: there is no Next
	Looked int      // how many values were judged
	Widest int      // the widest stride between two of them, in steps
}

// Clears is a value, and the findings that are gone with it.
type Clears struct {
	Value
	Gone []Reason
}

// Reason is a finding that has come or gone, or one that gets worse.
type Reason struct {
	Rule    string // "" where something guarded is nearer to harm with no finding that says so
	Subject string
	Level   lint.Level
	Message string // its part that stands alone
	Worse   bool   // it is found today, and would be worse
}

// Find works a limit out. The error is that of the context.
func (l *Limits) Find(ctx context.Context, k *Knob) (*Limit, error) {
	if is, ok := l.Known(k); ok {
		return is, nil
	}
	s := scan{knob: k, try: func(v Value) (bad, gone []Reason, err error) { return l.try(ctx, k, v) }}
	out := &Limit{Knob: k}
	var err error
	if out.Least, err = s.to(-1); err == nil {
		out.Most, err = s.to(1)
	}
	if err != nil {
		return nil, err
	}
	out.Clears = s.clears
	l.mu.Lock()
	defer l.mu.Unlock()
	l.known[k] = out
	return out, nil
}

// Known gives a limit that has been worked out.
func (l *Limits) Known(k *Knob) (*Limit, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	is, ok := l.known[k]
	return is, ok
}

// judged is what was found in a plan, by rule and block, and what is near to harm.
type judged struct {
	found   map[[2]string]*found
	margins map[figures.Guarded]float64
}

// found are findings of one rule about one block.
type found struct {
	count  int
	excess float64 // how far beyond its limit the worst lies, in SI units
	worst  lint.Finding
}

// judge judges a plan by all rules. What a comment silences is there too, so that what is
// known and allowed today is neither new nor gone.
func (l *Limits) judge(ctx context.Context, plan *schema.Plan, fig *figures.Figures) (*judged, error) {
	list, err := lint.Judge(ctx, plan, fig, l.rules)
	if err != nil {
		return nil, err
	}
	out := &judged{map[[2]string]*found{}, fig.Margins()}
	for _, f := range list {
		if f.Level < lint.Warning && f.Rule != lint.RuleFailed {
			continue
		}
		k := [2]string{f.Rule, f.Subject}
		is := out.found[k]
		if is == nil {
			is = &found{worst: f}
			out.found[k] = is
		}
		is.count++
		excess := 0.0
		if f.Value != nil {
			excess = math.Abs(f.Value.Got - f.Value.Limit)
		}
		if f.Level > is.worst.Level || f.Level == is.worst.Level && excess > is.excess {
			is.worst = f
		}
		is.excess = max(is.excess, excess)
	}
	return out, nil
}

func (l *Limits) asItStands(ctx context.Context) (*judged, error) {
	l.judging.Lock()
	defer l.judging.Unlock()
	if l.today == nil {
		is, err := l.judge(ctx, l.plan, l.fig)
		if err != nil {
			return nil, err
		}
		l.today = is
	}
	return l.today, nil
}

// same is the share by which two figures may differ and be one.
const same = 1e-6

// against lists what speaks against a changed plan, the worst first, and what is gone with it.
func (j *judged) against(before *judged) (bad, gone []Reason) {
	for k, is := range j.found {
		was := before.found[k]
		switch {
		case was == nil || is.count > was.count || is.worst.Level > was.worst.Level || is.worst.Rule == lint.RuleFailed:
			bad = append(bad, reason(is.worst, false))
		case is.excess > was.excess*(1+same)+1e-12:
			bad = append(bad, reason(is.worst, true))
		}
	}
	for k, is := range j.margins {
		if is > max(1, before.margins[k])*(1+same) && !slices.ContainsFunc(bad, func(r Reason) bool { return r.Subject == k.ID }) {
			bad = append(bad, Reason{Subject: k.ID, Level: lint.Error, Message: k.ID + " would be nearer to harm than it is", Worse: true})
		}
	}
	for k, was := range before.found {
		if j.found[k] == nil || j.found[k].count < was.count {
			gone = append(gone, reason(was.worst, false))
		}
	}
	order := func(a, b Reason) int {
		return cmp.Or(-cmp.Compare(a.Level, b.Level), cmp.Compare(a.Subject, b.Subject), cmp.Compare(a.Rule, b.Rule))
	}
	slices.SortFunc(bad, order)
	slices.SortFunc(gone, order)
	return bad, gone
}

func reason(f lint.Finding, worse bool) Reason {
	text, _, _ := strings.Cut(f.Message, ";")
	return Reason{f.Rule, f.Subject, f.Level, text, worse}
}

// try judges the plan with a value.
func (l *Limits) try(ctx context.Context, k *Knob, v Value) (bad, gone []Reason, err error) {
	before, err := l.asItStands(ctx)
	if err != nil {
		return nil, nil, err
	}
	changed, err := l.plan.With(k.edits(v))
	if err != nil {
		return []Reason{{Subject: k.ID, Level: lint.Error, Message: "it cannot be written so: " + err.Error()}}, nil, nil
	}
	fig, err := l.fig.Try(ctx, changed)
	if err != nil {
		return nil, nil, err
	}
	after, err := l.judge(ctx, changed, fig)
	if err != nil {
		return nil, nil, err
	}
	bad, gone = after.against(before)
	return bad, gone, nil
}

// scan looks for the ends of one knob's values.
type scan struct {
	knob   *Knob
	try    func(Value) (bad, gone []Reason, err error)
	clears *Clears
	nearer int // steps from today's value to clears
}

// passed is a value that passes, so many steps from today's.
type passed struct {
	n    int
	gone []Reason
}

// to goes from today's value up (sign 1) or down (-1) until the first value that does not pass. Passing
// is not monotone in any value for certain (rings, the window of a fuse, what a joint
// takes), so that nothing is halved: it goes in strides, first of one step, then of twice
// as many each time up to a tenth of the value, and where one does not pass goes over the
// last stride again in tenths of it, until the strides are of one step. Tables of sizes
// are gone through entry by entry.
func (s *scan) to(sign int) (b Bound, err error) {
	k := s.knob
	var on []passed
	pass := func(n int) (bool, error) {
		b.Looked++
		bad, gone, err := s.try(k.value(sign * n))
		switch {
		case err != nil:
			return false, err
		case len(bad) > 0:
			b.Why = bad
			return false, nil
		}
		on = append(on, passed{n, gone})
		return true, nil
	}
	last, next, end := 0, 0, k.steps(sign)
	for stride := 1; last < end && next == 0; stride *= 2 {
		stride = max(1, min(stride, k.stride(sign*last)))
		n := min(last+stride, end)
		ok, err := pass(n)
		if err != nil {
			return b, err
		}
		if ok {
			b.Widest = max(b.Widest, n-last)
			last = n
		} else {
			next = n
		}
	}
	if next > 0 {
		if last, next, err = narrow(last, next, pass); err != nil {
			return b, err
		}
		b.Next = k.value(sign * next)
	}
	b.Open = next == 0
	b.Last = k.Today
	if last > 0 {
		b.Last = k.value(sign * last)
	}
	return b, s.clear(sign, on)
}

// narrow goes from a value for which something holds to one for which it does not, in
// tenths, until the two are one step apart.
func narrow(last, next int, holds func(int) (bool, error)) (int, int, error) {
	for next > last+1 {
		stride := (next - last + 9) / 10
		for n := last + stride; n < next; n += stride {
			ok, err := holds(n)
			if err != nil {
				return 0, 0, err
			}
			if !ok {
				next = n
				break
			}
			last = n
		}
	}
	return last, next, nil
}

// clear finds the value nearest to today's with which most is gone, among what passed one
// way.
func (s *scan) clear(sign int, on []passed) error {
	slices.SortFunc(on, func(a, b passed) int { return a.n - b.n })
	most, from := passed{}, 0
	for i, p := range on {
		if len(p.gone) > len(most.gone) {
			most, from = p, 0
			if i > 0 {
				from = on[i-1].n
			}
		}
	}
	if len(most.gone) == 0 {
		return nil
	}
	_, n, err := narrow(from, most.n, func(n int) (bool, error) {
		bad, gone, err := s.try(s.knob.value(sign * n))
		return len(bad) > 0 || len(gone) < len(most.gone), err
	})
	if err != nil {
		return err
	}
	if s.clears == nil || len(most.gone) > len(s.clears.Gone) || len(most.gone) == len(s.clears.Gone) && n < s.nearer {
		s.clears, s.nearer = &Clears{s.knob.value(sign * n), most.gone}, n
	}
	return nil
}

// Of lists the limits of a block that have been worked out.
func (l *Limits) Of(id string) (out []*Limit) {
	for _, k := range l.knobs {
		if k.Says(id) {
			if is, ok := l.Known(k); ok {
				out = append(out, is)
			}
		}
	}
	return out
}
