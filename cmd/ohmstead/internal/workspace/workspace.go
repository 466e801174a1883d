// Package workspace opens directory trees with plans in them and finds what is
// named on the command line. Plans and their stock stay inside the root.
package workspace

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"ohmstead/schema/plans"
)

// Workspace is a tree of plans below a root.
type Workspace struct {
	*plans.Tree
	Root string // absolute path, links resolved
}

// Open opens the working tree below root. Links that lead out of it are refused.
func Open(root string) (*Workspace, error) {
	real, err := filepath.EvalSymlinks(root)
	if err != nil {
		return nil, err
	}
	if real, err = filepath.Abs(real); err != nil {
		return nil, err
	}
	r, err := os.OpenRoot(real)
	if err != nil {
		return nil, err
	}
	return Over(real, r.FS()), nil
}

// Over is a workspace whose files come from another tree than the working
// tree, with the same paths below root.
func Over(root string, tree fs.FS) *Workspace { return &Workspace{plans.New(tree), root} }

// With is the workspace with other texts for some of its files, by path below
// the root.
func (w *Workspace) With(texts map[string][]byte) *Workspace {
	return &Workspace{w.Tree.With(texts), w.Root}
}

// Find lists the directories of the plans that some files and directories
// stand for, in their order and each once; see [plans.Tree.Find].
func (w *Workspace) Find(args []string) ([]string, error) {
	var out []string
	var errs []error
	for _, arg := range args {
		name, err := w.Rel(arg)
		var dirs []string
		if err == nil {
			dirs, err = w.Tree.Find(name, arg)
		}
		errs = append(errs, err)
		for _, d := range dirs {
			if !slices.Contains(out, d) {
				out = append(out, d)
			}
		}
	}
	return out, errors.Join(errs...)
}
