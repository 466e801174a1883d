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

// Library is the built-in catalogue, decoded once and shared.
type Library struct {
	*Plan
	entries map[string]Block
	scope   *scope
	whole   map[Block]*effective
}

var (
	libraryOnce sync.Once
	theLibrary  *Library // set once, never changed
)

// Catalogue gives the built-in catalogue.
func Catalogue() *Library {
	libraryOnce.Do(func() { theLibrary = loadLibrary() })
	return theLibrary
}

func loadLibrary() *Library {
	names, err := fs.Glob(catalog.Files, "*.ohm.hcl")
	if err != nil {
		panic(fmt.Sprintf("catalogue: %v", err)) // the pattern is a constant
	}
	slices.Sort(names)
	var files []*source.File
	for _, n := range names {
		data, err := catalog.Files.ReadFile(n)
		if err != nil {
			panic(fmt.Sprintf("catalogue: %v", err)) // embedded files are always there
		}
		files = append(files, source.Parse(source.NewText(CataloguePath+n, data)))
	}
	r := newResolver("")
	r.plan.Files = files
	r.collect(files, InCatalogue)
	r.settle()
	r.resolveAll()
	lib := &Library{Plan: r.plan, entries: map[string]Block{}, scope: r.scope, whole: r.whole}
	for _, b := range r.plan.Stock {
		lib.entries[b.header().Name] = b
	}
	r.plan.index()
	r.plan.sortProblems()
	return lib
}

// CataloguePath is what the catalogue's files are called in places.
const CataloguePath = "catalog/"

// Entries lists the catalogue's entries of the given block types (all without
// any) by name.
func (l *Library) Entries(types ...string) []Block {
	var out []Block
	for _, b := range l.entries {
		if len(types) == 0 || slices.Contains(types, b.header().Type.Name) {
			out = append(out, b)
		}
	}
	slices.SortFunc(out, func(a, b Block) int { return strings.Compare(a.header().Name, b.header().Name) })
	return out
}
