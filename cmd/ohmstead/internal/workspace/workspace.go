// Package workspace finds plans in a directory tree and reads their files. The
// tree is the working tree below a root, or any other that an fs.FS shows, such
// as the index of a repository. Plans and their stock stay inside the root.
package workspace

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Suffix is what the names of plan files end in.
const Suffix = ".ohm.hcl"

// Workspace is a tree of plans. It reads each file once, so that stock is
// parsed once for all plans that share it, and is safe for concurrent use.
type Workspace struct {
	Root string // absolute path, links resolved

	tree  fs.FS
	over  map[string][]byte
	mu    sync.Mutex
	files map[string]func() (*source.File, error)
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
func Over(root string, tree fs.FS) *Workspace {
	return &Workspace{Root: root, tree: tree, files: map[string]func() (*source.File, error){}}
}

// With is the workspace with other texts for some of its files, by path below
// the root. Files that stay keep what was read of them.
func (w *Workspace) With(texts map[string][]byte) *Workspace {
	next := Over(w.Root, w.tree)
	next.over = texts
	w.mu.Lock()
	defer w.mu.Unlock()
	for name, f := range w.files {
		if _, replaced := texts[name]; !replaced {
			if _, was := w.over[name]; !was {
				next.files[name] = f
			}
		}
	}
	return next
}

// File gives one parsed file, by its path below the root.
func (w *Workspace) File(name string) (*source.File, error) {
	w.mu.Lock()
	read, ok := w.files[name]
	if !ok {
		read = sync.OnceValues(func() (*source.File, error) { return w.read(name) })
		w.files[name] = read
	}
	w.mu.Unlock()
	return read()
}

func (w *Workspace) read(name string) (*source.File, error) {
	if text, ok := w.over[name]; ok {
		return source.Parse(source.NewText(name, text)), nil
	}
	if st, ok := w.tree.(fs.StatFS); ok { // before it is opened: a pipe would wait for its other end
		info, err := st.Stat(name)
		if err != nil {
			return nil, plain(err)
		}
		if !info.Mode().IsRegular() {
			return nil, fmt.Errorf("%s is not a regular file", name)
		}
	}
	f, err := w.tree.Open(name)
	if err != nil {
		return nil, plain(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, plain(err)
	}
	if info.Size() > source.MaxFile {
		return source.TooLarge(name, info.Size()), nil
	}
	data, err := io.ReadAll(io.LimitReader(f, source.MaxFile+1)) // it may grow meanwhile
	if err != nil {
		return nil, plain(err)
	}
	return source.Parse(source.NewText(name, data)), nil
}

// plain leaves out the name of the system call from an error.
func plain(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", pe.Path, pe.Err)
	}
	return err
}

// Names lists the plan files of a directory by path; empty when it has none.
func (w *Workspace) Names(dir string) ([]string, error) {
	entries, err := fs.ReadDir(w.tree, dir)
	if err != nil {
		return nil, plain(err)
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && strings.HasSuffix(e.Name(), Suffix) {
			out = append(out, path.Join(dir, e.Name()))
		}
	}
	return out, nil
}

// Files reads the plan files of a directory.
func (w *Workspace) Files(dir string) ([]*source.File, error) {
	names, err := w.Names(dir)
	if err != nil {
		return nil, err
	}
	var out []*source.File
	for _, n := range names {
		f, err := w.File(n)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

// Decode reads and decodes the plan of a directory below the root.
func (w *Workspace) Decode(dir string) (*schema.Plan, error) {
	files, err := w.Files(dir)
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("%s holds no *%s file", dir, Suffix)
	}
	return schema.Decode(dir, files, func(stock string) ([]*source.File, error) {
		files, err := w.Files(stock)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil // the decoder says that nothing is there
		}
		return files, err
	}), nil
}
