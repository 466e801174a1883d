package server

import (
	"context"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lsp/ide"
)

// DocumentLink finds what leads out of a document. A directory is opened at
// its first plan file, since editors open files.
func (s *server) DocumentLink(ctx context.Context, params *protocol.DocumentLinkParams) ([]protocol.DocumentLink, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := []protocol.DocumentLink{}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	for _, l := range ide.Links(v) {
		link := protocol.DocumentLink{Range: s.span(q.file.Text, l.Start, l.End)}
		switch {
		case l.URL != "":
			u, err := uri.ParseStrict(l.URL)
			if err != nil {
				continue
			}
			link.Target = &u
		case q.plan.stock[l.Dir] != nil && len(q.plan.stock[l.Dir].docs) > 0:
			u := q.plan.stock[l.Dir].docs[0].uri
			link.Target = &u
		default:
			continue
		}
		if l.Tip != "" && s.can.linkTips {
			link.Tooltip = &l.Tip
		}
		out = append(out, link)
	}
	return out, nil
}
