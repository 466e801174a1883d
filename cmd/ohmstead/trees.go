package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ohmstead/cmd/ohmstead/internal/compare"
	"ohmstead/cmd/ohmstead/internal/gitfs"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/figures"
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
	if c.stdinPath != "" || slices.Contains(args, "-") {
		return c.typed(args)
	}
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

// typed is the plan of a text that an editor has not saved.
func (c *checking) typed(args []string) (*trees, error) {
	switch {
	case !slices.Equal(args, []string{"-"}) || c.stdinPath == "":
		return nil, errors.New("\"-\" stands alone, with --stdin-path FILE to say where its text belongs")
	case c.staged || c.since != "":
		return nil, errors.New("\"-\" reads a text that git does not know; leave --staged and --since out")
	case !strings.HasSuffix(c.stdinPath, plans.Suffix):
		return nil, fmt.Errorf("--stdin-path %s is not a plan file; their names end in %s", c.stdinPath, plans.Suffix)
	}
	text, err := io.ReadAll(io.LimitReader(c.cmd.InOrStdin(), source.MaxFile+1))
	if err != nil {
		return nil, err
	}
	w, err := c.globals.open([]string{c.stdinPath})
	if err != nil {
		return nil, err
	}
	name, err := w.Rel(c.stdinPath)
	if err != nil {
		return nil, err
	}
	t := &trees{now: w.With(map[string][]byte{name: text})}
	return t, c.find(t, func() ([]string, error) { return t.now.Find([]string{c.stdinPath}) })
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
		complain(c.cmd.ErrOrStderr(), err)
	}
	t.plans = plans
	return nil
}

func (c *checking) gitTrees(ctx context.Context, args []string) (*trees, error) {
	repo, err := c.repository(ctx, args, "--staged and --since")
	if err != nil {
		return nil, err
	}
	if repo.Bare {
		return nil, errors.New("a bare repository has no working tree to judge; compare --rev A..B compares two revisions of it")
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

// since pairs the plans to judge with what they were: those of which a file or a file
// of their stock changed, and those of which the baseline knows more now.
func (t *trees) since(staged bool) ([]planPair, error) {
	files, err := t.repo.Changed(t.rev, staged, "*"+plans.Suffix)
	if err != nil {
		return nil, err
	}
	v := &versions{base: t.then, head: t.now}
	changed := map[string]bool{}
	for _, f := range files {
		changed[f] = true
	}
	t.then.Share(t.now.Tree, func(name string) bool { return !changed[name] })
	if err := v.touch(files, func(string) bool { return true }); err != nil {
		return nil, err
	}
	wanted := map[string]bool{}
	for _, d := range t.plans {
		wanted[d] = true
	}
	var out []planPair
	for _, p := range v.pairs {
		if wanted[p.head] {
			delete(wanted, p.head)
			out = append(out, p)
		}
	}
	for _, d := range t.plans {
		if wanted[d] && len(t.known.Beyond(t.knownThen, d)) > 0 {
			out = append(out, planPair{key: d, base: d, head: d})
		}
	}
	return out, nil
}

// before judges a plan as it was, under the name that it has now. One that was not
// there had no findings.
func (t *trees) before(ctx context.Context, p planPair, now *schema.Plan, memo *figures.Memo) (old *report.Plan, policies []string, err error) {
	if p.base == "" {
		return nil, nil, nil
	}
	then, err := t.then.Decode(p.base)
	if err != nil {
		return nil, nil, err
	}
	_, v, err := judge(ctx, then, memo)
	if err != nil {
		return nil, nil, err
	}
	out := report.Resolve(then, v.Findings)
	out.Hide(then, v.Hidden)
	out.Call(now.Dir, now.Name())
	for i, dir := range then.StockDirs {
		if len(then.StockDirs) == len(now.StockDirs) {
			out.CallStock(dir, now.StockDirs[i])
		}
	}
	return out, compare.Policies(then, now), nil
}
