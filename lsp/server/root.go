package server

import (
	"cmp"
	"iter"
	"path"
	"path/filepath"
	"slices"
	"strings"

	iradix "github.com/hashicorp/go-immutable-radix/v2"
	"go.lsp.dev/uri"

	"ohmstead/schema/plans"
)

// rootKind says why a root is there.
type rootKind int

const (
	workspace rootKind = iota // it holds the workspace folders
	loose                     // it holds open files outside of every folder
	single                    // one document that is no plan file on disk
)

// rootID names a root in every snapshot that has it.
type rootID struct {
	kind rootKind
	path string // with links resolved
}

// place is a workspace folder.
type place struct {
	path  string // with links resolved
	given string // as the client writes it
}

// root is the directory that plans count their paths from and that their stock
// stays inside; [plans.Root] chooses it. A root is never changed. The next one
// shares with it what did not change, so that a keystroke costs the same in a
// workspace of a thousand directories.
type root struct {
	rootID
	repository bool    // it is the root of a repository
	folders    []place // of a workspace: where plans are looked for

	scanned bool
	dirs    *iradix.Tree[*directory] // by slash-separated path below the root
	plans   *iradix.Tree[*plan]      // by the same
	*layout
}

// layout is what hangs on which directories there are and what is stock of
// what. It is worked out anew when that changes, not with every edit.
type layout struct {
	at     map[string][]string // directories by their path with links resolved
	users  map[string][]string // the plans that have a directory as stock
	judged map[string]bool     // the plans whose findings are shown
}

func newRoot(id rootID) *root {
	return &root{rootID: id, dirs: iradix.New[*directory](), plans: iradix.New[*plan](), layout: &layout{}}
}

func (r *root) dir(dir string) *directory {
	d, _ := r.dirs.Get([]byte(dir))
	return d
}

func (r *root) plan(dir string) *plan {
	p, _ := r.plans.Get([]byte(dir))
	return p
}

// each walks what a tree holds, by path.
func each[T any](t *iradix.Tree[T]) iter.Seq2[string, T] {
	return func(yield func(string, T) bool) {
		t.Root().Walk(func(k []byte, v T) bool { return !yield(string(k), v) })
	}
}

// with gives the root in which some directories are different, nil meaning
// gone, and names the plans that are not what they were.
func (r *root) with(changes map[string]*directory, d *disk, buffers map[string]*buffer) (*root, []planID) {
	next := *r
	dirs := r.dirs.Txn()
	same := true
	for dir, now := range changes {
		was := r.dir(dir)
		same = same && was != nil && now != nil && was.contents.Same(now.contents) &&
			was.real == now.real && was.found == now.found && was.opened() == now.opened() && (len(was.docs) == 0) == (len(now.docs) == 0)
		if now == nil {
			dirs.Delete([]byte(dir))
		} else {
			dirs.Insert([]byte(dir), now)
		}
	}
	next.dirs = dirs.Commit()
	if !same {
		return next.laidOut(d, buffers)
	}
	txn := r.plans.Txn()
	var news []planID
	for dir, now := range changes {
		for _, name := range append([]string{dir}, r.users[dir]...) {
			if p, ok := txn.Get([]byte(name)); ok {
				txn.Insert([]byte(name), p.with(dir, now))
				news = append(news, p.id)
			}
		}
	}
	next.plans = txn.Commit()
	return &next, news
}

// laidOut works the layout and the plans out anew, with stock that was not
// looked at before.
func (r root) laidOut(d *disk, buffers map[string]*buffer) (*root, []planID) {
	before, was := r.plans, r.layout
	r.layout = &layout{at: map[string][]string{}, users: map[string][]string{}, judged: map[string]bool{}}
	dirs := r.dirs.Txn()
	look := func(dir string) plans.Contents {
		if x, ok := dirs.Get([]byte(dir)); ok {
			return x.contents
		}
		return plans.Contents{}
	}
	stock := map[string][]string{}
	for dir, x := range each(r.dirs) {
		if len(x.docs) == 0 || !x.found && !x.opened() {
			continue
		}
		stock[dir] = plans.Follow(dir, func(at string) []string {
			if _, known := dirs.Get([]byte(at)); !known && r.kind != single {
				dirs.Insert([]byte(at), d.directory(&r, at, nil, buffers))
			}
			return look(at).Stock
		})
	}
	used := map[string]bool{}
	for _, dir := range sorted(stock) {
		for _, s := range stock[dir] {
			used[s] = true
			if x, _ := dirs.Get([]byte(dir)); x.contents.Plan {
				r.users[s] = append(r.users[s], dir)
			}
		}
	}
	// Half-typed stock paths name directories that nobody will ask for again.
	for dir, x := range each(dirs.Clone().Commit()) {
		if !x.found && !used[dir] && !x.opened() {
			dirs.Delete([]byte(dir))
		} else {
			r.at[x.real] = append(r.at[x.real], dir)
		}
	}
	r.dirs = dirs.Commit()
	for _, dir := range r.toJudge(sorted(stock), look) {
		r.judged[dir] = true
	}
	txn := iradix.New[*plan]().Txn()
	var news []planID
	for dir, names := range stock {
		inside := map[string]*directory{}
		for _, s := range names {
			if x := r.dir(s); x != nil {
				inside[s] = x
			}
		}
		p, _ := before.Get([]byte(dir))
		if !p.made(r.dir(dir), inside) {
			p = newPlan(planID{r.rootID, dir}, r.dir(dir), inside, p)
			news = append(news, p.id)
		} else if r.judged[dir] != was.judged[dir] {
			news = append(news, p.id)
		}
		txn.Insert([]byte(dir), p)
	}
	for dir, p := range each(before) {
		if _, stays := stock[dir]; !stays {
			news = append(news, p.id)
		}
	}
	r.plans = txn.Commit()
	return &r, news
}

// toJudge picks the plans whose findings are shown: those that a folder stands
// for, and those that a directory stands for in which something is open.
// Before the search is over, parts may turn out to be the stock of a plan.
func (r *root) toJudge(dirs []string, look func(string) plans.Contents) []string {
	users := func(dir string) []string { return r.users[dir] }
	var out []string
	for _, f := range r.folders {
		var found []string
		for _, dir := range dirs {
			if r.dir(dir).found && plans.Inside(f.path, r.disk(dir)) {
				found = append(found, dir)
			}
		}
		out = append(out, plans.Among(found, look, users)...)
	}
	for _, dir := range dirs {
		if r.dir(dir).opened() {
			out = append(out, plans.For(dir, look, users)...)
		}
	}
	if !r.scanned {
		out = slices.DeleteFunc(out, func(dir string) bool { return !look(dir).Plan })
	}
	return out
}

func sorted[T any](m map[string]T) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// disk is the path on disk of a directory of the root.
func (r *root) disk(dir string) string { return filepath.Join(r.path, filepath.FromSlash(dir)) }

// plansWith lists the plans that a directory's files are part of, its own
// first. Its own is left out where it only serves others as stock.
func (r *root) plansWith(dir string) []*plan {
	var out []*plan
	for _, name := range r.users[dir] {
		if name != dir {
			out = append(out, r.plan(name))
		}
	}
	if own := r.plan(dir); own != nil && (len(out) == 0 || own.own.contents.Plan) {
		out = slices.Insert(out, 0, own)
	}
	return out
}

// holds lists the directories that have the document.
func (r *root) holds(key string) []string {
	if r.kind == single {
		if key == r.path {
			return []string{"."}
		}
		return nil
	}
	return slices.DeleteFunc(slices.Clone(r.at[filepath.Dir(key)]), func(dir string) bool {
		_, ok := r.dir(dir).find(key)
		return !ok
	})
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

// searched reports whether plans are looked for in a directory: it lies in a
// folder, and not in one that is skipped there.
func (r *root) searched(dir string) bool {
	return slices.ContainsFunc(r.folders, func(f place) bool {
		rel, ok := within(f.path, r.disk(dir))
		return ok && !slices.ContainsFunc(strings.Split(rel, "/"), plans.Skipped)
	})
}

// planDirs lists the directories with plan files, for completion of stock.
func (r *root) planDirs() []string {
	var out []string
	for dir, d := range each(r.dirs) {
		if len(d.docs) > 0 {
			out = append(out, dir)
		}
	}
	return out
}

// uriOf writes the URI of a file as the client would write it, who may have
// named its folder by a symbolic link.
func (r *root) uriOf(key string) uri.URI {
	for _, f := range r.folders {
		if rel, ok := within(f.path, key); ok {
			return uri.File(filepath.Join(f.given, filepath.FromSlash(rel)))
		}
	}
	return uri.File(key)
}

// singleRoot makes the root of a document by itself.
func singleRoot(b *buffer) (*root, []planID) {
	name := path.Base(strings.TrimSuffix(filepath.ToSlash(b.key), "/"))
	d := &directory{docs: []*document{b.over(nil, name)}}
	r := newRoot(rootID{single, b.key})
	r.scanned = true
	return r.with(map[string]*directory{".": d.made()}, nil, nil)
}

func byID(a, b *root) int {
	return cmp.Or(cmp.Compare(a.kind, b.kind), strings.Compare(a.path, b.path))
}
