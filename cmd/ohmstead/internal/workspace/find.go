package workspace

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"ohmstead/schema"
)

// Find lists the directories of the plans that some files and directories
// stand for, in their order and each once: a file for the plan of its
// directory; a directory for its own plan or, without plan files, for all plans
// below it; and one that holds nothing but parts for the plans that use it.
//
// What could not be read is in the error; the plans are complete without it.
func (w *Workspace) Find(args []string) ([]string, error) {
	var plans []string
	var errs []error
	add := func(dirs ...string) {
		for _, d := range dirs {
			if !slices.Contains(plans, d) {
				plans = append(plans, d)
			}
		}
	}
	for _, arg := range args {
		dirs, err := w.find(arg)
		if err != nil {
			errs = append(errs, err)
		}
		add(dirs...)
	}
	return plans, errors.Join(errs...)
}

func (w *Workspace) find(arg string) ([]string, error) {
	name, err := w.Rel(arg)
	if err != nil {
		return nil, err
	}
	info, err := fs.Stat(w.tree, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such file or directory", arg)
	case err != nil:
		return nil, plain(err)
	case !info.IsDir() && !strings.HasSuffix(name, Suffix):
		return nil, fmt.Errorf("%s is not a plan file; their names end in %s", arg, Suffix)
	case !info.IsDir():
		return w.plansOf(path.Dir(name))
	}
	own, err := w.Names(name)
	if err != nil {
		return nil, err
	}
	if len(own) > 0 {
		return w.plansOf(name)
	}
	dirs, err := w.walk(name)
	if len(dirs) == 0 && err == nil {
		return nil, fmt.Errorf("%s: there is no *%s file in it or below", arg, Suffix)
	}
	plans := slices.DeleteFunc(slices.Clone(dirs), w.partsOnly)
	if len(plans) > 0 {
		return plans, err
	}
	for _, d := range dirs {
		more, err2 := w.plansOf(d)
		plans, err = append(plans, more...), errors.Join(err, err2)
	}
	return plans, err
}

// plansOf is a directory with a plan, or the plans that use one with parts.
func (w *Workspace) plansOf(dir string) ([]string, error) {
	if !w.partsOnly(dir) {
		return []string{dir}, nil
	}
	users, err := w.Users(dir)
	if len(users) == 0 {
		return []string{dir}, err // it is judged, and told that it has no plan block
	}
	return users, err
}

// Users lists the plans of the workspace whose stock one of some directories
// is, directly or through other stock.
func (w *Workspace) Users(dirs ...string) ([]string, error) {
	all, err := w.walk(".")
	var out []string
	for _, d := range all {
		if w.partsOnly(d) {
			continue
		}
		p, err := w.Decode(d)
		if err == nil && slices.ContainsFunc(p.StockDirs, func(s string) bool { return s != d && slices.Contains(dirs, s) }) {
			out = append(out, d)
		}
	}
	return out, err
}

// Touched lists the plans that a change of some files, given by path below the
// root, may change: those of their directories, and those that use them as
// stock. Files that are no plan files, or are gone, are fine.
func (w *Workspace) Touched(names []string) ([]string, error) {
	var dirs []string
	for _, n := range names {
		if d := path.Dir(n); strings.HasSuffix(n, Suffix) && !slices.Contains(dirs, d) {
			dirs = append(dirs, d)
		}
	}
	if len(dirs) == 0 {
		return nil, nil
	}
	plans, err := w.Users(dirs...)
	for _, d := range dirs {
		if names, err := w.Names(d); err == nil && len(names) > 0 && !w.partsOnly(d) {
			plans = append(plans, d)
		}
	}
	slices.Sort(plans)
	return slices.Compact(plans), err
}

// partsOnly reports whether a directory holds parts for other plans and no
// plan: no plan block, and no block that only a plan can have.
func (w *Workspace) partsOnly(dir string) bool {
	files, err := w.Files(dir)
	if err != nil {
		return false
	}
	parts := 0
	for _, f := range files {
		if f.Refused() != nil {
			return false
		}
		for _, p := range f.Pieces {
			for _, n := range schema.NodesIn(p) {
				if t, ok := schema.TypeNamed(n.Type); !ok || !t.Part {
					return false
				}
				parts++
			}
		}
	}
	return parts > 0
}

// walk lists the directories below one, itself included, that hold plan files.
func (w *Workspace) walk(dir string) ([]string, error) {
	var out []string
	var errs []error
	err := w.PlanFiles(dir, func(name string) {
		if d := path.Dir(name); len(out) == 0 || out[len(out)-1] != d {
			out = append(out, d)
		}
	}, func(err error) { errs = append(errs, err) })
	slices.Sort(out)
	return slices.Compact(out), errors.Join(append(errs, err)...)
}

// PlanFiles visits the plan files below a directory, except in directories
// that hold no plans of anybody's: those named node_modules, and those whose
// names begin with a dot. Links to directories are not followed.
func (w *Workspace) PlanFiles(dir string, visit func(name string), failed func(error)) error {
	return fs.WalkDir(w.tree, dir, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			failed(plain(err))
			if e != nil && e.IsDir() {
				return fs.SkipDir
			}
		case e.IsDir():
			if name != dir && (e.Name() == "node_modules" || strings.HasPrefix(e.Name(), ".")) {
				return fs.SkipDir
			}
		case strings.HasSuffix(name, Suffix):
			visit(name)
		}
		return nil
	})
}
