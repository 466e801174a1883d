package server

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// disk is what one change of the snapshot has read. A change that has to be
// made again, from a newer snapshot, reads nothing twice but what that
// snapshot knows another version of.
type disk struct {
	trees map[string]*os.Root
	lists map[listed]listing
	files map[asked]*document
	stale []string // keys of documents to read whatever their stamp
}

type (
	listed struct {
		root, dir string
		before    *directory
	}
	listing struct {
		real  string
		names []string
		err   error
	}
	asked struct {
		root, name string
		before     *document
	}
)

func newDisk(stale ...string) *disk {
	return &disk{trees: map[string]*os.Root{}, lists: map[listed]listing{}, files: map[asked]*document{}, stale: stale}
}

func (d *disk) close() {
	for _, t := range d.trees {
		_ = t.Close() // it was only read from
	}
}

// tree shows the files below a root. Links do not lead out of it.
func (d *disk) tree(root string) (fs.FS, error) {
	t, ok := d.trees[root]
	if !ok {
		var err error
		if t, err = os.OpenRoot(root); err != nil {
			return nil, err
		}
		d.trees[root] = t
	}
	return t.FS(), nil
}

// list lists the plan files of a directory.
func (d *disk) list(r *root, dir string, before *directory) listing {
	k := listed{r.path, dir, before}
	l, ok := d.lists[k]
	if !ok {
		l.real = realPath(filepath.Join(r.path, filepath.FromSlash(dir)))
		if tree, err := d.tree(r.path); err != nil {
			l.err = err
		} else if l.names, l.err = plans.Names(tree, dir); errors.Is(l.err, fs.ErrNotExist) {
			l.err = nil // what is open in it may not be saved yet
		}
		d.lists[k] = l
	}
	return l
}

// read reads a file, or keeps what is known of it if its stamp is the same.
func (d *disk) read(r *root, key, name string, before *document) *document {
	k := asked{r.path, name, before}
	doc, ok := d.files[k]
	if !ok {
		doc = d.document(r, key, name, before)
		d.files[k] = doc
	}
	return doc
}

func (d *disk) document(r *root, key, name string, before *document) *document {
	doc := &document{key: key, uri: r.uriOf(key)}
	tree, err := d.tree(r.path)
	if err != nil {
		doc.file = source.Unreadable(name, err)
		return doc
	}
	if info, err := plans.Stat(tree, name); err == nil {
		doc.stamp = stamp{info.Size(), info.ModTime()}
	}
	var known *source.File
	if before != nil {
		known = before.file
		if !before.open() && doc.stamp != (stamp{}) && before.stamp == doc.stamp && before.uri == doc.uri && !slices.Contains(d.stale, key) {
			return before
		}
	}
	doc.file = plans.Read(tree, name, known)
	if before != nil && !before.open() && known.Unread() != nil && doc.file.Unread() != nil && known.Unread().Error() == doc.file.Unread().Error() {
		return before
	}
	return doc
}

// directory reads the plan files of a directory of a root, open buffers over
// the disk. Of what is known from before, a file is read again only if its
// stamp changed or it is stale.
func (d *disk) directory(r *root, dir string, before *directory, buffers map[string]*buffer) *directory {
	l := d.list(r, dir, before)
	next := &directory{real: l.real, err: l.err}
	if before != nil {
		next.found = before.found
	}
	find := func(key string) *document {
		if before == nil {
			return nil
		}
		doc, _ := before.find(key)
		return doc
	}
	seen := map[string]bool{}
	for _, name := range l.names {
		key := filepath.Join(l.real, path.Base(name))
		seen[key] = true
		if b, open := buffers[key]; open {
			next.docs = append(next.docs, b.over(find(key), name))
		} else {
			next.docs = append(next.docs, d.read(r, key, name, find(key)))
		}
	}
	if plans.Inside(r.path, l.real) {
		for key, b := range buffers {
			if !seen[key] && filepath.Dir(key) == l.real && isPlanFile(key) {
				next.docs = append(next.docs, b.over(find(key), path.Join(dir, filepath.Base(key))))
			}
		}
	}
	next = next.made()
	if before != nil && next.same(before) {
		return before
	}
	return next
}
