package server

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lsp/ide"
)

// lensData is what a lens carries.
type lensData struct {
	URI   uri.URI `json:"uri"`
	Start int     `json:"start"`
}

// CodeLens shows figures above blocks.
func (s *server) CodeLens(ctx context.Context, params *protocol.CodeLensParams) ([]protocol.CodeLens, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := []protocol.CodeLens{}
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil {
		return nil, err
	}
	for _, l := range ide.Lenses(v, q.snap.settings.Hints.Case) {
		out = append(out, protocol.CodeLens{
			Range:   s.span(q.file.Text, l.Start, l.End),
			Command: protocol.Command{Title: l.Title},
			Data:    jsonData(lensData{URI: params.TextDocument.URI, Start: l.Start}),
		})
		if l.Plan {
			out = append(out, protocol.CodeLens{
				Range:   s.span(q.file.Text, l.Start, l.End),
				Command: protocol.Command{Title: "Show in the browser", Command: viewCommand, Arguments: []protocol.LSPAny{jsonData(params.TextDocument.URI)}},
			})
		}
	}
	return out, nil
}

// CodeLensResolve gives a lens the figures of the current text, for clients
// that keep lenses and ask for their titles anew.
func (s *server) CodeLensResolve(ctx context.Context, lens *protocol.CodeLens) (*protocol.CodeLens, error) {
	var data lensData
	if len(lens.Data) == 0 || json.Unmarshal(lens.Data, &data) != nil {
		return lens, nil
	}
	q, ok := s.about(ctx, data.URI)
	if !ok {
		return lens, nil
	}
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil {
		return nil, err
	}
	for _, l := range ide.Lenses(v, q.snap.settings.Hints.Case) {
		if l.Start == data.Start {
			lens.Command = protocol.Command{Title: l.Title}
		}
	}
	return lens, nil
}
