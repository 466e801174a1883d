package server

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// The schemes of the read-only documents that the server gives the text of:
// the files of the built-in catalogue, and a page for each rule.
const (
	catalogueScheme = "ohmstead-catalog"
	ruleScheme      = "ohmstead-rule"
)

func catalogueURI(name string) uri.URI { return uri.URI(catalogueScheme + ":///" + name) }

func ruleURI(name string) uri.URI { return uri.URI(ruleScheme + ":///" + name + ".md") }

func isCatalogue(u uri.URI) bool { return u.Scheme() == catalogueScheme }

// catalogueFile finds a file of the catalogue by its name without a directory.
func catalogueFile(name string) (*source.File, bool) {
	for _, f := range schema.Catalogue().Files {
		if f.Text.Path() == schema.CataloguePath+name {
			return f, true
		}
	}
	return nil, false
}

// TextDocumentContent gives the text of a read-only document.
func (s *server) TextDocumentContent(_ context.Context, params *protocol.TextDocumentContentParams) (*protocol.TextDocumentContentResult, error) {
	name := path.Base(params.URI.Path())
	switch params.URI.Scheme() {
	case catalogueScheme:
		if f, ok := catalogueFile(name); ok {
			return &protocol.TextDocumentContentResult{Text: f.Text.String()}, nil
		}
	case ruleScheme:
		if r, ok := lint.RuleNamed(allRules(), strings.TrimSuffix(name, ".md")); ok {
			return &protocol.TextDocumentContentResult{Text: ide.Explain(r)}, nil
		}
	}
	return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no document %s", params.URI)
}

// shelf is where files of the catalogue are laid out for clients that cannot
// show virtual documents.
type shelf struct {
	sync.Mutex
	files map[string]string // name -> path on disk
}

// shown is the URI by which the client can open a file of the catalogue. A
// client without virtual documents gets a read-only copy in the user's cache
// directory, written the first time that it asks for a place in that file.
func (s *server) shown(u uri.URI) (uri.URI, bool) {
	if s.can.virtualDocuments {
		return u, true
	}
	name := path.Base(u.Path())
	f, ok := catalogueFile(name)
	if !ok || s.opts.CacheDir == "" {
		return "", false
	}
	s.shelf.Lock()
	defer s.shelf.Unlock()
	if p, ok := s.shelf.files[name]; ok {
		return uri.File(p), true
	}
	p, err := layOut(s.opts.CacheDir, name, f.Text.Bytes())
	if err != nil {
		s.log(protocol.MessageTypeWarning, "the catalogue's file %s cannot be shown: %v", name, err)
		return "", false
	}
	if s.shelf.files == nil {
		s.shelf.files = map[string]string{}
	}
	s.shelf.files[name] = p
	return uri.File(p), true
}

// layOut writes a read-only file, whole or not at all. Its directory is named
// after its content, so that two versions of the program do not fight over it.
func layOut(cache, name string, data []byte) (string, error) {
	sum := sha256.Sum256(data)
	dir := filepath.Join(cache, "catalog-"+hex.EncodeToString(sum[:6]))
	target := filepath.Join(dir, name)
	if have, err := os.ReadFile(target); err == nil && string(have) == string(data) {
		return realPath(target), nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", err
	}
	t, err := os.CreateTemp(dir, name+".*")
	if err != nil {
		return "", err
	}
	defer os.Remove(t.Name()) // gone already when the rename went well
	if _, err := t.Write(data); err != nil {
		t.Close()
		return "", err
	}
	if err := t.Chmod(0o444); err != nil {
		t.Close()
		return "", err
	}
	if err := t.Close(); err != nil {
		return "", err
	}
	return realPath(target), os.Rename(t.Name(), target)
}

// inShelf reports whether a file on disk is one that shown laid out, in this
// session or an earlier one.
func (s *server) inShelf(key string) bool {
	if s.opts.CacheDir == "" || !filepath.IsAbs(key) {
		return false
	}
	rel, ok := within(realPath(s.opts.CacheDir), key)
	return ok && strings.HasPrefix(rel, "catalog-")
}

// cataloguePlan is the catalogue in the guise of a plan, so that one can look
// around in it. Nothing is judged in it.
var cataloguePlan = sync.OnceValue(func() *plan {
	p := newPlan(planID{}, &directory{}, nil, nil)
	p.decoded = given(schema.Catalogue().Whole())
	p.judged = given(lint.Verdict{})
	return p
})

// inCatalogue finds the file of the catalogue that a URI of ours names. It asks the disk for documents alone that no
// snapshot has open; the shelf is never open.
func (s *server) inCatalogue(snap *snapshot, u uri.URI) (*source.File, bool) {
	if _, open := snap.keys[u]; open || !isCatalogue(u) && !s.inShelf(keyOf(u)) {
		return nil, false
	}
	return catalogueFile(path.Base(u.Path()))
}
