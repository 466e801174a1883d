package server

import (
	"cmp"
	"context"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lsp/ide"
	"ohmstead/schema/source"
)

var symbolKinds = map[ide.SymbolKind]protocol.SymbolKind{
	ide.PlanSymbol:      protocol.SymbolKindModule,
	ide.SettingSymbol:   protocol.SymbolKindNamespace,
	ide.PartSymbol:      protocol.SymbolKindClass,
	ide.SurfaceSymbol:   protocol.SymbolKindInterface,
	ide.PowerSymbol:     protocol.SymbolKindObject,
	ide.ControlSymbol:   protocol.SymbolKindMethod,
	ide.RunSymbol:       protocol.SymbolKindStruct,
	ide.OrderSymbol:     protocol.SymbolKindArray,
	ide.CaseSymbol:      protocol.SymbolKindEvent,
	ide.LetSymbol:       protocol.SymbolKindVariable,
	ide.AttributeSymbol: protocol.SymbolKindProperty,
}

// plainKinds stand for kinds that a client need not know: those that the
// protocol had from the start reach to Array.
var plainKinds = map[protocol.SymbolKind]protocol.SymbolKind{
	protocol.SymbolKindObject: protocol.SymbolKindConstant,
	protocol.SymbolKindStruct: protocol.SymbolKindField,
	protocol.SymbolKindEvent:  protocol.SymbolKindFunction,
}

// symbolKind is the kind of a symbol for a client that knows some kinds.
func symbolKind(k ide.SymbolKind, known []protocol.SymbolKind) protocol.SymbolKind {
	kind := symbolKinds[k]
	if plain, late := plainKinds[kind]; late && !slices.Contains(known, kind) {
		return plain
	}
	return kind
}

// DocumentSymbol lists the blocks of a document: as a tree, or flat for
// clients that know no tree.
func (s *server) DocumentSymbol(ctx context.Context, params *protocol.DocumentSymbolParams) (protocol.DocumentSymbolResult, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	symbols := ide.Symbols(v)
	if s.can.hierarchy {
		return protocol.DocumentSymbolSlice(s.symbolTree(q.file.Text, symbols)), nil
	}
	flat := protocol.SymbolInformationSlice{}
	var add func(container string, list []ide.Symbol)
	add = func(container string, list []ide.Symbol) {
		for _, x := range list {
			if x.Kind == ide.AttributeSymbol {
				continue // a flat list is lost in them
			}
			var info protocol.SymbolInformation
			info.Name, info.Kind = x.Name, symbolKind(x.Kind, s.can.symbolKinds)
			if container != "" {
				info.ContainerName = &container
			}
			info.Location = protocol.Location{URI: params.TextDocument.URI, Range: s.span(q.file.Text, x.Start, x.End)}
			flat = append(flat, info)
			add(x.Name, x.Children)
		}
	}
	add("", symbols)
	return flat, nil
}

func (s *server) symbolTree(t *source.Text, list []ide.Symbol) []protocol.DocumentSymbol {
	out := make([]protocol.DocumentSymbol, 0, len(list))
	for _, x := range list {
		d := protocol.DocumentSymbol{
			Name:           cmp.Or(x.Name, "?"), // an empty name is not allowed
			Kind:           symbolKind(x.Kind, s.can.symbolKinds),
			Range:          s.span(t, x.Start, x.End),
			SelectionRange: s.span(t, x.Selected.Start, x.Selected.End),
		}
		if x.Detail != "" {
			d.Detail = &x.Detail
		}
		if len(x.Children) > 0 {
			d.Children = s.symbolTree(t, x.Children)
		}
		out = append(out, d)
	}
	return out
}

// mostSymbols is how many symbols of the workspace are told: nobody reads more.
const mostSymbols = 1000

// Symbols finds things in all plans.
func (s *server) Symbols(ctx context.Context, params *protocol.WorkspaceSymbolParams) (protocol.WorkspaceSymbolResult, error) {
	type hit struct {
		ide.WorkspaceSymbol
		plan *plan
	}
	var hits []hit
	type place struct {
		uri   uri.URI
		start int
	}
	seen := map[place]bool{}
	for _, r := range s.snapshot(ctx).roots {
		for _, p := range each(r.plans) {
			v, err := s.view(ctx, &question{plan: p}, 0)
			if err != nil {
				return nil, err
			}
			for _, x := range ide.WorkspaceSymbols(v, params.Query) {
				f, ok := p.document(x.Path)
				if !ok || f.doc == nil || seen[place{f.uri, x.Start}] {
					continue
				}
				seen[place{f.uri, x.Start}] = true
				hits = append(hits, hit{x, p})
			}
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return b.Score - a.Score })
	out := protocol.SymbolInformationSlice{}
	for _, h := range hits[:min(len(hits), mostSymbols)] {
		l, ok := s.location(h.plan, h.Location)
		if !ok {
			continue
		}
		var info protocol.SymbolInformation
		info.Name, info.Kind, info.Location = h.Name, symbolKind(h.Kind, s.can.wideSymbolKinds), l
		if h.Container != "" {
			info.ContainerName = &h.Container
		}
		out = append(out, info)
	}
	return out, nil
}
