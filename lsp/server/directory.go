package server

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/uri"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// directory is the plan files of one directory. It is never changed.
type directory struct {
	real   string      // the directory's path with links resolved; "" for a document that is no file
	docs   []*document // by name
	judged bool        // is a plan to judge, not only stock
	err    error       // why it cannot be read

	head  bool     // it has a plan block
	stock []string // as written in its plan blocks
}

// made fills in what is derived from the documents.
func (d directory) made() *directory {
	slices.SortFunc(d.docs, func(a, b *document) int { return strings.Compare(a.file.Text.Path(), b.file.Text.Path()) })
	d.head, d.stock = false, nil
	for _, doc := range d.docs {
		for _, p := range doc.file.Pieces {
			if !bytes.Contains(p.Bytes(), []byte("plan")) {
				continue // far quicker than to look at its blocks, and this is on the way of every keystroke
			}
			for _, n := range schema.NodesIn(p) {
				if n.Type == "plan" {
					d.head = true
					d.stock = append(d.stock, stockIn(n)...)
				}
			}
		}
	}
	return &d
}

func stockIn(n *schema.Node) []string {
	var out []string
	if a, ok := n.Assign("stock"); ok && a.Val.Kind == schema.ListVal {
		for _, x := range a.Val.Items {
			if x.Kind == schema.TextVal {
				out = append(out, x.Text)
			}
		}
	}
	return out
}

// with gives the directory with one document replaced or added.
func (d *directory) with(doc *document) *directory {
	next := *d
	next.docs = append(slices.DeleteFunc(slices.Clone(d.docs), func(o *document) bool { return o.key == doc.key }), doc)
	next.err = nil
	return next.made()
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

// readDirectory reads the plan files of a directory of a root, open buffers
// over the disk. Of what is known from before, a file is read again only if its
// stamp changed or its key is among the stale ones.
func (r *root) readDirectory(dir string, before *directory, buffers map[string]*buffer, stale ...string) *directory {
	next := directory{real: realPath(filepath.Join(r.path, filepath.FromSlash(dir)))}
	if before != nil {
		next.judged = before.judged
	}
	if _, inside := within(r.path, next.real); !inside {
		next.err = fmt.Errorf("it leads out of the workspace, to %s", next.real)
		return next.made()
	}
	entries, err := os.ReadDir(next.real)
	if err != nil && !os.IsNotExist(err) {
		next.err = err
	}
	seen := map[string]bool{}
	for _, e := range entries {
		if e.IsDir() || !strings.HasSuffix(e.Name(), planSuffix) {
			continue
		}
		key := filepath.Join(next.real, e.Name())
		seen[key] = true
		name := path.Join(dir, e.Name())
		if b, open := buffers[key]; open {
			next.docs = append(next.docs, r.opened(b, name, before))
			continue
		}
		var known *document
		if before != nil && !slices.Contains(stale, key) {
			known, _ = before.find(key)
		}
		if doc, err := r.readDocument(key, name, known); err == nil {
			next.docs = append(next.docs, doc)
		} else if next.err == nil {
			next.err = err
		}
	}
	for key, b := range buffers {
		if !seen[key] && filepath.Dir(key) == next.real && isPlanFile(key) {
			next.docs = append(next.docs, r.opened(b, path.Join(dir, filepath.Base(key)), before))
		}
	}
	return next.made()
}

// opened keeps what has been read of an open document.
func (r *root) opened(b *buffer, name string, before *directory) *document {
	if before != nil {
		if doc, ok := before.find(b.key); ok {
			if doc.buffer == b {
				return doc
			}
			return doc.withText(b, source.NewText(name, b.text.Bytes()))
		}
	}
	return b.document(name)
}

// readDocument reads a file, or keeps the known one if the stamp is the same.
func (r *root) readDocument(key, name string, known *document) (*document, error) {
	f, err := os.Open(key)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a regular file", name)
	}
	if target, err := filepath.EvalSymlinks(key); err == nil {
		if _, inside := within(r.path, target); !inside {
			return nil, fmt.Errorf("%s is a link that leads out of the workspace, to %s", name, target)
		}
	}
	at := stamp{info.Size(), info.ModTime()}
	if known != nil && !known.open() && known.stamp == at {
		return known, nil
	}
	data, err := io.ReadAll(io.LimitReader(f, source.MaxFile+1)) // longer ones are refused all the same
	if err != nil {
		return nil, err
	}
	doc := &document{key: key, uri: r.uriOf(key), stamp: at}
	if known != nil {
		doc.file = known.file.Update(source.NewText(name, data))
	} else {
		doc.file = source.Parse(source.NewText(name, data))
	}
	return doc, nil
}

// uriOf writes the URI of a file as the client would write it, who may have
// named the root by a symbolic link.
func (r *root) uriOf(key string) uri.URI {
	if rel, ok := within(r.path, key); ok {
		return uri.File(filepath.Join(r.given, filepath.FromSlash(rel)))
	}
	return uri.File(key)
}
