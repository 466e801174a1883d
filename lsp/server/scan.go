package server

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"sync"

	"go.lsp.dev/protocol"

	"ohmstead/schema/plans"
)

// scans keeps what can be cancelled.
type scans struct {
	sync.Mutex
	count  int
	cancel map[string]context.CancelFunc // by progress token
}

// scan finds the plans of a root's folders. It runs beside everything else;
// what is open meanwhile has been read on its own.
func (s *server) scan(r *root) {
	name := "the workspace"
	if len(r.folders) == 1 {
		name = filepath.Base(r.folders[0].given)
	}
	ctx, progress := s.beginProgress("Looking for plans in " + name)
	var tops []string
	for _, f := range r.folders {
		top, _ := within(r.path, f.path)
		tops = append(tops, top)
	}
	n := s.search(ctx, r, tops, progress)
	if now, ok := s.current.Load().root(r.rootID); ok && now.repository && now.lonely() {
		n = s.search(ctx, r, append(tops, "."), progress)
	}
	progress.end(fmt.Sprintf("%d directories with plans", n))
}

// lonely reports whether there are parts that no plan is known to use. In a
// repository the plan may lie outside of the folders that are open.
func (r *root) lonely() bool {
	for dir := range r.judged {
		if !r.dir(dir).contents.Plan {
			return true
		}
	}
	return false
}

// search finds the plans below some directories of a root, and forgets those
// that are not there any more. It counts the directories that have some.
func (s *server) search(ctx context.Context, r *root, tops []string, progress *progress) int {
	d := newDisk()
	defer d.close()
	tree, err := d.tree(r.path)
	if err != nil {
		s.log(protocol.MessageTypeWarning, "looking for plans: %v", err)
		return 0
	}
	found := map[string]bool{}
	looked := 0
	for _, top := range tops {
		for dir, names := range plans.Walk(tree, top, func(err error) {
			if !errors.Is(err, fs.ErrNotExist) { // what is gone is no news for anybody
				s.log(protocol.MessageTypeWarning, "looking for plans: %v", err)
			}
		}) {
			if ctx.Err() != nil {
				break
			}
			if len(names) > 0 {
				found[dir] = true
			}
			if looked++; looked%500 == 0 {
				progress.report(fmt.Sprintf("%d directories, %d with plans", looked, len(found)))
			}
		}
	}
	for _, dir := range sorted(found) { // the change finds them read
		if now := s.current.Load(); ctx.Err() == nil {
			if cur, ok := now.root(r.rootID); ok {
				d.directory(cur, dir, cur.dir(dir), now.buffers)
			}
		}
	}
	complete := ctx.Err() == nil
	s.changeReading(d, func(snap *snapshot, d *disk) *snapshot {
		cur, ok := snap.root(r.rootID)
		if !ok {
			return snap
		}
		next := snap.clone()
		next.withSearch(cur, tops, found, complete, d)
		return next
	})
	return len(found)
}

// withSearch puts what a search found into a root.
func (s *snapshot) withSearch(r *root, tops []string, found map[string]bool, complete bool, d *disk) {
	changes := map[string]*directory{}
	for dir := range found {
		now := *d.directory(r, dir, r.dir(dir), s.buffers)
		now.found = true
		if was := r.dir(dir); was == nil || !now.same(was) {
			changes[dir] = &now
		}
	}
	for dir, was := range each(r.dirs) {
		if complete && !found[dir] && below(dir, tops) {
			now := *d.directory(r, dir, was, s.buffers)
			now.found = false
			switch {
			case len(now.docs) == 0:
				changes[dir] = nil
			case !now.same(was):
				changes[dir] = &now
			}
		}
	}
	next, news := r.with(changes, d, s.buffers)
	if !r.scanned {
		next.scanned = true
		var more []planID
		next, more = next.laidOut(d, s.buffers)
		news = append(news, more...)
	}
	s.withRoot(next, news)
}

// below reports whether a directory is one of some others or lies below one.
func below(dir string, tops []string) bool {
	for _, top := range tops {
		if top == "." || dir == top || strings.HasPrefix(dir, top+"/") {
			return true
		}
	}
	return false
}
