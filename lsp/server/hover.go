package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// Hover shows what stands at a place.
func (s *server) Hover(ctx context.Context, params *protocol.HoverParams) (*protocol.Hover, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	v.Pictures = s.can.hoverMarkdown && q.snap.settings.Hover.Pictures
	h, ok := ide.HoverAt(v, offset, q.snap.settings.Hints.Case)
	if !ok {
		return nil, nil
	}
	at := s.span(q.file.Text, h.Start, h.End)
	return &protocol.Hover{Contents: markup(s.can.hoverMarkdown, h.Markdown), Range: &at}, nil
}
