package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// Definition leads to where a thing is declared.
func (s *server) Definition(ctx context.Context, params *protocol.DefinitionParams) (protocol.DefinitionResult, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	return s.targets(q, ide.Definition(v, offset), s.can.definitionLinks), nil
}

// TypeDefinition leads to the part that a thing is made of.
func (s *server) TypeDefinition(ctx context.Context, params *protocol.TypeDefinitionParams) (protocol.DefinitionResult, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, 0)
	if err != nil {
		return nil, err
	}
	return s.targets(q, ide.TypeDefinition(v, offset), s.can.typeLinks), nil
}

func (s *server) targets(q *question, ts []ide.Target, links bool) protocol.DefinitionResult {
	var linked protocol.DefinitionLinkSlice
	var plain protocol.LocationSlice
	for _, t := range ts {
		name, ok := s.location(q.plan, t.Name)
		if !ok {
			continue
		}
		whole, ok := s.location(q.plan, t.Whole)
		if !ok || whole.URI != name.URI {
			whole = name
		}
		origin := s.span(q.file.Text, t.Origin.Start, t.Origin.End)
		plain = append(plain, name)
		linked = append(linked, protocol.DefinitionLink{OriginSelectionRange: &origin, TargetURI: name.URI, TargetRange: whole.Range, TargetSelectionRange: name.Range})
	}
	switch {
	case len(plain) == 0:
		return nil
	case links:
		return linked
	}
	return plain
}
