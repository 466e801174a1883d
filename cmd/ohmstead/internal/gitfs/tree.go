package gitfs

import (
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
)

// Tree is the plan files of a revision or of the index, as an fs.FS. Every
// other file is left out. It is safe for concurrent use; Close it after use.
type Tree struct {
	repo  *Repo
	dirs  map[string]*entry
	files map[string]*entry
	once  sync.Once
	batch *batch
	err   error
}

// isPlan reports whether a file is one that a tree shows.
func isPlan(name string) bool { return strings.HasSuffix(name, ".ohm.hcl") }

func newTree(r *Repo) *Tree {
	t := &Tree{repo: r, dirs: map[string]*entry{}, files: map[string]*entry{}}
	t.dirs["."] = &entry{name: "."}
	return t
}

// add files a blob; links and what belongs to other repositories are left out.
func (t *Tree) add(name, mode, object string) {
	if !isPlan(name) || mode != "100644" && mode != "100755" {
		return
	}
	e := &entry{tree: t, name: path.Base(name), object: object}
	t.files[name] = e
	for child := e; ; {
		dir := path.Dir(name)
		up, known := t.dirs[dir]
		if !known {
			up = &entry{name: path.Base(dir)}
			t.dirs[dir] = up
		}
		up.children = append(up.children, child)
		if known {
			return
		}
		name, child = dir, up
	}
}

// Object is the name of the blob that holds a file; two files with the same one
// have the same bytes.
func (t *Tree) Object(name string) (string, bool) {
	e, ok := t.files[name]
	if !ok {
		return "", false
	}
	return e.object, true
}

// Close ends the git program that reads for the tree.
func (t *Tree) Close() error {
	t.once.Do(func() { t.err = fs.ErrClosed })
	if t.batch != nil {
		return t.batch.close()
	}
	return nil
}

// Open implements fs.FS.
func (t *Tree) Open(name string) (fs.File, error) {
	if e, ok := t.dirs[name]; ok {
		return &openDir{entry: e, left: e.list()}, nil
	}
	e, ok := t.files[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	data, err := t.content(e)
	if err != nil {
		return nil, &fs.PathError{Op: "read", Path: name, Err: err}
	}
	return &openFile{entry: e, data: data}, nil
}

func (t *Tree) content(e *entry) (blob, error) {
	t.once.Do(func() { t.batch, t.err = startBatch(t.repo) })
	if t.err != nil {
		return blob{}, t.err
	}
	return t.batch.read(e.object)
}

// entry is a file or a directory of a tree.
type entry struct {
	tree     *Tree
	name     string
	object   string // of a file
	children []*entry
}

func (e *entry) list() []fs.DirEntry {
	children := slices.Clone(e.children)
	slices.SortFunc(children, func(a, b *entry) int { return strings.Compare(a.name, b.name) })
	out := make([]fs.DirEntry, len(children))
	for i, c := range children {
		out[i] = c
	}
	return out
}

// Name implements fs.DirEntry.
func (e *entry) Name() string { return e.name }

// IsDir implements fs.DirEntry.
func (e *entry) IsDir() bool { return e.object == "" }

// Type implements fs.DirEntry.
func (e *entry) Type() fs.FileMode { return e.mode().Type() }

// Info implements fs.DirEntry.
func (e *entry) Info() (fs.FileInfo, error) {
	if e.IsDir() {
		return info{e, 0}, nil
	}
	b, err := e.tree.content(e)
	return info{e, b.size}, err
}

func (e *entry) mode() fs.FileMode {
	if e.IsDir() {
		return fs.ModeDir | 0o555
	}
	return 0o444
}

type info struct {
	*entry
	size int64
}

func (i info) Size() int64        { return i.size }
func (i info) Mode() fs.FileMode  { return i.mode() }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) Sys() any           { return nil }

type openFile struct {
	*entry
	data blob
	at   int
}

func (f *openFile) Stat() (fs.FileInfo, error) { return info{f.entry, f.data.size}, nil }
func (f *openFile) Close() error               { return nil }
func (f *openFile) Read(p []byte) (int, error) {
	if f.at == len(f.data.bytes) && len(p) > 0 {
		return 0, io.EOF
	}
	n := copy(p, f.data.bytes[f.at:])
	f.at += n
	return n, nil
}

type openDir struct {
	*entry
	left []fs.DirEntry
}

func (d *openDir) Stat() (fs.FileInfo, error) { return info{d.entry, 0}, nil }
func (d *openDir) Close() error               { return nil }
func (d *openDir) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: d.name, Err: fs.ErrInvalid}
}

// ReadDir implements fs.ReadDirFile.
func (d *openDir) ReadDir(n int) ([]fs.DirEntry, error) {
	if n <= 0 {
		out := d.left
		d.left = nil
		return out, nil
	}
	if len(d.left) == 0 {
		return nil, io.EOF
	}
	out := d.left[:min(n, len(d.left))]
	d.left = d.left[len(out):]
	return out, nil
}
