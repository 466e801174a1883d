package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// References finds all places that name a thing, in every plan that has it.
func (s *server) References(ctx context.Context, params *protocol.ReferenceParams) ([]protocol.Location, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	out := []protocol.Location{}
	seen := map[protocol.Location]bool{}
	spots, err := s.everywhere(ctx, q, offset)
	if err != nil {
		return nil, err
	}
	for _, o := range spots {
		v, err := s.view(ctx, o.question, 0)
		if err != nil {
			return nil, err
		}
		for _, l := range ide.References(v, o.offset, params.Context.IncludeDeclaration) {
			if place, ok := s.location(o.plan, l); ok && !seen[place] {
				seen[place] = true
				out = append(out, place)
			}
		}
	}
	return out, nil
}

// spot is a place from which a plan is asked.
type spot struct {
	*question
	offset int
}

// everywhere gives the places from which to ask each plan that has the thing
// at an offset: one declared in stock is used by other plans too.
func (s *server) everywhere(ctx context.Context, q *question, offset int) ([]spot, error) {
	if q.root == nil {
		return []spot{{q, offset}}, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	home, at := q, offset
	if ts := ide.Definition(v, offset); len(ts) > 0 {
		if f, ok := q.plan.document(ts[0].Name.Path); ok && f.doc != nil && f.doc != q.doc {
			if dir, ok := q.root.dirOf(f.doc.key); ok && q.root.dir(dir) != nil {
				home, at = &question{snap: q.snap, root: q.root, dir: dir, plan: q.plan, doc: f.doc, file: f.doc.file}, ts[0].Name.Start
			}
		}
	}
	out := []spot{}
	for _, p := range q.root.plansWith(home.dir) {
		other := *home
		other.plan = p
		out = append(out, spot{&other, at})
	}
	if len(out) == 0 {
		out = append(out, spot{q, offset})
	}
	return out, nil
}

// DocumentHighlight finds the places of the document that name a thing.
func (s *server) DocumentHighlight(ctx context.Context, params *protocol.DocumentHighlightParams) ([]protocol.DocumentHighlight, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	var out []protocol.DocumentHighlight
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	s.point(ctx, q, v, offset)
	for _, h := range ide.Highlights(v, offset) {
		kind := protocol.DocumentHighlightKindRead
		if h.Write {
			kind = protocol.DocumentHighlightKindWrite
		}
		out = append(out, protocol.DocumentHighlight{Range: s.span(q.file.Text, h.Start, h.End), Kind: kind})
	}
	return out, nil
}
