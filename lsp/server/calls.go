package server

import (
	"context"
	"encoding/json"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// PrepareCallHierarchy finds the part at a place. Calls are the flow of power
// and data: what feeds a part calls it.
func (s *server) PrepareCallHierarchy(ctx context.Context, params *protocol.CallHierarchyPrepareParams) ([]protocol.CallHierarchyItem, error) {
	q, offset, ok := s.at(ctx, &params.TextDocumentPositionParams)
	if !ok {
		return nil, nil
	}
	var out []protocol.CallHierarchyItem
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	for _, p := range ide.PartAt(v, offset) {
		if item, ok := s.part(q, p); ok {
			out = append(out, item)
		}
	}
	return out, nil
}

func (s *server) part(q *question, p ide.Part) (protocol.CallHierarchyItem, bool) {
	name, ok := s.location(q.plan, p.Name)
	if !ok {
		return protocol.CallHierarchyItem{}, false
	}
	whole, ok := s.location(q.plan, p.Whole)
	if !ok || whole.URI != name.URI {
		whole = name
	}
	item := protocol.CallHierarchyItem{Name: p.ID, Kind: symbolKinds[p.Kind], URI: name.URI, Range: whole.Range, SelectionRange: name.Range, Data: jsonData(p.ID)}
	if p.Detail != "" {
		item.Detail = &p.Detail
	}
	return item, true
}

// IncomingCalls lists what feeds a part.
func (s *server) IncomingCalls(ctx context.Context, params *protocol.CallHierarchyIncomingCallsParams) ([]protocol.CallHierarchyIncomingCall, error) {
	q, id, ok := s.ofPart(ctx, &params.Item)
	if !ok {
		return nil, nil
	}
	var out []protocol.CallHierarchyIncomingCall
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	for _, f := range ide.FedBy(v, id) {
		if item, ok := s.part(q, f.Part); ok {
			out = append(out, protocol.CallHierarchyIncomingCall{From: item, FromRanges: s.through(q, f, item)})
		}
	}
	return out, nil
}

// OutgoingCalls lists what a part feeds.
func (s *server) OutgoingCalls(ctx context.Context, params *protocol.CallHierarchyOutgoingCallsParams) ([]protocol.CallHierarchyOutgoingCall, error) {
	q, id, ok := s.ofPart(ctx, &params.Item)
	if !ok {
		return nil, nil
	}
	var out []protocol.CallHierarchyOutgoingCall
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	for _, f := range ide.Feeds(v, id) {
		if item, ok := s.part(q, f.Part); ok {
			out = append(out, protocol.CallHierarchyOutgoingCall{To: item, FromRanges: s.through(q, f, params.Item)})
		}
	}
	return out, nil
}

// through gives the ranges of leads and signals in the document of the part
// that feeds, as the protocol wants it; its name where they are in another.
func (s *server) through(q *question, f ide.Flow, feeding protocol.CallHierarchyItem) []protocol.Range {
	var out []protocol.Range
	for _, l := range f.Through {
		if place, ok := s.location(q.plan, l); ok && place.URI == feeding.URI {
			out = append(out, place.Range)
		}
	}
	if len(out) == 0 {
		out = append(out, feeding.SelectionRange)
	}
	return out
}

func (s *server) ofPart(ctx context.Context, item *protocol.CallHierarchyItem) (*question, string, bool) {
	var id string
	if len(item.Data) == 0 || json.Unmarshal(item.Data, &id) != nil {
		return nil, "", false
	}
	q, ok := s.about(ctx, item.URI)
	return q, id, ok
}
