package server

import (
	"context"
	"maps"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Diagnostic answers a client that asks for the findings of a document.
func (s *server) Diagnostic(ctx context.Context, params *protocol.DocumentDiagnosticParams) (protocol.DocumentDiagnosticReport, error) {
	snap := s.snapshot(ctx)
	ds, err := s.diagnosticsOf(ctx, snap, snap.key(params.TextDocument.URI))
	if err != nil {
		return nil, err
	}
	id := digest(ds)
	if params.PreviousResultID != nil && *params.PreviousResultID == id {
		r := &protocol.RelatedUnchangedDocumentDiagnosticReport{}
		r.Kind, r.ResultID = "unchanged", id
		return r, nil
	}
	r := &protocol.RelatedFullDocumentDiagnosticReport{}
	r.Kind, r.ResultID, r.Items = "full", &id, ds
	return r, nil
}

// DiagnosticWorkspace answers a client that asks for all findings.
func (s *server) DiagnosticWorkspace(ctx context.Context, params *protocol.WorkspaceDiagnosticParams) (*protocol.WorkspaceDiagnosticReport, error) {
	snap := s.snapshot(ctx)
	had := map[uri.URI]string{}
	for _, p := range params.PreviousResultIds {
		had[p.URI] = p.Value
	}
	out := &protocol.WorkspaceDiagnosticReport{Items: []protocol.WorkspaceDocumentDiagnosticReport{}}
	for _, key := range snap.documents() {
		doc, ok := snap.document(key)
		if !ok {
			continue
		}
		r, err := s.workspaceReport(ctx, snap, doc, had[doc.uri])
		if err != nil {
			return nil, err
		}
		out.Items = append(out.Items, r)
		delete(had, doc.uri)
	}
	// What is gone is empty now.
	for _, u := range slices.Sorted(maps.Keys(had)) {
		id := digest(nil)
		if had[u] != id {
			r := &protocol.WorkspaceFullDocumentDiagnosticReport{URI: u}
			r.Kind, r.ResultID, r.Items = "full", &id, []protocol.Diagnostic{}
			out.Items = append(out.Items, r)
		}
	}
	return out, nil
}

func (s *server) workspaceReport(ctx context.Context, snap *snapshot, doc *document, had string) (protocol.WorkspaceDocumentDiagnosticReport, error) {
	ds, err := s.diagnosticsOf(ctx, snap, doc.key)
	if err != nil {
		return nil, err
	}
	id := digest(ds)
	var version *int32
	if doc.open() {
		version = ptr(doc.buffer.version)
	}
	if had == id {
		r := &protocol.WorkspaceUnchangedDocumentDiagnosticReport{URI: doc.uri, Version: version}
		r.Kind, r.ResultID = "unchanged", id
		return r, nil
	}
	r := &protocol.WorkspaceFullDocumentDiagnosticReport{URI: doc.uri, Version: version}
	r.Kind, r.ResultID, r.Items = "full", &id, ds
	return r, nil
}

// documents lists the keys of all documents of all plans.
func (s *snapshot) documents() []string {
	seen := map[string]bool{}
	for _, r := range s.roots {
		for _, p := range each(r.plans) {
			for _, doc := range p.byPath() {
				seen[doc.key] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}
