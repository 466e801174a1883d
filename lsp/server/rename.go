package server

import (
	"context"
	"errors"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// codeRequestFailed says that a request made sense but cannot be done.
const codeRequestFailed jsonrpc2.Code = -32803

var errNoDocument = errors.New("the document is in no plan that the server knows")

func failed(err error) error { return jsonrpc2.Errorf(codeRequestFailed, "%v", err) }

// PrepareRename finds the name at a place.
func (s *server) PrepareRename(ctx context.Context, params *protocol.PrepareRenameParams) (protocol.PrepareRenameResult, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, failed(errNoDocument)
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	r, err := ide.PrepareRename(v, offset)
	if err != nil {
		return nil, failed(err)
	}
	return &protocol.PrepareRenamePlaceholder{Range: s.span(q.file.Text, r.Start, r.End), Placeholder: r.Name}, nil
}

// Rename gives a thing another name in every plan that has it.
func (s *server) Rename(ctx context.Context, params *protocol.RenameParams) (*protocol.WorkspaceEdit, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, failed(errNoDocument)
	}
	order, byDoc, err := s.renamed(ctx, q, offset, params.NewName)
	if err != nil {
		return nil, err
	}
	out := &protocol.WorkspaceEdit{}
	for _, doc := range order {
		s.addEdits(out, doc, byDoc[doc])
	}
	return out, nil
}

// renamed gives the edits that rename what stands at a place, in every plan that has it.
func (s *server) renamed(ctx context.Context, q *question, offset int, name string) (order []*document, byDoc map[*document][]ide.TextEdit, err error) {
	byDoc = map[*document][]ide.TextEdit{}
	type place struct {
		doc        *document
		start, end int
	}
	seen := map[place]bool{}
	spots, err := s.everywhere(ctx, q, offset)
	if err != nil {
		return nil, nil, err
	}
	for _, o := range spots {
		v, err := s.view(ctx, o.question, 0)
		if err != nil {
			return nil, nil, err
		}
		edits, err := ide.Rename(v, o.offset, name)
		if err != nil {
			return nil, nil, failed(err)
		}
		for _, e := range edits {
			f, ok := o.plan.document(e.Path)
			if !ok || f.doc == nil || seen[place{f.doc, e.Start, e.End}] {
				continue
			}
			seen[place{f.doc, e.Start, e.End}] = true
			if byDoc[f.doc] == nil {
				order = append(order, f.doc)
			}
			byDoc[f.doc] = append(byDoc[f.doc], e)
		}
	}
	return order, byDoc, nil
}

// LinkedEditingRange gives the places of a name that are typed together: its block's and
// its references', where all of them stand in this document and say nothing else.
func (s *server) LinkedEditingRange(ctx context.Context, params *protocol.LinkedEditingRangeParams) (*protocol.LinkedEditingRanges, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok || q.doc == nil {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	r, err := ide.PrepareRename(v, offset)
	if err != nil {
		return nil, nil // no name stands there
	}
	order, byDoc, err := s.renamed(ctx, q, offset, r.Name+"-x")
	if err != nil || len(order) != 1 || order[0] != q.doc || len(byDoc[q.doc]) < 2 {
		return nil, ctx.Err()
	}
	out := &protocol.LinkedEditingRanges{WordPattern: ptr(`[A-Za-z_][\w-]*`)}
	for _, e := range byDoc[q.doc] {
		if string(q.file.Text.Bytes()[e.Start:e.End]) != r.Name || e.New != r.Name+"-x" {
			return nil, nil
		}
		out.Ranges = append(out.Ranges, s.span(q.file.Text, e.Start, e.End))
	}
	return out, nil
}
