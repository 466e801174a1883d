// Package gitfs shows the plan files of a git revision, or of the index, as a
// file system. It reads with the git program and never touches the working
// tree.
package gitfs

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
)

// Repo is a repository as seen from one of its directories.
type Repo struct {
	Root string // the top of the working tree, links resolved; of a bare repository itself
	Bare bool   // it has no working tree and no index to speak of
	ctx  context.Context

	commits sync.Map // full names by what was asked for: a branch that moves meanwhile is one commit to the end
}

// Open finds the repository that a directory lies in. The programs that it
// starts end with ctx.
func Open(ctx context.Context, dir string) (*Repo, error) {
	out, err := run(ctx, dir, "rev-parse", "--show-toplevel")
	bare := false
	if err != nil {
		is, failed := run(ctx, dir, "rev-parse", "--is-bare-repository")
		if bare = failed == nil && strings.TrimSpace(string(is)) == "true"; !bare {
			return nil, err
		}
		if out, err = run(ctx, dir, "rev-parse", "--absolute-git-dir"); err != nil {
			return nil, err
		}
	}
	root, err := filepath.EvalSymlinks(strings.TrimRight(string(out), "\r\n"))
	if err != nil {
		return nil, err
	}
	return &Repo{Root: root, Bare: bare, ctx: ctx}, nil
}

func run(ctx context.Context, dir string, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, "git", args...)
	cmd.Dir = dir
	cmd.Env = append(cmd.Environ(), "LC_ALL=C", "GIT_OPTIONAL_LOCKS=0")
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	var exit *exec.ExitError
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return nil, errors.New("the git program is needed for this, and is not there")
	case errors.As(err, &exit):
		return nil, fmt.Errorf("git %s: %s", args[0], strings.TrimSpace(errs.String()))
	}
	return out, err
}

// Commit gives the full name of the commit that rev means.
func (r *Repo) Commit(rev string) (string, error) {
	if name, known := r.commits.Load(rev); known {
		return name.(string), nil
	}
	out, err := run(r.ctx, r.Root, "rev-parse", "--verify", "--quiet", "--end-of-options", rev+"^{commit}")
	if err != nil {
		return "", fmt.Errorf("%s is not a commit of this repository", rev)
	}
	name := strings.TrimSpace(string(out))
	r.commits.Store(rev, name)
	return name, nil
}

// Staged lists the files, by path below the root, whose index differs from the
// last commit, those that were removed included.
func (r *Repo) Staged() ([]string, error) {
	args := []string{"diff", "--cached", "--name-only", "--no-renames", "-z"}
	if _, err := r.Commit("HEAD"); err != nil {
		args = []string{"ls-files", "-z"} // before the first commit everything is new
	}
	out, err := run(r.ctx, r.Root, args...)
	return split(out), err
}

func split(out []byte) []string {
	if len(out) == 0 {
		return nil
	}
	return strings.Split(strings.TrimRight(string(out), "\x00"), "\x00")
}

// listed reads a line of a listing: three fields, then the path behind a tab.
func listed(line string) (fields [3]string, name string, err error) {
	head, name, ok := strings.Cut(line, "\t")
	f := strings.Fields(head)
	if !ok || len(f) != len(fields) {
		return fields, "", fmt.Errorf("git lists %q, where three fields and a path belong", line)
	}
	return [3]string(f), name, nil
}

// Index is the tree of what is staged.
func (r *Repo) Index() (*Tree, error) {
	out, err := run(r.ctx, r.Root, "ls-files", "--stage", "-z")
	if err != nil {
		return nil, err
	}
	t := newTree(r)
	for _, line := range split(out) {
		f, name, err := listed(line) // mode, object and stage
		if err != nil {
			return nil, err
		}
		if f[2] != "0" && isPlan(name) {
			return nil, fmt.Errorf("%s has a merge conflict; settle it and stage the file", name)
		}
		t.add(name, f[0], f[1])
	}
	return t, nil
}

// Revision is the tree of a commit.
func (r *Repo) Revision(rev string) (*Tree, error) {
	commit, err := r.Commit(rev)
	if err != nil {
		return nil, err
	}
	out, err := run(r.ctx, r.Root, "ls-tree", "-r", "-z", "--full-tree", commit)
	if err != nil {
		return nil, err
	}
	t := newTree(r)
	for _, line := range split(out) {
		f, name, err := listed(line) // mode, type and object
		if err != nil {
			return nil, err
		}
		t.add(name, f[0], f[2])
	}
	return t, nil
}
