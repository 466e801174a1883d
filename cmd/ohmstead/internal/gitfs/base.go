package gitfs

import (
	"fmt"
	"strings"
)

// MergeBase gives the commit that two revisions have in common: what a review
// of the second one starts from.
func (r *Repo) MergeBase(a, b string) (string, error) {
	from, err := r.Commit(a)
	if err != nil {
		return "", err
	}
	to, err := r.Commit(b)
	if err != nil {
		return "", err
	}
	out, err := run(r.ctx, r.Root, "merge-base", from, to)
	if err != nil {
		return "", fmt.Errorf("%s and %s have no commit in common", a, b)
	}
	return strings.TrimSpace(string(out)), nil
}

// Show reads a file of a revision, by path below the root; nil where it is not there.
func (r *Repo) Show(rev, name string) ([]byte, error) {
	commit, err := r.Commit(rev)
	if err != nil {
		return nil, err
	}
	listed, err := run(r.ctx, r.Root, "ls-tree", "--full-tree", "-z", commit, "--", name)
	if err != nil || len(listed) == 0 {
		return nil, err
	}
	return run(r.ctx, r.Root, "cat-file", "blob", commit+":"+name)
}

// Differ lists the files that differ between two revisions, those of them whose
// names match one of some patterns (gitglossary, "pathspec").
func (r *Repo) Differ(from, to string, patterns ...string) ([]string, error) {
	a, err := r.Commit(from)
	if err != nil {
		return nil, err
	}
	b, err := r.Commit(to)
	if err != nil {
		return nil, err
	}
	out, err := run(r.ctx, r.Root, append([]string{"diff", "--name-only", "--no-renames", "-z", a, b, "--"}, patterns...)...)
	return split(out), err
}

// Changed lists the files that match a pattern and differ from a revision, in the
// index or in the working tree, where those count that git does not know of as well.
func (r *Repo) Changed(rev string, staged bool, pattern string) ([]string, error) {
	commit, err := r.Commit(rev)
	if err != nil {
		return nil, err
	}
	args := []string{"diff", "--name-only", "--no-renames", "--no-ext-diff", "-z"}
	if staged {
		args = append(args, "--cached")
	}
	out, err := run(r.ctx, r.Root, append(args, commit, "--", pattern)...)
	if err != nil || staged {
		return split(out), err
	}
	others, err := run(r.ctx, r.Root, "ls-files", "--others", "-z", "--", pattern)
	return append(split(out), split(others)...), err
}

// Removed lists the files, by path below the root, that the index no longer has
// and the last commit has.
func (r *Repo) Removed() ([]string, error) {
	if _, err := r.Commit("HEAD"); err != nil {
		return nil, nil // before the first commit there is nothing to remove
	}
	out, err := run(r.ctx, r.Root, "diff", "--cached", "--name-only", "--no-renames", "--diff-filter=D", "-z")
	return split(out), err
}
