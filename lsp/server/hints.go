package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// hints are the settings of inlay hints in the terms of package ide.
func (s *Settings) hints() ide.Hints {
	h := s.Hints
	return ide.Hints{Pixels: h.Pixels, Metres: h.Metres, Amps: h.Amps, Drop: h.Drop, Load: h.Load, Lengths: h.Lengths, Case: h.Case}
}

// InlayHint shows figures within the text.
func (s *server) InlayHint(ctx context.Context, params *protocol.InlayHintParams) ([]protocol.InlayHint, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := []protocol.InlayHint{}
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	for _, h := range ide.Inlays(v, s.stretch(q, params.Range), q.snap.settings.hints()) {
		hint := protocol.InlayHint{Position: s.position(q.file.Text, h.Offset), Label: protocol.String(h.Label), PaddingLeft: ptr(true)}
		if h.Tip != "" {
			hint.Tooltip = markup(s.can.hoverMarkdown, h.Tip)
		}
		if h.Insert != nil {
			hint.TextEdits = s.textEdits(q.file.Text, h.Insert)
		}
		out = append(out, hint)
	}
	return out, nil
}
