package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// SignatureHelp helps with the call around a place.
func (s *server) SignatureHelp(ctx context.Context, params *protocol.SignatureHelpParams) (*protocol.SignatureHelp, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	sig, ok := ide.SignatureAt(v, offset)
	if !ok {
		return nil, nil
	}
	out := protocol.SignatureInformation{Label: sig.Label, Documentation: markup(s.can.signatureMarkdown, sig.Doc)}
	for _, p := range sig.Params {
		info := protocol.ParameterInformation{Label: protocol.String(sig.Label[p.Start:p.End])}
		if s.can.labelOffsets { // labels are ASCII, so bytes are units
			info.Label = protocol.ParameterInformationLabelTuple{uint32(p.Start), uint32(p.End)}
		}
		if p.Doc != "" {
			info.Documentation = markup(s.can.signatureMarkdown, p.Doc)
		}
		out.Parameters = append(out.Parameters, info)
	}
	active := protocol.NewNullable(uint32(max(sig.Active, 0)))
	return &protocol.SignatureHelp{Signatures: []protocol.SignatureInformation{out}, ActiveSignature: ptr(uint32(0)), ActiveParameter: active}, nil
}
