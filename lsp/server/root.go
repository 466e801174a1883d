package server

import (
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ohmstead/schema"
)

// rootKind says why a root is there.
type rootKind int

const (
	folder rootKind = iota // the client named it
	loose                  // the parent of a directory of open files outside of every folder
	single                 // one document that is no plan file on disk
)

// root is a directory tree with plans in it. Plan paths count from it, and
// stock stays inside it. It is never changed.
type root struct {
	kind  rootKind
	path  string // with links resolved
	given string // as the client writes it

	scanned bool
	dirs    map[string]*directory // by slash-separated path below the root
	plans   map[string]*plan      // by the same
}

// with gives the root in which some directories are different; nil means gone.
// Plans that none of them concerns are carried over.
func (r *root) with(changes map[string]*directory, buffers map[string]*buffer) *root {
	next := *r
	next.dirs = maps.Clone(r.dirs)
	if next.dirs == nil {
		next.dirs = map[string]*directory{}
	}
	for dir, d := range changes {
		if d == nil {
			delete(next.dirs, dir)
		} else {
			next.dirs[dir] = d
		}
	}
	next.plans = make(map[string]*plan, len(r.plans))
	used := map[string]bool{}
	for _, dir := range slices.Sorted(maps.Keys(next.dirs)) {
		d := next.dirs[dir]
		if !d.judged || len(d.docs) == 0 {
			continue
		}
		p := r.plans[dir]
		if p == nil || p.concerned(changes) {
			p = next.newPlan(dir, p, buffers)
		}
		next.plans[dir] = p
		for s := range p.stock {
			used[s] = true
		}
	}
	// Half-typed stock paths name directories that nobody will ask for again.
	maps.DeleteFunc(next.dirs, func(dir string, d *directory) bool { return !d.judged && !used[dir] && !d.opened() })
	return &next
}

// newPlan gathers the stock of a plan, reading directories not seen before.
func (r *root) newPlan(dir string, before *plan, buffers map[string]*buffer) *plan {
	stock := map[string]*directory{}
	var follow func(base string, d *directory)
	follow = func(base string, d *directory) {
		for _, written := range d.stock {
			target, ok := schema.StockDir(base, written)
			if !ok || target == dir || stock[target] != nil {
				continue
			}
			s := r.dirs[target]
			if s == nil {
				if r.kind == single {
					continue
				}
				s = r.readDirectory(target, nil, buffers)
				r.dirs[target] = s
			}
			stock[target] = s
			follow(target, s)
		}
	}
	follow(dir, r.dirs[dir])
	return newPlan(r, dir, r.dirs[dir], stock, before)
}

// users lists the plans that a directory's files are part of, its own first.
// The directory's own plan is left out where it only serves others as stock.
func (r *root) users(dir string) []*plan {
	var out []*plan
	for _, name := range slices.Sorted(maps.Keys(r.plans)) {
		if p := r.plans[name]; name != dir && p.stock[dir] != nil {
			out = append(out, p)
		}
	}
	if own := r.plans[dir]; own != nil && (len(out) == 0 || own.own.head) {
		out = slices.Insert(out, 0, own)
	}
	return out
}

// holds finds the directories that have the document.
func (r *root) holds(key string) map[string]*directory {
	out := map[string]*directory{}
	for dir, d := range r.dirs {
		if _, ok := d.find(key); ok {
			out[dir] = d
		}
	}
	return out
}

// dirOf is the path below the root of the directory that a document stands in.
func (r *root) dirOf(key string) (string, bool) {
	if r.kind == single {
		return ".", key == r.path
	}
	if !filepath.IsAbs(key) {
		return "", false
	}
	return within(r.path, filepath.Dir(key))
}

// planDirs lists the directories with plan files, for completion of stock.
func (r *root) planDirs() []string {
	var out []string
	for dir, d := range r.dirs {
		if len(d.docs) > 0 {
			out = append(out, dir)
		}
	}
	slices.Sort(out)
	return out
}

// singleRoot makes the root of a document by itself.
func singleRoot(b *buffer) *root {
	name := path.Base(strings.TrimSuffix(filepath.ToSlash(b.key), "/"))
	r := &root{kind: single, path: b.key, given: b.key, scanned: true}
	d := directory{docs: []*document{b.document(name)}, judged: true}
	return r.with(map[string]*directory{".": d.made()}, nil)
}
