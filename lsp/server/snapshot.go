package server

import (
	"bytes"
	"maps"
	"path/filepath"
	"slices"

	"go.lsp.dev/uri"

	"ohmstead/schema/source"
)

// snapshot is all that the server knows at one moment. It is never changed, so
// it gives the same answers for its whole life.
type snapshot struct {
	settings Settings
	buffers  map[string]*buffer // by key
	keys     map[uri.URI]string // of open documents
	roots    []*root            // by kind and path
	edits    map[string]int     // where the last edit of a document since it was saved ends, by key
	news     []planID           // plans that are not what they were in the snapshot before
}

func (s *snapshot) clone() *snapshot {
	next := *s
	next.buffers, next.keys, next.edits, next.roots = maps.Clone(s.buffers), maps.Clone(s.keys), maps.Clone(s.edits), slices.Clone(s.roots)
	next.news = nil
	if next.buffers == nil {
		next.buffers, next.keys, next.edits = map[string]*buffer{}, map[uri.URI]string{}, map[string]int{}
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

// root finds a root.
func (s *snapshot) root(id rootID) (*root, bool) {
	i := slices.IndexFunc(s.roots, func(r *root) bool { return r.rootID == id })
	if i < 0 {
		return nil, false
	}
	return s.roots[i], true
}

// plan finds a plan; nil if there is none any more.
func (s *snapshot) plan(id planID) *plan {
	if r, ok := s.root(id.root); ok {
		return r.plan(id.dir)
	}
	return nil
}

// rootFor is the root that answers questions about a document.
func (s *snapshot) rootFor(key string) (*root, string, bool) {
	for _, r := range s.roots {
		dir, ok := r.dirOf(key)
		if !ok || !isPlanFile(key) && r.kind != single {
			continue
		}
		if r.kind == loose && r.dir(dir) == nil {
			continue // that of another directory altogether
		}
		return r, dir, true
	}
	return nil, "", false
}

// withRoot replaces a root, or adds it.
func (s *snapshot) withRoot(r *root, news []planID) {
	s.news = append(s.news, news...)
	i, was := slices.BinarySearchFunc(s.roots, r, byID)
	if was {
		s.roots[i] = r
	} else {
		s.roots = slices.Insert(s.roots, i, r)
	}
}

// withChanges replaces directories of a root.
func (s *snapshot) withChanges(r *root, changes map[string]*directory, d *disk) {
	maps.DeleteFunc(changes, func(dir string, now *directory) bool { return now == r.dir(dir) })
	if len(changes) > 0 {
		s.withRoot(r.with(changes, d, s.buffers))
	}
}

// open gives the snapshot in which a document is open.
func (s *snapshot) open(b *buffer, d *disk) *snapshot {
	next := s.clone()
	next.buffers[b.key] = b
	next.keys[b.uri] = b.key
	next.shelve(b.key, d)
	return next
}

// shelve brings the directories that hold an open document up to date, and
// gives it a root if it has none.
func (s *snapshot) shelve(key string, d *disk) {
	if !isPlanFile(key) {
		s.withRoot(singleRoot(s.buffers[key]))
		return
	}
	home := s.homeFor(key)
	if _, there := s.root(home.rootID); !there {
		s.withRoot(home, nil)
	}
	for _, r := range slices.Clone(s.roots) {
		dir, ok := r.dirOf(key)
		if r.kind == single || !ok {
			continue
		}
		changes := map[string]*directory{}
		for _, x := range append(slices.Clone(r.at[filepath.Dir(key)]), dir) {
			if known := r.dir(x); known != nil || r.rootID == home.rootID {
				changes[x] = d.directory(r, x, known, s.buffers)
			}
		}
		s.withChanges(r, changes, d)
	}
}

// homeFor is the root that a plan file belongs to; it may not be in the
// snapshot yet.
func (s *snapshot) homeFor(key string) *root {
	for _, r := range s.roots {
		if _, ok := r.dirOf(key); ok && r.kind == workspace {
			return r
		}
	}
	path, repository := rootOf(filepath.Dir(key))
	r, ok := s.root(rootID{loose, path})
	if !ok {
		r = newRoot(rootID{loose, path})
		r.scanned, r.repository = true, repository
	}
	return r
}

// edit gives the snapshot in which an open document has the next text. The
// edits are made one after the other.
func (s *snapshot) edit(key string, version int32, change func(*source.Text) *source.Text, d *disk) *snapshot {
	old, open := s.buffers[key]
	if !open {
		return s
	}
	next := s.clone()
	b := &buffer{key: key, uri: old.uri, version: version, text: change(old.text)}
	next.buffers[key] = b
	if end, differs := lastDifference(old.text.Bytes(), b.text.Bytes()); differs {
		next.edits[key] = end
	}
	for _, r := range s.roots {
		changes := map[string]*directory{}
		for _, dir := range r.holds(key) {
			x := r.dir(dir)
			doc, _ := x.find(key)
			changes[dir] = x.with(b.over(doc, doc.file.Text.Path()))
		}
		next.withChanges(r, changes, d)
	}
	return next
}

// lastDifference is where what is different in a text ends.
func lastDifference(before, now []byte) (end int, differs bool) {
	if bytes.Equal(before, now) {
		return 0, false
	}
	return len(now) - source.CommonSuffix(before, now), true
}

// saved gives the snapshot in which a document has been saved.
func (s *snapshot) saved(key string) *snapshot {
	next := s.clone()
	delete(next.edits, key)
	for _, r := range s.roots {
		for _, dir := range r.holds(key) {
			for _, p := range r.plansWith(dir) {
				p.past.save(p)
			}
		}
	}
	return next
}

// close gives the snapshot in which a document is as on disk again.
func (s *snapshot) close(key string, d *disk) *snapshot {
	b, ok := s.buffers[key]
	if !ok {
		return s
	}
	next := s.clone()
	delete(next.buffers, key)
	delete(next.edits, key)
	maps.DeleteFunc(next.keys, func(u uri.URI, k string) bool { return k == key })
	next.dropRoots(func(r *root) bool { return r.rootID == rootID{single, key} })
	next.refresh(filepath.Dir(b.key), d)
	next.dropRoots(func(r *root) bool {
		if r.kind != loose {
			return false
		}
		for _, x := range each(r.dirs) {
			if x.opened() {
				return false
			}
		}
		return true
	})
	return next
}

// dropRoots removes roots with their plans.
func (s *snapshot) dropRoots(gone func(*root) bool) {
	s.roots = slices.DeleteFunc(s.roots, func(r *root) bool {
		if !gone(r) {
			return false
		}
		for _, p := range each(r.plans) {
			s.news = append(s.news, p.id)
		}
		return true
	})
}

// refresh reads a directory of the disk again, in every root that has it.
func (s *snapshot) refresh(real string, d *disk) {
	for _, r := range slices.Clone(s.roots) {
		if r.kind == single {
			continue
		}
		changes := map[string]*directory{}
		for _, dir := range r.at[real] {
			changes[dir] = d.directory(r, dir, r.dir(dir), s.buffers)
		}
		if dir, ok := within(r.path, real); ok && r.searched(dir) && (r.dir(dir) == nil || !r.dir(dir).found) {
			now := *d.directory(r, dir, r.dir(dir), s.buffers)
			if now.found = true; len(now.docs) > 0 {
				changes[dir] = &now
			}
		}
		s.withChanges(r, changes, d)
	}
}
