package server

import (
	"context"
	"path/filepath"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// DidOpen puts a document over its file on disk.
func (s *server) DidOpen(_ context.Context, params *protocol.DidOpenTextDocumentParams) error {
	d := params.TextDocument
	u := clone(d.URI)
	if isCatalogue(u) {
		return nil // it is ours and cannot be changed
	}
	key := keyOf(u)
	if s.inShelf(key) {
		return nil
	}
	s.edited.Store(&key)
	s.begin(key)
	text := source.NewText("", []byte(d.Text))
	s.change(func(snap *snapshot, disk *disk) *snapshot {
		return snap.open(&buffer{key: key, uri: u, version: d.Version, text: text}, disk)
	})
	return nil
}

// DidChange makes the next text of an open document.
func (s *server) DidChange(_ context.Context, params *protocol.DidChangeTextDocumentParams) error {
	key := s.current.Load().key(params.TextDocument.URI)
	if _, open := s.current.Load().buffers[key]; !open {
		if isCatalogue(params.TextDocument.URI) || s.inShelf(key) {
			return nil
		}
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is not open", params.TextDocument.URI)
	}
	s.edited.Store(&key)
	s.follow(key, s.running.next())
	s.change(func(snap *snapshot, d *disk) *snapshot {
		return snap.edit(key, params.TextDocument.Version, func(t *source.Text) *source.Text {
			for _, c := range params.ContentChanges {
				t = s.apply(t, c)
			}
			return t
		}, d)
	})
	return nil
}

// apply makes one change. Positions outside of the text are taken as its nearest place.
func (s *server) apply(t *source.Text, c protocol.TextDocumentContentChangeEvent) *source.Text {
	switch c := c.(type) {
	case *protocol.TextDocumentContentChangePartial:
		start, end := s.offset(t, c.Range.Start), s.offset(t, c.Range.End)
		return t.Edit(start, end, []byte(c.Text))
	case *protocol.TextDocumentContentChangeWholeDocument:
		return source.NewText(t.Path(), []byte(c.Text))
	}
	return t
}

// DidClose gives the document back to the disk.
func (s *server) DidClose(_ context.Context, params *protocol.DidCloseTextDocumentParams) error {
	key := s.current.Load().key(params.TextDocument.URI)
	s.tokens.forget(key)
	s.change(func(snap *snapshot, d *disk) *snapshot { return snap.close(key, d) })
	return nil
}

// DidSave looks at the disk again, for the clients that watch no files: the
// document's directory and the stock of every plan that it is part of.
func (s *server) DidSave(_ context.Context, params *protocol.DidSaveTextDocumentParams) error {
	key := s.current.Load().key(params.TextDocument.URI)
	s.change(func(snap *snapshot, _ *disk) *snapshot { return snap.saved(key) })
	s.beside("looking at the disk", func() {
		s.change(func(snap *snapshot, d *disk) *snapshot {
			next := snap.clone()
			dirs := map[string]bool{}
			for _, r := range snap.roots {
				for _, dir := range r.holds(key) {
					for _, p := range r.plansWith(dir) {
						dirs[p.own.real] = true
						for _, x := range p.stock {
							dirs[x.real] = true
						}
					}
				}
			}
			for real := range dirs {
				next.refresh(real, d)
			}
			return next
		})
	})
	return nil
}

// DidChangeWatchedFiles takes what changed on disk.
func (s *server) DidChangeWatchedFiles(_ context.Context, params *protocol.DidChangeWatchedFilesParams) error {
	var files, others []string
	for _, c := range params.Changes {
		switch {
		case !c.URI.IsFile():
		case strings.HasSuffix(c.URI.Path(), plans.Suffix):
			files = append(files, keyOf(c.URI))
		default:
			others = append(others, filepath.Clean(strings.Clone(c.URI.FsPath())))
		}
	}
	s.beside("reading what changed", func() {
		var keys []string
		for _, path := range others {
			if !s.current.Load().ignores(path) {
				keys = append(keys, filepath.Join(realPath(filepath.Dir(path)), filepath.Base(path)))
			}
		}
		s.reread(files, keys)
	})
	return nil
}
