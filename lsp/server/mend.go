package server

import (
	"context"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// mendTitle is the action that mends all plans at once. It is of a kind of its own, so that saving a file does not take it.
const (
	mendTitle = "Mend everything in all plans that has one safe remedy"
	mendKind  = "source.ohmstead.fixAll"
)

// mendAction offers it where the user opened the list of actions or asked for it.
func (s *server) mendAction(params *protocol.CodeActionParams) []protocol.CommandOrCodeAction {
	c := params.Context
	if !s.can.applyEdit || !wanted(mendKind, c.Only) || len(c.Only) == 0 && c.TriggerKind != protocol.CodeActionTriggerKindInvoked {
		return nil
	}
	data := actionData{URI: params.TextDocument.URI, Range: params.Range, Kind: mendKind, Title: mendTitle}
	command := protocol.Command{Title: mendTitle, Command: applyCommand, Arguments: []protocol.LSPAny{jsonData(data)}}
	if !s.can.actionLiterals {
		return []protocol.CommandOrCodeAction{&command}
	}
	kind := protocol.CodeActionKind(mendKind)
	return []protocol.CommandOrCodeAction{&protocol.CodeAction{Title: mendTitle, Kind: &kind, Command: command}}
}

// mendEdit gathers what mends the files of all plans; a file that several plans use is mended as the first one says.
func (s *server) mendEdit(ctx context.Context, q *question) (*protocol.WorkspaceEdit, error) {
	out := &protocol.WorkspaceEdit{}
	seen := map[*document]bool{}
	for _, r := range q.snap.roots {
		for _, p := range each(r.plans) {
			v, err := s.viewForActions(ctx, &question{snap: q.snap, root: r, plan: p})
			if err != nil {
				return nil, err
			}
			for _, f := range v.Plan.Files {
				at, ok := p.document(f.Text.Path())
				if !ok || at.doc == nil || seen[at.doc] {
					continue
				}
				seen[at.doc] = true
				v.File = f
				if edits, _ := ide.FixAllNotation(v, ""); len(edits) > 0 {
					s.addEdits(out, at.doc, edits)
				}
			}
		}
	}
	return out, nil
}
