package schema

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"ohmstead/schema/catalog"
	"ohmstead/schema/source"
)

// Library is the built-in catalogue. Its files are only cut into entries at
// first: an entry is read when someone asks for it, and then kept and shared.
type Library struct {
	*Plan
	sections map[string]section // by the name of the entry
	scope    *scope             // of the values written in it

	whole sync.Once

	mu sync.Mutex // guards r, whose named blocks are the entries read so far
	r  *resolver
}

// section is an entry that need not be read yet.
type section struct {
	typeName string
	piece    *source.Piece
}

var (
	libraryOnce sync.Once
	theLibrary  *Library // set once, never changed but for what is read
)

// Catalogue gives the built-in catalogue.
func Catalogue() *Library {
	libraryOnce.Do(func() { theLibrary = openLibrary() })
	return theLibrary
}

func openLibrary() *Library {
	names, err := fs.Glob(catalog.Files, "*.ohm.hcl")
	if err != nil {
		panic(fmt.Sprintf("catalogue: %v", err)) // the pattern is a constant
	}
	slices.Sort(names)
	r := newResolver("", version{})
	l := &Library{Plan: r.plan, sections: map[string]section{}, scope: &scope{lets: r.scope.lets}, r: r}
	r.within = l
	for _, n := range names {
		data, err := catalog.Files.ReadFile(n)
		if err != nil {
			panic(fmt.Sprintf("catalogue: %v", err)) // embedded files are always there
		}
		f := source.Parse(source.NewText(CataloguePath+n, data))
		l.Files = append(l.Files, f)
		for _, p := range f.Pieces {
			l.file(p)
		}
	}
	return l
}

// file puts a piece of the catalogue's text under the name in its first line
// behind the comments. Only named values are read at once.
func (l *Library) file(p *source.Piece) {
	for line := range strings.Lines(string(p.Bytes())) {
		typeName, rest, found := strings.Cut(line, " ")
		if !found || strings.HasPrefix(line, "#") {
			continue
		}
		if typeName == letType.Name {
			for _, n := range nodesOf(p) {
				l.r.collectLet(n, InCatalogue)
			}
			return
		}
		name := strings.Split(rest, `"`)[1]
		if _, twice := l.sections[name]; twice {
			panic(fmt.Sprintf("catalogue: two entries are called %q", name)) // names are unique over all files
		}
		l.sections[name] = section{typeName, p}
		return
	}
}

// entry finds an entry by its name.
func (l *Library) entry(name string) (Block, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.entryLocked(name)
}

func (l *Library) entryLocked(name string) (Block, bool) {
	if b, ok := l.r.scope.named[name]; ok {
		return b, true
	}
	s, ok := l.sections[name]
	if !ok {
		return nil, false
	}
	for _, n := range nodesOf(s.piece) {
		l.r.collectNode(n, InCatalogue, nil)
	}
	b, ok := l.r.scope.named[name]
	if ok {
		l.r.resolve(b)
	}
	return b, ok
}

// effectiveOf is what an entry says once like is followed.
func (l *Library) effectiveOf(b Block) *effective {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.r.effectiveOf(b)
}

// names lists the entries of some block types, all without any.
func (l *Library) names(types ...string) []string {
	var out []string
	for name, s := range l.sections {
		if len(types) == 0 || slices.Contains(types, s.typeName) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// Entries lists the catalogue's entries of the given block types (all without
// any) by name.
func (l *Library) Entries(types ...string) []Block {
	var out []Block
	for _, name := range l.names(types...) {
		if b, ok := l.entry(name); ok {
			out = append(out, b)
		}
	}
	return out
}

// Whole is the catalogue as a plan that has every entry in its stock, for those
// who look around in it.
func (l *Library) Whole() *Plan {
	l.whole.Do(func() {
		for _, f := range l.Files {
			for _, p := range f.Pieces {
				for _, n := range nodesOf(p) {
					if b, ok := l.entry(n.Label()); ok {
						l.Stock = append(l.Stock, b)
					}
				}
			}
		}
	})
	return l.Plan
}

// CataloguePath is what the catalogue's files are called in places.
const CataloguePath = "catalog/"
