package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// hints are the settings of inlay hints in the terms of package ide.
func (s *Settings) hints() ide.Hints {
	h := s.Hints
	return ide.Hints{Pixels: h.Pixels, Metres: h.Metres, Amps: h.Amps, Drop: h.Drop, Load: h.Load, Lengths: h.Lengths, Near: h.Near, Moved: h.Moved, Case: h.Case}
}

// sinceSaved has a view tell what an edit moved.
func (s *server) sinceSaved(ctx context.Context, q *question, v *ide.View) (err error) {
	if q.doc == nil || !q.snap.settings.Hints.Moved {
		return nil
	}
	end, edited := q.snap.edits[q.doc.key]
	saved := q.plan.past.lastSaved()
	if !edited || saved == nil || saved == q.plan {
		return nil
	}
	v.Edited = end
	v.Saved, err = saved.figures(ctx)
	return err
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
	if err := s.sinceSaved(ctx, q, v); err != nil {
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
