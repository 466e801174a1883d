package server

import (
	"slices"
	"strings"

	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// directory is the plan files of one directory. It is never changed.
type directory struct {
	real  string      // the directory's path with links resolved; "" for a document that is no file
	docs  []*document // by name
	found bool        // by the search of a folder
	err   error       // why it cannot be listed

	contents plans.Contents
}

// made puts the documents in order and looks at what they hold.
func (d *directory) made() *directory {
	slices.SortFunc(d.docs, func(a, b *document) int { return strings.Compare(a.file.Text.Path(), b.file.Text.Path()) })
	d.contents = plans.Look(d.files())
	return d
}

// with gives the directory with one of its documents replaced.
func (d *directory) with(doc *document) *directory {
	next := *d
	next.docs = slices.Clone(d.docs)
	for i, o := range next.docs {
		if o.key == doc.key {
			next.docs[i] = doc
		}
	}
	return next.made()
}

// same reports whether a directory holds the same documents as before.
func (d *directory) same(o *directory) bool {
	return slices.Equal(d.docs, o.docs) && (d.err == nil) == (o.err == nil) && d.real == o.real && d.found == o.found
}

// find gives the document of that key.
func (d *directory) find(key string) (*document, bool) {
	for _, doc := range d.docs {
		if doc.key == key {
			return doc, true
		}
	}
	return nil, false
}

func (d *directory) opened() bool {
	return slices.ContainsFunc(d.docs, func(doc *document) bool { return doc.open() })
}

func (d *directory) files() []*source.File {
	out := make([]*source.File, len(d.docs))
	for i, doc := range d.docs {
		out[i] = doc.file
	}
	return out
}
