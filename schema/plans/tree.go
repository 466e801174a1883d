package plans

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Tree is a directory tree with plans in it, at one moment. It reads each file
// once, so that stock is parsed once for all plans that share it, and is safe
// for concurrent use.
type Tree struct {
	tree  fs.FS
	over  map[string][]byte
	mu    sync.Mutex
	files map[string]func() *source.File
	looks map[string]Contents

	alike *Tree
	same  func(name string) bool
}

// Share takes the files of which same is true from another tree, where they hold the
// same: what is known of their text is known once. It is for a tree of which nothing
// was read yet.
func (t *Tree) Share(other *Tree, same func(name string) bool) { t.alike, t.same = other, same }

// Forget lets go of what was read of some files. Who asks for them reads them again.
func (t *Tree) Forget(names []string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, n := range names {
		delete(t.files, n)
	}
}

// New gives the plans of a tree.
func New(tree fs.FS) *Tree {
	return &Tree{tree: tree, files: map[string]func() *source.File{}, looks: map[string]Contents{}}
}

// With is the tree with other texts for some of its files. Files that stay
// keep what was read of them.
func (t *Tree) With(texts map[string][]byte) *Tree {
	next := New(t.tree)
	next.over = texts
	t.mu.Lock()
	defer t.mu.Unlock()
	for name, f := range t.files {
		if _, replaced := texts[name]; !replaced {
			if _, was := t.over[name]; !was {
				next.files[name] = f
			}
		}
	}
	return next
}

// File gives one parsed file; one that cannot be read is refused.
func (t *Tree) File(name string) *source.File {
	t.mu.Lock()
	read, ok := t.files[name]
	if !ok {
		read = sync.OnceValue(func() *source.File {
			if text, ok := t.over[name]; ok {
				return source.Parse(source.NewText(name, text))
			}
			if t.alike != nil && t.same(name) {
				return t.alike.File(name)
			}
			return Read(t.tree, name, nil)
		})
		t.files[name] = read
	}
	t.mu.Unlock()
	return read()
}

// Names lists the plan files of a directory; empty when it has none.
func (t *Tree) Names(dir string) ([]string, error) { return Names(t.tree, dir) }

// Files reads the plan files of a directory.
func (t *Tree) Files(dir string) ([]*source.File, error) {
	names, err := t.Names(dir)
	var out []*source.File
	for _, n := range names {
		out = append(out, t.File(n))
	}
	return out, err
}

// Below lists the plan files of a directory and of those below it that are not
// skipped. What could not be read is in the error.
func (t *Tree) Below(dir string) ([]string, error) {
	var out []string
	var errs []error
	for _, names := range Walk(t.tree, dir, func(err error) { errs = append(errs, err) }) {
		out = append(out, names...)
	}
	return out, errors.Join(errs...)
}

// Directories lists the directories of such files.
func (t *Tree) Directories(dir string) ([]string, error) {
	names, err := t.Below(dir)
	var out []string
	for _, n := range names {
		out = append(out, path.Dir(n))
	}
	slices.Sort(out)
	return slices.Compact(out), err
}

// Look tells what a directory holds.
func (t *Tree) Look(dir string) Contents {
	t.mu.Lock()
	c, ok := t.looks[dir]
	t.mu.Unlock()
	if !ok {
		files, err := t.Files(dir)
		c = Look(files)
		c.Plan = c.Plan || err != nil // whoever decodes it says what is wrong
		t.mu.Lock()
		t.looks[dir] = c
		t.mu.Unlock()
	}
	return c
}

// IsPlan reports whether a directory holds a plan.
func (t *Tree) IsPlan(dir string) bool {
	names, err := t.Names(dir)
	return err == nil && len(names) > 0 && t.Look(dir).Plan
}

// Decode reads and decodes the plan of a directory. Where one of its own files
// cannot be read, there is an error as well as the plan, which has a problem
// that says the same.
func (t *Tree) Decode(dir string) (*schema.Plan, error) {
	files, err := t.Files(dir)
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("%s holds no *%s file", dir, Suffix)
	}
	for _, f := range files {
		err = errors.Join(err, f.Unread())
	}
	return schema.Decode(dir, files, func(stock string) ([]*source.File, error) {
		files, err := t.Files(stock)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil // the decoder says that nothing is there
		}
		return files, err
	}), err
}

// Find lists the plans that a path stands for: a file for the plan of its
// directory; a directory for its own plan or, without plan files, for all plans
// below it; and one that holds nothing but parts for the plans that use them.
// Errors call the path what the caller does. What could not be read is in the
// error too; the plans are complete without it.
func (t *Tree) Find(name, called string) ([]string, error) {
	info, err := fs.Stat(t.tree, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such file or directory", called)
	case err != nil:
		return nil, plain(err)
	case !info.IsDir() && !strings.HasSuffix(name, Suffix):
		return nil, fmt.Errorf("%s is not a plan file; their names end in %s", called, Suffix)
	case !info.IsDir():
		return t.choose(func(users func(string) []string) []string { return For(path.Dir(name), t.Look, users) })
	}
	own, err := t.Names(name)
	if err != nil {
		return nil, err
	}
	if len(own) > 0 {
		return t.choose(func(users func(string) []string) []string { return For(name, t.Look, users) })
	}
	dirs, err := t.Directories(name)
	if len(dirs) == 0 && err == nil {
		return nil, fmt.Errorf("%s: there is no *%s file in it or below", called, Suffix)
	}
	plans, more := t.choose(func(users func(string) []string) []string { return Among(dirs, t.Look, users) })
	return plans, errors.Join(err, more)
}

// choose picks plans by a rule that may ask for the users of a directory.
func (t *Tree) choose(by func(users func(dir string) []string) []string) (plans []string, err error) {
	plans = by(func(dir string) []string {
		us, e := t.Users(dir)
		err = errors.Join(err, e)
		return us
	})
	return plans, err
}

// Plans lists the directories that hold a plan.
func (t *Tree) Plans() ([]string, error) {
	dirs, err := t.Directories(".")
	return slices.DeleteFunc(dirs, func(d string) bool { return !t.Look(d).Plan }), err
}

// Users lists the plans whose stock one of some directories is, directly or
// through other stock.
func (t *Tree) Users(dirs ...string) ([]string, error) {
	plans, err := t.Plans()
	return slices.DeleteFunc(plans, func(p string) bool {
		stock := Follow(p, func(d string) []string { return t.Look(d).Stock })
		return !slices.ContainsFunc(stock, func(d string) bool { return slices.Contains(dirs, d) })
	}), err
}

// Touched lists the plans that a change of some files may change: those of
// their directories, and those that use them as stock. Files that are no plan
// files, or are gone, are fine.
func (t *Tree) Touched(names []string) ([]string, error) {
	var dirs []string
	for _, n := range names {
		if d := path.Dir(n); strings.HasSuffix(n, Suffix) && !slices.Contains(dirs, d) {
			dirs = append(dirs, d)
		}
	}
	if len(dirs) == 0 {
		return nil, nil
	}
	plans, err := t.Users(dirs...)
	for _, d := range dirs {
		if t.IsPlan(d) {
			plans = append(plans, d)
		}
	}
	slices.Sort(plans)
	return slices.Compact(plans), err
}
