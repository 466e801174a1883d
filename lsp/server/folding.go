package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// FoldingRanges finds what can be folded.
func (s *server) FoldingRanges(ctx context.Context, params *protocol.FoldingRangeParams) ([]protocol.FoldingRange, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := []protocol.FoldingRange{}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	for _, f := range ide.Folds(v) {
		r := s.span(q.file.Text, f.Start, f.End)
		fold := protocol.FoldingRange{StartLine: r.Start.Line, EndLine: r.End.Line}
		if !s.can.lineFolding {
			fold.StartCharacter, fold.EndCharacter = &r.Start.Character, &r.End.Character
		}
		if f.Kind == ide.CommentFold {
			fold.Kind = protocol.FoldingRangeKindComment
		}
		if f.Text != "" && s.can.collapsedText {
			fold.CollapsedText = &f.Text
		}
		if s.can.foldLimit > 0 && len(out) == s.can.foldLimit {
			break
		}
		out = append(out, fold)
	}
	return out, nil
}

// SelectionRange finds what makes sense to select around places.
func (s *server) SelectionRange(ctx context.Context, params *protocol.SelectionRangeParams) ([]protocol.SelectionRange, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := make([]protocol.SelectionRange, 0, len(params.Positions))
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	for _, p := range params.Positions {
		offset := s.offset(q.file.Text, p)
		var outer *protocol.SelectionRange
		ranges := ide.Selections(v, offset)
		for i := len(ranges) - 1; i >= 0; i-- {
			outer = &protocol.SelectionRange{Range: s.span(q.file.Text, ranges[i].Start, ranges[i].End), Parent: outer}
		}
		if outer == nil { // each position has its answer
			outer = &protocol.SelectionRange{Range: s.span(q.file.Text, offset, offset)}
		}
		out = append(out, *outer)
	}
	return out, nil
}
