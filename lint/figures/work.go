package figures

import (
	"context"
	"slices"

	"ohmstead/calc/fuse"
	"ohmstead/schema"
)

// Work works a plan out. memo keeps what was solved for the plan's earlier
// versions, so that an edit solves only the islands that it changes; it may be
// nil. The only error is that of a context that ends: nothing half worked out
// is given or kept then.
func Work(ctx context.Context, p *schema.Plan, memo *Memo) (*Figures, error) {
	if memo == nil {
		memo = NewMemo()
	}
	f := Prepare(p, memo)
	if err := f.Solve(ctx); err != nil {
		return nil, err
	}
	return f, nil
}

// Prepare measures a plan and lays its cases out, and solves nothing: Need and
// Solve do that. What they give is there to be read then, whatever else is
// being solved.
func Prepare(p *schema.Plan, memo *Memo) *Figures {
	memo.turn()
	f := prepare(p, memo, memo)
	memo.leave(slices.ContainsFunc(f.Islands, func(is *Island) bool { return is.split == nil }))
	return f
}

// Try works out a changed copy of the plan, to see what a remedy would do. It
// takes from the plan's memo what is the same; of what is not, the memo keeps
// the last two trials' and no more. Errors are those of Work.
func (f *Figures) Try(ctx context.Context, changed *schema.Plan) (*Figures, error) {
	f.memo.trials.turn()
	g := prepare(changed, f.memo.trials, f.memo)
	g.Tried = true
	if err := g.Solve(ctx); err != nil {
		return nil, err
	}
	return g, nil
}

func prepare(p *schema.Plan, memo, parent *Memo) *Figures {
	f := &Figures{
		Plan:        p,
		Habit:       p.Habit(),
		Complete:    true,
		memo:        parent,
		runs:        make(map[*schema.Run]*Run, len(p.Runs)),
		leads:       make(map[*schema.Lead]*Lead, len(p.Leads)),
		kinds:       map[*schema.Wire]*kind{},
		devices:     map[fitted]*fuse.Kind{},
		laws:        map[*schema.Strip]law{},
		frames:      map[*schema.Surface][]Frame{},
		wired:       map[schema.Block]*Island{},
		controllers: map[*schema.Controller]*Controller{},
		supplies:    positions(p.Supplies),
		joints:      positions(p.Joints),
	}
	f.unfoldAll()
	runs, leads := make([]Run, len(p.Runs)), make([]Lead, len(p.Leads))
	f.Runs, f.Leads = make([]*Run, len(runs)), make([]*Lead, len(leads))
	for i, r := range p.Runs {
		run := &runs[i]
		f.measure(r, run)
		run.place = i
		f.Runs[i], f.runs[r] = run, run
	}
	f.bundles, f.cable = bundles(p.Leads)
	for i, l := range p.Leads {
		lead := &leads[i]
		f.lead(l, lead)
		lead.place = i
		f.Leads[i], f.leads[l] = lead, lead
	}
	f.readAll()
	f.chains()
	f.ceilings = f.allCeilings()
	f.islands(memo)
	f.unheld = f.ceilingUnknown()
	f.cases(memo)
	f.orders()
	return f
}

// Run gives the figures of a run of the plan.
func (f *Figures) Run(r *schema.Run) (*Run, bool) { x, ok := f.runs[r]; return x, ok }

// Lead gives the figures of a lead of the plan.
func (f *Figures) Lead(l *schema.Lead) (*Lead, bool) { x, ok := f.leads[l]; return x, ok }

// Controller gives the figures of a controller of the plan.
func (f *Figures) Controller(c *schema.Controller) (*Controller, bool) {
	x, ok := f.controllers[c]
	return x, ok
}

// RunNamed gives the figures of a run by its address, such as run.arch.
func (f *Figures) RunNamed(id string) (*Run, bool) {
	b, _ := f.Plan.Find(id)
	r, _ := b.(*schema.Run)
	return f.Run(r)
}

// LeadNamed gives the figures of a lead by its address.
func (f *Figures) LeadNamed(id string) (*Lead, bool) {
	b, _ := f.Plan.Find(id)
	l, _ := b.(*schema.Lead)
	return f.Lead(l)
}

// Place is where a run, lead, controller, supply or joint stands among those of the plan, and in each case; -1 of
// anything else.
func (f *Figures) Place(b schema.Block) int {
	switch b := b.(type) {
	case *schema.Run:
		if r := f.runs[b]; r != nil {
			return r.place
		}
	case *schema.Lead:
		if l := f.leads[b]; l != nil {
			return l.place
		}
	case *schema.Controller:
		if c := f.controllers[b]; c != nil {
			return c.place
		}
	case *schema.Supply:
		if i, ok := f.supplies[b]; ok {
			return i
		}
	case *schema.Joint:
		if i, ok := f.joints[b]; ok {
			return i
		}
	}
	return -1
}

// Case gives the figures of a case by name.
func (f *Figures) Case(name string) (*Case, bool) {
	for _, c := range f.Cases {
		if c.Name == name {
			return c, true
		}
	}
	return nil, false
}

// readAll finds out whether all of the wiring could be read. A broken block of
// wiring, a block that the parser could not place, or text that did not parse
// may hold what would otherwise be reported as missing.
func (f *Figures) readAll() {
	for _, pr := range f.Plan.Problems {
		switch pr.Rule {
		case schema.RuleSyntax, schema.RuleTooLarge, schema.RuleBlockUnknown, schema.RuleBlockShape, schema.RuleNameDuplicate:
			f.Complete = false
			return
		}
	}
	for _, b := range f.Plan.Blocks {
		h := schema.HeaderOf(b)
		switch b.(type) {
		case *schema.Lead, *schema.Signal, *schema.Run, *schema.Supply, *schema.Joint, *schema.Controller:
			if h.Broken {
				f.Complete = false
				return
			}
		}
	}
}
