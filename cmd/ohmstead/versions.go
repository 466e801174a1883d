package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	iofs "io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ohmstead/cmd/ohmstead/internal/compare"
	"ohmstead/cmd/ohmstead/internal/gitfs"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/report"
	"ohmstead/schema"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// versions are the two trees that compare reads, and the plans in them that
// belong together.
type versions struct {
	base, head         *workspace.Workspace
	baseName, headName string
	pairs              []planPair // of which something may have changed
	total              int        // plans on either side
	open               []*gitfs.Tree
	baselines          []compare.Baseline // that differ
	shares             map[string]string  // of a new plan: the directory of another one of its name
}

// planPair is a plan's directory on both sides, "" where it is not there, and
// what it is called in the report.
type planPair struct {
	key, base, head string
	moved           bool // it is in another directory now
}

func (v *versions) close() {
	for _, t := range v.open {
		_ = t.Close() // it was only read from
	}
}

// directories finds the plans below two directories. Plans belong together
// that lie at the same place below them; a single one on each side always does.
func (c *comparing) directories(base, head string) (*versions, error) {
	v := &versions{baseName: filepath.ToSlash(base), headName: filepath.ToSlash(head)}
	find := func(path string) (*workspace.Workspace, map[string]string, error) {
		w, err := c.globals.open([]string{path})
		if err != nil {
			return nil, nil, err
		}
		plans, err := w.Find([]string{path})
		if err != nil {
			return nil, nil, err
		}
		top, err := w.Rel(path)
		if err != nil {
			return nil, nil, err
		}
		out := map[string]string{}
		for _, p := range plans {
			below, err := filepath.Rel(filepath.FromSlash(top), filepath.FromSlash(p))
			if err != nil {
				return nil, nil, err
			}
			out[filepath.ToSlash(below)] = p
		}
		return w, out, nil
	}
	var was, is map[string]string
	var err error
	if v.base, was, err = find(base); err != nil {
		return nil, err
	}
	if v.head, is, err = find(head); err != nil {
		return nil, err
	}
	if len(was) == 1 && len(is) == 1 {
		v.pairs = []planPair{{only(is), only(was), only(is), false}}
		v.total = 1
		return v, nil
	}
	v.pair(was, is)
	v.total = len(v.pairs)
	return v, nil
}

func only(m map[string]string) string {
	for _, x := range m {
		return x
	}
	return ""
}

// pair puts together the plans at the same place, and of the rest those of the
// same name: a plan may have moved.
func (v *versions) pair(was, is map[string]string) {
	var gone, come []string
	for key := range was {
		if _, ok := is[key]; !ok {
			gone = append(gone, key)
		}
	}
	for key, dir := range is {
		if old, ok := was[key]; ok {
			v.pairs = append(v.pairs, planPair{key, old, dir, false})
		} else {
			come = append(come, key)
		}
	}
	slices.Sort(gone)
	slices.Sort(come)
	names := map[string]string{} // of plans that are gone: the key
	for _, key := range gone {
		if name := nameOfPlan(v.base, was[key]); name != "" {
			names[name] = key
		}
	}
	for _, key := range come {
		old, moved := names[nameOfPlan(v.head, is[key])]
		v.pairs = append(v.pairs, planPair{key, was[old], is[key], moved})
		if moved {
			delete(names, nameOfPlan(v.head, is[key]))
			gone = slices.DeleteFunc(gone, func(k string) bool { return k == old })
		}
	}
	for _, key := range gone {
		v.pairs = append(v.pairs, planPair{key, was[key], "", false})
	}
	slices.SortFunc(v.pairs, func(a, b planPair) int { return strings.Compare(a.key, b.key) })
}

// nameOfPlan reads the name of a directory's plan.
func nameOfPlan(w *workspace.Workspace, dir string) string {
	files, err := w.Files(dir)
	if err != nil {
		return ""
	}
	for _, f := range files {
		for _, p := range f.Pieces {
			for _, n := range schema.NodesIn(p) {
				if n.Type == "plan" {
					return n.Label()
				}
			}
		}
	}
	return ""
}

// unchanged reports whether not a byte of a plan or of its stock differs.
func (v *versions) unchanged(p planPair) (bool, error) {
	files := func(w *workspace.Workspace, dir string) (out [][]*source.File, err error) {
		for _, d := range append([]string{dir}, plans.Follow(dir, func(d string) []string { return w.Look(d).Stock })...) {
			fs, err := w.Files(d)
			if err != nil && !errors.Is(err, iofs.ErrNotExist) {
				return nil, err
			}
			out = append(out, fs)
		}
		return out, nil
	}
	was, err := files(v.base, p.base)
	if err != nil {
		return false, err
	}
	is, err := files(v.head, p.head)
	if err != nil {
		return false, err
	}
	for _, fs := range append(slices.Clone(was), is...) {
		for _, f := range fs {
			if err := f.Unread(); err != nil {
				return false, err
			}
		}
	}
	return slices.EqualFunc(was, is, func(a, b []*source.File) bool {
		return slices.EqualFunc(a, b, func(x, y *source.File) bool {
			return x == y || path.Base(x.Text.Path()) == path.Base(y.Text.Path()) && bytes.Equal(x.Text.Bytes(), y.Text.Bytes())
		})
	}), nil
}

// forget lets go of what was read of a pair of plans; their stock others need too.
func (v *versions) forget(p planPair) {
	for _, s := range []struct {
		w   *workspace.Workspace
		dir string
	}{{v.base, p.base}, {v.head, p.head}} {
		if names, err := s.w.Names(s.dir); s.dir != "" && err == nil {
			s.w.Forget(names)
		}
	}
}

// revisions opens two revisions and finds the plans that changed between them,
// by the names of the files' contents alone.
func (c *comparing) revisions(ctx context.Context, args []string) (*versions, error) {
	repo, err := c.repository(ctx, args, "--rev")
	if err != nil {
		return nil, err
	}
	from, to, err := readRevs(repo, c.rev)
	if err != nil {
		return nil, err
	}
	v := &versions{baseName: short(from), headName: short(to)}
	var trees [2]*gitfs.Tree
	for i, rev := range []string{from, to} {
		if trees[i], err = repo.Revision(rev); err != nil {
			v.close()
			return nil, fmt.Errorf("--rev: %w", err)
		}
		v.open = append(v.open, trees[i])
	}
	v.base, v.head = workspace.Over(repo.Root, trees[0]), workspace.Over(repo.Root, trees[1])
	v.head.Share(v.base.Tree, func(name string) bool {
		a, was := trees[0].Object(name)
		b, is := trees[1].Object(name)
		return was && is && a == b
	})
	if v.baselines, err = baselines(repo, from, to); err != nil {
		v.close()
		return nil, err
	}
	if err := v.changed(trees[0], trees[1], args); err != nil {
		v.close()
		return nil, err
	}
	return v, nil
}

// baselines reads the files of known findings that changed, wherever they lie: what
// an entry hides is for a reviewer to see.
func baselines(repo *gitfs.Repo, from, to string) ([]compare.Baseline, error) {
	names, err := repo.Differ(from, to, "*.json")
	if err != nil {
		return nil, err
	}
	var out []compare.Baseline
	for _, name := range names {
		var known [2][]report.Known
		for i, rev := range []string{from, to} {
			data, err := repo.Show(rev, name)
			if err != nil {
				return nil, err
			}
			known[i] = report.Entries(data)
		}
		if b, differs := compare.Baselines(name, known[0], known[1]); differs {
			out = append(out, b)
		}
	}
	return out, nil
}

// readRevs reads "A..B", "A...B" and "A" for "A..HEAD".
func readRevs(repo *gitfs.Repo, rev string) (from, to string, err error) {
	if rev == "HEAD" {
		return "", "", errors.New("--rev HEAD compares a commit with itself, and what is not committed is not read; name two, such as HEAD~1..HEAD")
	}
	a, b, since := strings.Cut(rev, "...")
	if !since {
		a, b, _ = strings.Cut(rev, "..")
	}
	if a == "" {
		a = "HEAD"
	}
	if b == "" {
		b = "HEAD"
	}
	if since {
		if a, err = repo.MergeBase(a, b); err != nil {
			return "", "", fmt.Errorf("--rev: %w", err)
		}
	}
	return a, b, nil
}

// short cuts a full commit name to what people read.
func short(rev string) string {
	if len(rev) == 40 && strings.Trim(rev, "0123456789abcdef") == "" {
		return rev[:10]
	}
	return rev
}

// changed pairs the plans of which a file, or a file of their stock, differs.
func (v *versions) changed(base, head *gitfs.Tree, args []string) error {
	names, err := v.base.Below(".")
	if err != nil {
		return err
	}
	more, err := v.head.Below(".")
	if err != nil {
		return err
	}
	var files []string
	for _, name := range append(names, more...) {
		a, _ := base.Object(name)
		b, _ := head.Object(name)
		if a != b {
			files = append(files, name)
		}
	}
	below, err := v.below(args)
	if err != nil {
		return err
	}
	return v.touch(files, below)
}

// touch pairs the plans that a change of some files may change.
func (v *versions) touch(files []string, below func(dir string) bool) error {
	touched, err := v.head.Touched(files)
	if err != nil {
		return err
	}
	plans, err := v.head.Plans()
	if err != nil {
		return err
	}
	var changed []string
	for _, name := range files {
		changed = append(changed, path.Dir(name))
	}
	// What did not change is the same in both trees, so that base is asked only
	// about the directories that did.
	old, now, all := map[string]string{}, map[string]string{}, map[string]bool{}
	for _, d := range touched {
		if below(d) {
			now[d] = d
			if v.base.IsPlan(d) {
				old[d] = d
			}
		}
	}
	for _, d := range changed {
		if below(d) && v.base.IsPlan(d) {
			old[d], all[d] = d, true
		}
	}
	v.pair(old, now)
	for _, d := range plans {
		if below(d) {
			all[d] = true
		}
	}
	v.total = len(all)
	for _, p := range v.pairs {
		if p.moved {
			v.total-- // it is one plan
		}
	}
	v.shares = map[string]string{}
	for _, p := range v.pairs {
		if p.base != "" || p.head == "" {
			continue
		}
		name := nameOfPlan(v.head, p.head)
		for _, d := range plans {
			if d != p.head && name != "" && nameOfPlan(v.head, d) == name {
				v.shares[p.key] = d
			}
		}
	}
	return nil
}

// below tells the directories that the paths on the command line stand for.
func (v *versions) below(args []string) (func(dir string) bool, error) {
	var tops []string
	for _, a := range args {
		top, err := v.head.Rel(a)
		if err != nil {
			return nil, err
		}
		if strings.HasSuffix(top, plans.Suffix) {
			top = path.Dir(top)
		}
		tops = append(tops, top)
	}
	return func(dir string) bool {
		return len(tops) == 0 || slices.ContainsFunc(tops, func(t string) bool {
			return t == "." || dir == t || strings.HasPrefix(dir, t+"/")
		})
	}, nil
}
