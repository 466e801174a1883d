package server

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"sync"

	"go.lsp.dev/protocol"
)

// scans keeps what can be cancelled.
type scans struct {
	sync.Mutex
	count  int
	cancel map[string]context.CancelFunc // by progress token
}

// skipped reports whether nothing is looked for in a directory, or below it.
func skipped(dir string) bool {
	for part := range strings.SplitSeq(dir, "/") {
		if part == "node_modules" || len(part) > 1 && part != ".." && strings.HasPrefix(part, ".") {
			return true
		}
	}
	return false
}

// scan finds the plans of a folder. It runs beside everything else; what is
// open meanwhile has been read on its own. Links to directories are not
// followed: what they lead to inside of the folder is found where it is.
func (s *server) scan(r *root) {
	ctx, progress := s.beginProgress("Looking for plans in " + filepath.Base(r.given))
	found := map[string]bool{}
	looked := 0
	err := filepath.WalkDir(r.path, func(p string, e fs.DirEntry, err error) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		rel, ok := within(r.path, p)
		if !ok {
			return nil
		}
		switch {
		case err != nil:
			s.log(protocol.MessageTypeWarning, "looking for plans: %v", err)
			if e != nil && e.IsDir() {
				return fs.SkipDir
			}
		case e.IsDir():
			if skipped(rel) {
				return fs.SkipDir
			}
			if looked++; looked%500 == 0 {
				progress.report(fmt.Sprintf("%d directories, %d with plans", looked, len(found)))
			}
		case strings.HasSuffix(e.Name(), planSuffix):
			dir, _ := within(r.path, filepath.Dir(p))
			found[dir] = true
		}
		return nil
	})
	if err != nil && ctx.Err() == nil {
		s.log(protocol.MessageTypeWarning, "looking for plans in %s: %v", r.given, err)
	}
	// Reading and parsing happen here, outside of the writer's lock; what the
	// writer learned meanwhile goes first.
	read := map[string]*directory{}
	now := s.current.Load()
	for dir := range found {
		if ctx.Err() != nil {
			break
		}
		var before *directory
		if cur, ok := now.folder(r.path); ok {
			before = cur.dirs[dir]
		}
		read[dir] = r.readDirectory(dir, before, now.buffers)
	}
	complete := ctx.Err() == nil
	s.change(func(snap *snapshot) *snapshot {
		cur, ok := snap.folder(r.path)
		if !ok {
			return snap
		}
		next := snap.clone()
		next.withRoot(cur.scannedWith(read, complete, now, next.buffers))
		return next
	})
	s.refreshPulled()
	progress.end(fmt.Sprintf("%d directories with plans", len(found)))
}

// folder finds a workspace folder.
func (s *snapshot) folder(path string) (*root, bool) {
	for _, r := range s.roots {
		if r.kind == folder && r.path == path {
			return r, true
		}
	}
	return nil, false
}

// scannedWith puts the result of a scan into a root. Directories that were
// changed since the scan looked at them are read again.
func (r *root) scannedWith(read map[string]*directory, complete bool, looked *snapshot, buffers map[string]*buffer) *root {
	changes := map[string]*directory{}
	then, _ := looked.folder(r.path)
	for dir, d := range read {
		cur := r.dirs[dir]
		if then == nil || cur != then.dirs[dir] || !sameBuffers(d, buffers) {
			d = r.readDirectory(dir, cur, buffers)
		}
		judged := *d
		judged.judged = true
		if cur == nil || !cur.judged || !judged.same(cur) {
			changes[dir] = &judged
		}
	}
	for dir, cur := range r.dirs {
		if complete && read[dir] == nil && cur.judged && !cur.opened() {
			changes[dir] = r.readDirectory(dir, cur, buffers)
			if len(changes[dir].docs) == 0 {
				changes[dir] = nil
			}
		}
	}
	next := r.with(changes, buffers)
	next.scanned = true
	return next
}

// sameBuffers reports whether the open documents of a directory are the current ones.
func sameBuffers(d *directory, buffers map[string]*buffer) bool {
	for _, doc := range d.docs {
		if doc.buffer != buffers[doc.key] {
			return false
		}
	}
	return true
}
