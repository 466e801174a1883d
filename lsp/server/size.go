package server

import (
	"bytes"
	"cmp"
	"context"
	"errors"

	"go.lsp.dev/protocol"

	"ohmstead/lint/remedy"
	"ohmstead/lint/sizing"
	"ohmstead/lsp/ide"
	"ohmstead/schema/source"
)

// sizeTitle is the action on the plan block that looks for the cheapest sizes.
// The search takes seconds, so that it begins when the action is taken.
const sizeTitle = "Write the cheapest gauges, fuses and feeds with which the plan passes"

// draftTitle is the same where there are runs and nothing yet that brings them
// power: what the light bulb has for the first finding of a new plan.
const draftTitle = "Write a first supply, controller, wires and fuses, with runs cut where one feed is too little"

// sizeAction offers the search where the plan block begins.
func (s *server) sizeAction(q *question, v *ide.View, params *protocol.CodeActionParams) []protocol.CommandOrCodeAction {
	title, kind, unfed := sizeTitle, protocol.CodeActionKind(ide.RefactorRewrite), []protocol.Diagnostic(nil)
	here := ide.InPlanBlock(v, s.offset(q.file.Text, params.Range.Start))
	if sizing.Bare(v.Plan) {
		title, kind = draftTitle, ide.QuickFix
		for _, f := range v.Findings {
			start, end, inFile := v.File.Range(f.At)
			if f.Rule == "no-feed" && inFile && start <= s.offset(q.file.Text, params.Range.End) && s.offset(q.file.Text, params.Range.Start) <= end {
				here = true
			}
		}
		for _, d := range params.Context.Diagnostics {
			if d.Code == protocol.String("no-feed") {
				unfed = append(unfed, d)
			}
		}
	}
	if !s.can.applyEdit || !here || !wanted(string(kind), params.Context.Only) {
		return nil
	}
	data := actionData{URI: params.TextDocument.URI, Range: params.Range, Kind: ide.RefactorRewrite, Title: sizeTitle}
	command := protocol.Command{Title: title, Command: applyCommand, Arguments: []protocol.LSPAny{jsonData(data)}}
	if !s.can.actionLiterals {
		return []protocol.CommandOrCodeAction{&command}
	}
	action := &protocol.CodeAction{Title: title, Kind: &kind, Command: command, Diagnostics: unfed}
	if len(unfed) > 0 && s.can.actionPreferred {
		action.IsPreferred = ptr(true)
	}
	return []protocol.CommandOrCodeAction{action}
}

// sizeEdit searches the sizes until the plan is edited.
func (s *server) sizeEdit(ctx context.Context, q *question) (*protocol.WorkspaceEdit, error) {
	ctx, end := q.plan.whileNewest(ctx)
	defer end()
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil {
		return nil, cmp.Or(context.Cause(ctx), err)
	}
	if sizing.Bare(v.Plan) {
		return s.draftEdit(ctx, q, v)
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
	edits, ok := ide.Edits(v, sized.Edits())
	if !ok {
		return nil, failed(errors.New("the plan passes as it is, and nothing cheaper was found"))
	}
	return s.workspaceEdit(q.plan, edits), nil
}

// mostDrafted is how many plans are judged for a first draft: it is soon another.
const mostDrafted = 60

// draftEdit drafts the power and data of a plan that has only runs.
func (s *server) draftEdit(ctx context.Context, q *question, v *ide.View) (*protocol.WorkspaceEdit, error) {
	plan, sized, err := remedy.First(ctx, v.Figures, allRules(), sizing.Options{LeastWork: true, Judged: mostDrafted})
	switch {
	case ctx.Err() != nil:
		return nil, context.Cause(ctx)
	case err != nil:
		return nil, failed(err)
	case sized.Draft == nil:
		return nil, failed(errors.New("no draft was found that passes; shorter runs, each with a lead of its own, are easier to feed"))
	}
	texts, err := plan.Edited(remedy.LaidOut(sized.Edits()))
	if err != nil {
		return nil, err
	}
	var edits []ide.TextEdit
	for i, f := range v.Plan.Files {
		before, after := f.Text.Bytes(), plan.Files[i].Text.Bytes()
		if t := texts[f.Text.Path()]; t != nil {
			after = t
		}
		start := bytes.LastIndexByte(before[:source.CommonPrefix(before, after)], '\n') + 1 // within no character
		end := source.CommonSuffix(before[start:], after[start:])
		if i := bytes.IndexByte(before[len(before)-end:], '\n'); i >= 0 {
			end -= i
		} else {
			end = 0
		}
		if !bytes.Equal(before, after) {
			edits = append(edits, ide.TextEdit{Location: ide.Location{Path: f.Text.Path(), Start: start, End: len(before) - end}, New: string(after[start : len(after)-end])})
		}
	}
	return s.workspaceEdit(q.plan, edits), nil
}
