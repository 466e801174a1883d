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
	URI   uri.URI  `json:"uri"`
	Start int      `json:"start"`
	Do    ide.Deed `json:"do"`
}

// lensesFor says what the lenses of a document are for: what hints say they leave to those.
func (s *server) lensesFor(q *question) ide.LensesFor {
	return ide.LensesFor{Case: q.snap.settings.Hints.Case, Figures: !s.can.hints}
}

// CodeLens shows figures, and what to do, above blocks.
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
	for _, l := range ide.Lenses(v, s.lensesFor(q)) {
		out = append(out, protocol.CodeLens{
			Range:   s.span(q.file.Text, l.Start, l.End),
			Command: command(params.TextDocument.URI, l),
			Data:    jsonData(lensData{URI: params.TextDocument.URI, Start: l.Start, Do: l.Do}),
		})
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
	for _, l := range ide.Lenses(v, s.lensesFor(q)) {
		if l.Start == data.Start && l.Do == data.Do {
			lens.Command = command(data.URI, l)
			break
		}
	}
	return lens, nil
}
