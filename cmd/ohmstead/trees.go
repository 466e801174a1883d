package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ohmstead/cmd/ohmstead/internal/gitfs"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/report"
	"ohmstead/schema"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// trees are where a check reads from: the plans as they are now (in the
// working tree, or staged), and as they were.
type trees struct {
	now   *workspace.Workspace
	then  *workspace.Workspace // nil without --since
	plans []string             // to judge
	// What the baseline says now, and what it said then; nil without one.
	known, knownThen *report.Baseline
	repo             *gitfs.Repo
	rev              string // of then
	failed           bool   // some path could not be read, and was told of
	open             []*gitfs.Tree
}

func (t *trees) close() {
	for _, o := range t.open {
		_ = o.Close() // it was only read from
	}
}

// trees opens what the flags ask for and finds the plans.
func (c *checking) trees(ctx context.Context, args []string) (*trees, error) {
	if c.staged || c.since != "" {
		return c.gitTrees(ctx, args)
	}
	w, err := c.open(orHere(args))
	if err != nil {
		return nil, err
	}
	t := &trees{now: w}
	return t, c.find(t, func() ([]string, error) { return w.Find(orHere(args)) })
}

// find fills in the plans. Where some were found and something else could not
// be read, those are judged all the same.
func (c *checking) find(t *trees, find func() ([]string, error)) error {
	plans, err := find()
	if err != nil && len(plans) == 0 {
		return err
	}
	if err != nil {
		t.failed = true
		fmt.Fprintf(c.cmd.ErrOrStderr(), "ohmstead: %v\n", err)
	}
	t.plans = plans
	return nil
}

func (c *checking) gitTrees(ctx context.Context, args []string) (*trees, error) {
	repo, err := c.repository(ctx, args, "--staged and --since")
	if err != nil {
		return nil, err
	}
	t := &trees{repo: repo, rev: c.since}
	if c.since != "" {
		tree, err := repo.Revision(c.since)
		if err != nil {
			return nil, fmt.Errorf("--since: %w", err)
		}
		t.open = append(t.open, tree)
		t.then = workspace.Over(repo.Root, tree)
	}
	if !c.staged {
		if t.now, err = workspace.Open(repo.Root); err != nil {
			return nil, err
		}
		return t, c.find(t, func() ([]string, error) { return t.now.Find(orHere(args)) })
	}
	tree, err := repo.Index()
	if err != nil {
		return nil, err
	}
	t.open = append(t.open, tree)
	t.now = workspace.Over(repo.Root, tree)
	return t, c.find(t, func() ([]string, error) { return stagedPlans(repo, t.now, args) })
}

// stagedPlans lists the plans that a commit touches or, given paths, those that
// they touch: a hook is called with the files of the commit.
func stagedPlans(repo *gitfs.Repo, w *workspace.Workspace, args []string) ([]string, error) {
	var files, dirs []string
	for _, a := range args {
		if !strings.HasSuffix(a, plans.Suffix) {
			dirs = append(dirs, a)
			continue
		}
		name, err := w.Rel(a)
		if err != nil {
			return nil, err
		}
		files = append(files, name)
	}
	var err error
	switch {
	case len(args) == 0:
		files, err = repo.Staged()
	case len(files) > 0: // nobody names the files that a commit removes
		var gone []string
		gone, err = repo.Removed()
		files = append(files, gone...)
	}
	if err != nil {
		return nil, err
	}
	plans, err := w.Touched(files)
	if err != nil || len(dirs) == 0 {
		return plans, err
	}
	more, err := w.Find(dirs)
	for _, d := range more {
		if !slices.Contains(plans, d) {
			plans = append(plans, d)
		}
	}
	return plans, err
}

// repository opens the repository that the first path lies in. A root given by
// hand must be the repository's; flags are those that ask for it.
func (g *globals) repository(ctx context.Context, args []string, flags string) (*gitfs.Repo, error) {
	first, err := filepath.Abs(orHere(args)[0])
	if err != nil {
		return nil, err
	}
	repo, err := gitfs.Open(ctx, directoryOf(first))
	if err != nil {
		return nil, err
	}
	if g.root != "" {
		if root, err := filepath.EvalSymlinks(g.root); err != nil || root != repo.Root {
			return nil, fmt.Errorf("with %s the root is the repository's, %s", flags, repo.Root)
		}
	}
	return repo, nil
}

// directoryOf is the directory that a path is in, or the path if it is one.
func directoryOf(path string) string {
	for {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			return path
		}
		up := filepath.Dir(path)
		if up == path {
			return path
		}
		path = up
	}
}

// baselineThen reads a baseline as it was; one that was not there knew of nothing.
func (t *trees) baselineThen(file string) (*report.Baseline, error) {
	name, err := t.now.Rel(file)
	if err != nil {
		return nil, nil // kept outside of the repository, it has no history
	}
	data, err := t.repo.Show(t.rev, name)
	if err != nil || data == nil {
		return nil, err
	}
	b, err := report.ReadBaseline(data)
	if err != nil {
		return nil, fmt.Errorf("%s at %s: %w", file, t.rev, err)
	}
	return b, nil
}

// before judges a plan as it was; changed is false when not a byte of it or of
// its stock is different now. A plan that was not there had no findings.
func (t *trees) before(ctx context.Context, dir string) (old *report.Plan, changed bool, err error) {
	now, err := t.now.Decode(dir)
	if err != nil {
		return nil, false, err
	}
	names, err := t.then.Names(dir)
	if err != nil || len(names) == 0 {
		return nil, true, nil
	}
	then, err := t.then.Decode(dir)
	if err != nil {
		return nil, false, err
	}
	sameKnown := len(t.known.Beyond(t.knownThen, dir)) == 0
	if sameKnown && sameFiles(now.Files, then.Files) && sameFiles(now.StockFiles, then.StockFiles) && slices.Equal(now.StockDirs, then.StockDirs) {
		return nil, false, nil
	}
	return resolve(ctx, then)
}

func resolve(ctx context.Context, plan *schema.Plan) (*report.Plan, bool, error) {
	_, v, err := judge(ctx, plan)
	if err != nil {
		return nil, false, err
	}
	out := report.Resolve(plan, v.Findings)
	out.Hide(plan, v.Hidden)
	return out, true, nil
}

func sameFiles(a, b []*source.File) bool {
	return slices.EqualFunc(a, b, func(x, y *source.File) bool {
		return x.Text.Path() == y.Text.Path() && bytes.Equal(x.Text.Bytes(), y.Text.Bytes()) && (x.Refused() == nil) == (y.Refused() == nil)
	})
}
