package server

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/uri"

	"ohmstead/schema/source"
)

// snapshot is all that the server knows at one moment. It is never changed, so
// it gives the same answers for its whole life.
type snapshot struct {
	settings Settings
	buffers  map[string]*buffer // by key
	keys     map[uri.URI]string // of open documents
	roots    []*root            // folders first, by path
}

func (s *snapshot) clone() *snapshot {
	next := *s
	next.buffers, next.keys, next.roots = maps.Clone(s.buffers), maps.Clone(s.keys), slices.Clone(s.roots)
	if next.buffers == nil {
		next.buffers, next.keys = map[string]*buffer{}, map[uri.URI]string{}
	}
	return &next
}

// key is keyOf, without asking the disk for open documents.
func (s *snapshot) key(u uri.URI) string {
	if k, ok := s.keys[u]; ok {
		return k
	}
	return keyOf(u)
}

// rootFor is the root that answers questions about a document.
func (s *snapshot) rootFor(key string) (*root, string, bool) {
	for _, kind := range []rootKind{folder, loose, single} {
		for _, r := range s.roots {
			if r.kind != kind {
				continue
			}
			dir, ok := r.dirOf(key)
			if !ok || !isPlanFile(key) && kind != single {
				continue
			}
			if kind == loose && r.dirs[dir] == nil {
				continue // the parent of another directory altogether
			}
			return r, dir, true
		}
	}
	return nil, "", false
}

// withRoot replaces a root, or adds it.
func (s *snapshot) withRoot(r *root) {
	for i, old := range s.roots {
		if old.path == r.path && old.kind == r.kind {
			s.roots[i] = r
			return
		}
	}
	s.roots = append(s.roots, r)
	slices.SortFunc(s.roots, func(a, b *root) int {
		if a.kind != b.kind {
			return int(a.kind) - int(b.kind)
		}
		return strings.Compare(a.path, b.path)
	})
}

// open gives the snapshot in which a document is open.
func (s *snapshot) open(b *buffer) *snapshot {
	next := s.clone()
	next.buffers[b.key] = b
	next.keys[b.uri] = b.key
	next.settle(b.key)
	return next
}

// settle brings the directories that hold a buffer up to date, and gives it a
// root if it has none.
func (s *snapshot) settle(key string) {
	b := s.buffers[key]
	if !isPlanFile(key) {
		s.withRoot(singleRoot(b))
		return
	}
	home := s.homeFor(key)
	s.withRoot(home)
	for _, r := range slices.Clone(s.roots) {
		dir, ok := r.dirOf(key)
		if r.kind == single || !ok {
			continue
		}
		changes := map[string]*directory{}
		for d, known := range r.holds(key) {
			changes[d] = r.readDirectory(d, known, s.buffers)
		}
		if changes[dir] == nil && (r.path == home.path && r.kind == home.kind || r.dirs[dir] != nil) {
			changes[dir] = r.readDirectory(dir, r.dirs[dir], s.buffers)
		}
		if d := changes[dir]; d != nil && r.path == home.path && r.kind == home.kind {
			d.judged = true
		}
		if len(changes) > 0 {
			s.withRoot(r.with(changes, s.buffers))
		}
	}
}

// homeFor is the root that a plan file belongs to; it may not be in the
// snapshot yet. Outside of every folder it is the parent of the file's
// directory, so that stock next door is inside.
func (s *snapshot) homeFor(key string) *root {
	for _, r := range s.roots {
		if _, ok := r.dirOf(key); ok && r.kind == folder {
			return r
		}
	}
	parent := filepath.Dir(filepath.Dir(key))
	for _, r := range s.roots {
		if r.kind == loose && r.path == parent {
			return r
		}
	}
	return &root{kind: loose, path: parent, given: parent, scanned: true}
}

// edit gives the snapshot in which an open document has the next text. The
// edits are made one after the other.
func (s *snapshot) edit(key string, version int32, change func(*source.Text) *source.Text) *snapshot {
	old := s.buffers[key]
	next := s.clone()
	b := &buffer{key: key, uri: old.uri, version: version, text: change(old.text)}
	next.buffers[key] = b
	for i, r := range next.roots {
		changes := map[string]*directory{}
		for dir, d := range r.holds(key) {
			doc, _ := d.find(key)
			text := b.text
			if name := doc.file.Text.Path(); name != text.Path() {
				text = source.NewText(name, text.Bytes())
			}
			changes[dir] = d.with(doc.withText(b, text))
		}
		if len(changes) > 0 {
			next.roots[i] = r.with(changes, next.buffers)
		}
	}
	return next
}

// close gives the snapshot in which a document is as on disk again.
func (s *snapshot) close(key string) *snapshot {
	b, ok := s.buffers[key]
	if !ok {
		return s
	}
	next := s.clone()
	delete(next.buffers, key)
	maps.DeleteFunc(next.keys, func(u uri.URI, k string) bool { return k == key })
	next.roots = slices.DeleteFunc(next.roots, func(r *root) bool { return r.kind == single && r.path == key })
	next.refresh(filepath.Dir(key), b.key)
	next.dropLoose()
	return next
}

// refresh reads a directory of the disk again, in every root that has it.
func (s *snapshot) refresh(real string, stale ...string) {
	for i, r := range s.roots {
		if r.kind == single {
			continue
		}
		changes := map[string]*directory{}
		for dir, d := range r.dirs {
			if d.real == real {
				changes[dir] = r.readDirectory(dir, d, s.buffers, stale...)
			}
		}
		if dir, ok := within(r.path, real); ok && r.kind == folder && len(changes) == 0 && !skipped(dir) {
			if d := r.readDirectory(dir, nil, s.buffers); len(d.docs) > 0 {
				d.judged = true
				changes[dir] = d
			}
		}
		for dir, d := range changes {
			if d.same(r.dirs[dir]) {
				delete(changes, dir)
			}
		}
		if len(changes) > 0 {
			s.roots[i] = r.with(changes, s.buffers)
		}
	}
}

// same reports whether a directory holds the same documents as before.
func (d *directory) same(o *directory) bool {
	return o != nil && slices.Equal(d.docs, o.docs) && (d.err == nil) == (o.err == nil)
}

// dropLoose removes the directories of loose roots in which nothing is open any more.
func (s *snapshot) dropLoose() {
	var kept []*root
	for _, r := range s.roots {
		if r.kind == loose {
			changes := map[string]*directory{}
			open := false
			for dir, d := range r.dirs {
				open = open || d.opened() && d.judged
				if d.judged && !d.opened() {
					idle := *d
					idle.judged = false
					changes[dir] = &idle
				}
			}
			if !open {
				continue
			}
			if len(changes) > 0 {
				r = r.with(changes, s.buffers)
			}
		}
		kept = append(kept, r)
	}
	s.roots = kept
}
