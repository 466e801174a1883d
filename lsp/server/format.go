package server

import (
	"context"
	"slices"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// Formatting lays a document out. The layout is the canonical one whatever the
// editor's options say, so that all tools agree.
func (s *server) Formatting(ctx context.Context, params *protocol.DocumentFormattingParams) ([]protocol.TextEdit, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	return s.textEdits(q.file.Text, ide.Format(v)), nil
}

// RangeFormatting lays out the lines of a range.
func (s *server) RangeFormatting(ctx context.Context, params *protocol.DocumentRangeFormattingParams) ([]protocol.TextEdit, error) {
	return s.RangesFormatting(ctx, &protocol.DocumentRangesFormattingParams{
		TextDocument: params.TextDocument, Ranges: []protocol.Range{params.Range}, Options: params.Options})
}

// RangesFormatting lays out the lines of several ranges.
func (s *server) RangesFormatting(ctx context.Context, params *protocol.DocumentRangesFormattingParams) ([]protocol.TextEdit, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	var edits []ide.TextEdit
	for _, r := range params.Ranges {
		for _, e := range ide.FormatRange(v, s.stretch(q, r)) {
			if !slices.Contains(edits, e) {
				edits = append(edits, e)
			}
		}
	}
	return s.textEdits(q.file.Text, edits), nil
}

// OnTypeFormatting tidies up behind what was typed.
func (s *server) OnTypeFormatting(ctx context.Context, params *protocol.DocumentOnTypeFormattingParams) ([]protocol.TextEdit, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	edits := ide.FormatTyped(v, s.offset(q.file.Text, params.Position), params.Ch)
	return s.textEdits(q.file.Text, edits), nil
}

// stretch converts a range; one whose ends are the wrong way around is turned.
func (s *server) stretch(q *question, r protocol.Range) ide.Range {
	start, end := s.offset(q.file.Text, r.Start), s.offset(q.file.Text, r.End)
	return ide.Range{Start: min(start, end), End: max(start, end)}
}
