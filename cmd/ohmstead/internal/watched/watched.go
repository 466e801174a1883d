// Package watched reads a plan again whenever one of its files changes on disk.
package watched

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"time"

	"ohmstead/schema"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// interval is how often the files are looked at: a change shows soon enough for
// whoever has just saved. Looking needs no help of the operating system, so it
// works on network drives too.
const interval = 30 * time.Millisecond

// Plan is a plan that is being watched.
type Plan struct {
	tree  fs.FS
	dir   string
	memo  schema.Memo
	files map[string]*source.File
	seen  map[string]stamp // of all files and directories that the last version was read from
}

// stamp tells whether a file has changed since it was read.
type stamp struct {
	size  int64
	time  time.Time
	names string // of a directory
}

// New watches the plan of a directory of a tree.
func New(tree fs.FS, dir string) *Plan {
	return &Plan{tree: tree, dir: dir, files: map[string]*source.File{}}
}

// Next waits until the plan is not what it was at the last call, and reads it;
// the first call reads it at once. Its error is that of ctx.
func (p *Plan) Next(ctx context.Context) (*schema.Plan, error) {
	tick := time.NewTicker(interval)
	defer tick.Stop()
	for p.seen != nil && maps.Equal(p.seen, p.look()) {
		select {
		case <-tick.C:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
	return p.read(), ctx.Err()
}

// look stamps again what the last version was read from.
func (p *Plan) look() map[string]stamp {
	now := map[string]stamp{}
	for name, was := range p.seen {
		if was.names != "" {
			p.list(name, now)
		}
	}
	return now
}

// list lists the plan files of a directory, and stamps both.
func (p *Plan) list(dir string, now map[string]stamp) ([]string, error) {
	names, err := plans.Names(p.tree, dir)
	all := stamp{names: dir + ":"}
	for _, n := range names {
		all.names += "\n" + n
		s := stamp{size: -1}
		if info, err := plans.Stat(p.tree, n); err == nil {
			s.size, s.time = info.Size(), info.ModTime()
		}
		now[n] = s
	}
	now[dir] = all
	return names, err
}

// read reads the plan. Files that are what they were are not read again; those
// that are not share with their former text what did not change.
func (p *Plan) read() *schema.Plan {
	now, files := map[string]stamp{}, map[string]*source.File{}
	fetch := func(dir string) ([]*source.File, error) {
		names, err := p.list(dir, now)
		var out []*source.File
		for _, n := range names {
			if files[n] == nil {
				if before := p.files[n]; before != nil && now[n] == p.seen[n] {
					files[n] = before
				} else {
					files[n] = plans.Read(p.tree, n, before)
				}
			}
			out = append(out, files[n])
		}
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil // the decoder says that nothing is there
		}
		return out, err
	}
	own, _ := fetch(p.dir) // of a directory that is gone nothing is left to show
	out := p.memo.Decode(p.dir, own, fetch)
	p.files, p.seen = files, now
	return out
}
