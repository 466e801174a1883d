package main

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"

	"golang.org/x/sync/errgroup"

	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/schema"
)

// judge works a plan out and judges it by all rules. A mistake in the program
// that shows in one plan must not take the others with it, so it becomes an error.
func judge(ctx context.Context, plan *schema.Plan, memo *figures.Memo) (fig *figures.Figures, v lint.Verdict, err error) {
	defer func() {
		if r := recover(); r != nil {
			fig, v, err = nil, lint.Verdict{}, fmt.Errorf("%s: the program failed on this plan, which is a mistake in it: %v\n%s", plan.Dir, r, debug.Stack())
		}
	}()
	if fig, err = figures.Work(ctx, plan, memo); err != nil {
		return nil, v, err
	}
	v, err = lint.Run(ctx, plan, fig, rules.All)
	return fig, v, err
}

// each does something with every plan, several at a time; errs[i] belongs to of[i].
func each[T any](of []T, done func(), do func(i int, x T) error) (errs []error) {
	errs = make([]error, len(of))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, x := range of {
		g.Go(func() error {
			errs[i] = do(i, x)
			done()
			return nil
		})
	}
	_ = g.Wait() // the errors are in errs, one for each plan
	return errs
}

// decodeAndJudge reads a plan and judges it. Where a file of it cannot be read
// there are findings, which say so, and an error.
func decodeAndJudge(ctx context.Context, w *workspace.Workspace, dir string) (*schema.Plan, *figures.Figures, lint.Verdict, error) {
	return judgeVersion(ctx, w, dir, nil)
}

// judgeVersion does so for one of several versions of a plan, with a memo of what was
// solved for the others.
func judgeVersion(ctx context.Context, w *workspace.Workspace, dir string, memo *figures.Memo) (*schema.Plan, *figures.Figures, lint.Verdict, error) {
	plan, err := w.Decode(dir)
	if plan == nil {
		return nil, nil, lint.Verdict{}, err
	}
	fig, v, failed := judge(ctx, plan, memo)
	return plan, fig, v, errors.Join(err, failed)
}
