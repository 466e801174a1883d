package server

import (
	"cmp"
	"context"
	"errors"

	"go.lsp.dev/protocol"

	"ohmstead/lint/remedy"
	"ohmstead/lint/sizing"
	"ohmstead/lsp/ide"
)

// sizeTitle is the action on the plan block that looks for the cheapest sizes.
// The search takes seconds, so that it begins when the action is taken.
const sizeTitle = "Write the cheapest gauges, fuses and feeds with which the plan passes"

// sizeAction offers the search where the plan block begins.
func (s *server) sizeAction(q *question, v *ide.View, params *protocol.CodeActionParams) []protocol.CommandOrCodeAction {
	if !s.can.applyEdit || !wanted(ide.RefactorRewrite, params.Context.Only) || !ide.InPlanBlock(v, s.offset(q.file.Text, params.Range.Start)) {
		return nil
	}
	data := actionData{URI: params.TextDocument.URI, Range: params.Range, Kind: ide.RefactorRewrite, Title: sizeTitle}
	command := protocol.Command{Title: sizeTitle, Command: applyCommand, Arguments: []protocol.LSPAny{jsonData(data)}}
	if !s.can.actionLiterals {
		return []protocol.CommandOrCodeAction{&command}
	}
	kind := protocol.CodeActionKind(ide.RefactorRewrite)
	return []protocol.CommandOrCodeAction{&protocol.CodeAction{Title: sizeTitle, Kind: &kind, Command: command}}
}

// sizeEdit searches the sizes until the plan is edited.
func (s *server) sizeEdit(ctx context.Context, q *question) (*protocol.WorkspaceEdit, error) {
	ctx, end := q.plan.whileNewest(ctx)
	defer end()
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil {
		return nil, cmp.Or(context.Cause(ctx), err)
	}
	trials, err := q.plan.trials(ctx)
	if err != nil {
		return nil, cmp.Or(context.Cause(ctx), err)
	}
	sized, err := trials.Size(ctx, sizing.Options{})
	switch {
	case ctx.Err() != nil:
		return nil, context.Cause(ctx) // edited: half a search is no answer to the new text
	case err != nil:
		return nil, failed(err)
	case sized.Draft == nil:
		return nil, failed(errors.New("no change of the sizes that may be chosen makes the plan pass; ohmstead size tells what is in the way"))
	}
	edits, ok := ide.Edits(v, remedy.LaidOut(sized.Edits()))
	if !ok {
		return nil, failed(errors.New("the plan passes as it is, and nothing cheaper was found"))
	}
	return s.workspaceEdit(q.plan, edits), nil
}
