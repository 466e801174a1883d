package server

import (
	"math"
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

// workspaceEdit converts edits of several documents of a plan. Edits of the
// catalogue, which nobody can change, are left out.
func (s *server) workspaceEdit(p *plan, edits []ide.TextEdit) *protocol.WorkspaceEdit {
	byDoc := map[*document][]ide.TextEdit{}
	var order []*document
	for _, e := range edits {
		f, ok := p.document(e.Path)
		if !ok || f.doc == nil {
			continue
		}
		if byDoc[f.doc] == nil {
			order = append(order, f.doc)
		}
		byDoc[f.doc] = append(byDoc[f.doc], e)
	}
	out := &protocol.WorkspaceEdit{}
	for _, doc := range order {
		s.addEdits(out, doc, byDoc[doc])
	}
	return out
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
