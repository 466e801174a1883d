package server

import (
	"context"
	"math"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// DocumentColor finds the colours of a document.
func (s *server) DocumentColor(ctx context.Context, params *protocol.DocumentColorParams) ([]protocol.ColorInformation, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := []protocol.ColorInformation{}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	for _, c := range ide.Colours(v) {
		out = append(out, protocol.ColorInformation{
			Range: s.span(q.file.Text, c.Start, c.End),
			Color: protocol.Color{Red: c.Red, Green: c.Green, Blue: c.Blue, Alpha: 1},
		})
	}
	return out, nil
}

// ColorPresentation lists the ways to write a colour.
func (s *server) ColorPresentation(ctx context.Context, params *protocol.ColorPresentationParams) ([]protocol.ColorPresentation, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	c := params.Color
	out := []protocol.ColorPresentation{}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	for _, e := range ide.ColourTexts(v, s.stretch(q, params.Range), share(c.Red), share(c.Green), share(c.Blue)) {
		out = append(out, protocol.ColorPresentation{
			Label:    e.New,
			TextEdit: protocol.TextEdit{Range: s.span(q.file.Text, e.Start, e.End), NewText: e.New},
		})
	}
	return out, nil
}

func share(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return min(max(x, 0), 1)
}
