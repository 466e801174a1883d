package server

import (
	"math"
	"path"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint/terminal"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// offset converts a position; one outside of the text gives the nearest place.
func (s *server) offset(t *source.Text, p protocol.Position) int {
	return t.PositionOffset(source.Position{Line: clamp(p.Line), Column: clamp(p.Character)}, s.can.encoding)
}

func clamp(n uint32) int { return int(min(n, math.MaxInt32)) }

func (s *server) position(t *source.Text, offset int) protocol.Position {
	p := t.OffsetPosition(offset, s.can.encoding)
	return protocol.Position{Line: uint32(p.Line), Character: uint32(p.Column)}
}

func (s *server) span(t *source.Text, start, end int) protocol.Range {
	return protocol.Range{Start: s.position(t, start), End: s.position(t, end)}
}

// found is a place in a document that the client can open.
type found struct {
	uri  uri.URI
	text *source.Text
	doc  *document // nil for the catalogue
}

// document finds what a path of a plan names: one of its files, else one of the catalogue.
func (p *plan) document(path string) (found, bool) {
	if doc, ok := p.byPath()[path]; ok {
		return found{uri: doc.uri, text: doc.file.Text, doc: doc}, true
	}
	if name, ok := strings.CutPrefix(path, schema.CataloguePath); ok {
		if f, ok := catalogueFile(name); ok {
			return found{uri: catalogueURI(name), text: f.Text}, true
		}
	}
	return found{}, false
}

// location converts a place. It is false for one that the client cannot open.
func (s *server) location(p *plan, l ide.Location) (protocol.Location, bool) {
	f, ok := p.document(l.Path)
	if !ok {
		return protocol.Location{}, false
	}
	if f.doc == nil {
		if f.uri, ok = s.shown(f.uri); !ok {
			return protocol.Location{}, false
		}
	}
	return protocol.Location{URI: f.uri, Range: s.span(f.text, l.Start, l.End)}, true
}

// textEdits converts edits of one document.
func (s *server) textEdits(t *source.Text, edits []ide.TextEdit) []protocol.TextEdit {
	out := make([]protocol.TextEdit, 0, len(edits))
	for _, e := range edits {
		out = append(out, protocol.TextEdit{Range: s.span(t, e.Start, e.End), NewText: e.New})
	}
	return out
}

// workspaceEdit converts edits of several documents of a plan. A file that there is not is made, beside
// the others of its directory, before it is edited. Where one of the files cannot be had there is no edit at all: half
// a change is none.
func (s *server) workspaceEdit(p *plan, edits []ide.TextEdit) *protocol.WorkspaceEdit {
	byPath := map[string][]ide.TextEdit{}
	var order []string
	for _, e := range edits {
		if byPath[e.Path] == nil {
			order = append(order, e.Path)
		}
		byPath[e.Path] = append(byPath[e.Path], e)
	}
	out := &protocol.WorkspaceEdit{}
	for _, path := range order {
		doc := p.byPath()[path]
		if doc == nil {
			if doc = p.besides(path); doc == nil || !s.can.createFiles {
				return &protocol.WorkspaceEdit{}
			}
			out.DocumentChanges = append(out.DocumentChanges, &protocol.CreateFile{Kind: "create", URI: doc.uri})
		}
		s.addEdits(out, doc, byPath[path])
	}
	return out
}

// besides is a document that there is not yet, empty, in the directory of others; nil where there are none.
func (p *plan) besides(name string) *document {
	for _, o := range p.byPath() {
		if at := o.file.Text.Path(); path.Dir(at) == path.Dir(name) {
			u := string(o.uri)
			return &document{uri: uri.URI(u[:strings.LastIndexByte(u, '/')+1] + path.Base(name)), file: source.Parse(source.NewText(name, nil))}
		}
	}
	return nil
}

func (s *server) addEdits(out *protocol.WorkspaceEdit, doc *document, edits []ide.TextEdit) {
	converted := s.textEdits(doc.file.Text, edits)
	if !s.can.documentChanges {
		if out.Changes == nil {
			out.Changes = map[uri.URI][]protocol.TextEdit{}
		}
		out.Changes[doc.uri] = append(out.Changes[doc.uri], converted...)
		return
	}
	change := &protocol.TextDocumentEdit{}
	change.TextDocument.URI = doc.uri
	if doc.open() {
		v := doc.buffer.version
		change.TextDocument.Version = &v
	}
	for i := range converted {
		change.Edits = append(change.Edits, &converted[i])
	}
	out.DocumentChanges = append(out.DocumentChanges, change)
}

// markup gives Markdown in the format that the client reads.
func markup(markdown bool, text string) *protocol.MarkupContent {
	if markdown {
		return &protocol.MarkupContent{Kind: protocol.MarkupKindMarkdown, Value: text}
	}
	plain := terminal.Plain(text, func(bold string) string { return bold })
	return &protocol.MarkupContent{Kind: protocol.MarkupKindPlainText, Value: strings.TrimSuffix(plain, "\n")}
}

func ptr[T any](v T) *T { return &v }
