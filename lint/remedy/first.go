package remedy

import (
	"context"
	"errors"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/layout"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

// First drafts the power and data of a plan that has only runs, and sizes them until it
// passes: first as the draft stands, with few changes, then as opt says. It gives the plan with
// the draft in it, which the changes of sizes belong to. The error says what only the maker knows.
func First(ctx context.Context, fig *figures.Figures, list []*lint.Rule, opt sizing.Options) (*schema.Plan, sizing.Sized, error) {
	edits, err := sizing.First(fig)
	if err != nil {
		return nil, sizing.Sized{}, err
	}
	for i := range edits { // also below a block that its writer has laid out otherwise
		if now, err := layout.Format([]byte(strings.TrimLeft(edits[i].New, "\n"))); err == nil {
			edits[i].New = "\n\n" + strings.TrimRight(string(now), "\n")
		}
	}
	plan, err := fig.Plan.With(LaidOut(edits))
	if err != nil {
		return nil, sizing.Sized{}, err
	}
	if slices.ContainsFunc(plan.Problems, func(x *schema.Problem) bool { return x.Rule == schema.RuleSyntax }) {
		return nil, sizing.Sized{}, errors.New("a draft of its power and data could not be read; write a supply and a lead to the start of each run")
	}
	drawn, err := fig.Try(ctx, plan)
	if err != nil {
		return nil, sizing.Sized{}, err
	}
	v, err := lint.Run(ctx, plan, drawn, list)
	if err != nil {
		return nil, sizing.Sized{}, err
	}
	trials := New(plan, drawn, v.Findings, list)
	// A draft that passes is better to begin with than the cheapest wire for each run.
	sized, err := trials.Size(ctx, sizing.Options{LeastWork: true, Judged: 1})
	if err == nil && (sized.Draft == nil || !sized.Draft.Empty()) {
		sized, err = trials.Size(ctx, opt)
	}
	return plan, sized, err
}
