package server

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
)

// actionKinds are the kinds of actions that the server has.
var actionKinds = []protocol.CodeActionKind{ide.QuickFix, ide.RefactorExtract, ide.RefactorInline, ide.RefactorMove, ide.RefactorRewrite, ide.FixAll, fixAllOurs, mendKind, viewKind}

// viewKind is the kind of the action that shows the plan on the live page.
const viewKind = "source.ohmstead.view"

// fixAllOurs is the kind by which a user has fixes of this server alone made
// on saving.
const fixAllOurs = ide.FixAll + ".ohmstead"

// actionData is what an action carries until its edit is asked for.
type actionData struct {
	URI   uri.URI        `json:"uri"`
	Range protocol.Range `json:"range"`
	Kind  string         `json:"kind"`
	Title string         `json:"title"`
}

// CodeAction lists the changes that make sense for a selection.
func (s *server) CodeAction(ctx context.Context, params *protocol.CodeActionParams) ([]protocol.CommandOrCodeAction, error) {
	q, ok := s.about(ctx, params.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	q = q.judged()
	v, actions, err := s.actions(ctx, q, params.Range, params.Context.Only)
	if err != nil {
		return nil, err
	}
	out := []protocol.CommandOrCodeAction{}
	for _, a := range actions {
		data := actionData{URI: params.TextDocument.URI, Range: params.Range, Kind: a.Kind, Title: a.Title}
		if a.Do != "" && !s.can.actionLiterals {
			c := does(params.TextDocument.URI, a)
			out = append(out, &c)
			continue
		}
		if !s.can.actionLiterals {
			if !s.can.applyEdit {
				continue // nothing that it can be done by
			}
			out = append(out, &protocol.Command{Title: a.Title, Command: applyCommand, Arguments: []protocol.LSPAny{jsonData(data)}})
			continue
		}
		kind := protocol.CodeActionKind(a.Kind)
		if a.Do != "" {
			out = append(out, &protocol.CodeAction{Title: a.Title, Kind: &kind, Command: does(params.TextDocument.URI, a)})
			continue
		}
		action := &protocol.CodeAction{Title: a.Title, Kind: &kind, Diagnostics: s.solved(v, q, a, params.Context.Diagnostics)}
		if a.Preferred && s.can.actionPreferred {
			action.IsPreferred = ptr(true)
		}
		if s.can.actionResolve {
			action.Data = jsonData(data)
		} else {
			action.Edit = s.workspaceEdit(q.plan, a.Edits)
		}
		out = append(out, action)
	}
	out = append(out, s.explanations(v, q, params)...)
	out = append(out, s.sizeAction(q, v, params)...)
	s.point(ctx, q, v, s.offset(q.file.Text, params.Range.Start))
	out = append(out, s.mendAction(params)...)
	return append(out, s.viewAction(params)...), nil
}

// does is the command of an action that shows something.
func does(u uri.URI, a ide.Action) protocol.Command {
	return protocol.Command{Title: a.Title, Command: deedCommands[a.Do], Arguments: []protocol.LSPAny{jsonData(u), jsonData(a.About)}}
}

// viewAction offers the live page, where the user opened the list of actions or
// asked for it: it says nothing about the selection.
func (s *server) viewAction(params *protocol.CodeActionParams) []protocol.CommandOrCodeAction {
	c := params.Context
	if !wanted(viewKind, c.Only) || len(c.Only) == 0 && c.TriggerKind != protocol.CodeActionTriggerKindInvoked {
		return nil
	}
	command := protocol.Command{Title: "Show the plan in the browser", Command: viewCommand, Arguments: []protocol.LSPAny{jsonData(params.TextDocument.URI)}}
	if !s.can.actionLiterals {
		return []protocol.CommandOrCodeAction{&command}
	}
	kind := protocol.CodeActionKind(viewKind)
	return []protocol.CommandOrCodeAction{&protocol.CodeAction{Title: command.Title, Kind: &kind, Command: command}}
}

// viewForActions is a view that tries remedies for as long as ctx lasts.
func (s *server) viewForActions(ctx context.Context, q *question) (*ide.View, error) {
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil {
		return nil, err
	}
	v.NewFiles = s.can.createFiles && q.doc != nil && q.plan.own.real != ""
	trials, err := q.plan.trials(ctx)
	if err != nil {
		return nil, err
	}
	v.Remedies = func(i int) []lint.Fix {
		fixes, _ := trials.For(ctx, i) // fails only where nobody waits for the answer any more
		return fixes
	}
	v.Try = func(p *schema.Plan) (*figures.Figures, error) { return v.Figures.Try(ctx, p) }
	v.Bears = func(edits []schema.Edit, was map[string]string) (*figures.Figures, bool) {
		fig, ok, _ := trials.Bears(ctx, edits, was) // as above
		return fig, ok
	}
	return v, nil
}

// searchRemedies tries the remedies of what is found in the document edited
// last, until the plan is edited: they stay with it, and whoever asks has them
// at once.
func (s *server) searchRemedies(snap *snapshot) {
	key := s.edited.Load()
	if key == nil {
		return
	}
	q, ok := snap.about(*key)
	if !ok {
		return
	}
	q = q.judged()
	ctx, end := q.plan.whileNewest(s.life)
	defer end()
	v, err := s.viewForActions(ctx, q)
	if err != nil {
		return // edited, over, or a defect that the findings tell of
	}
	for i := range v.Findings {
		if _, _, here := v.File.Range(v.Findings[i].At); here && ctx.Err() == nil {
			v.Remedies(i)
		}
	}
}

// actions lists the actions of a selection of the kinds that are asked for.
// When the plan is edited they are not to the point any more: that is an error.
func (s *server) actions(ctx context.Context, q *question, at protocol.Range, only []protocol.CodeActionKind) (*ide.View, []ide.Action, error) {
	ctx, end := q.plan.whileNewest(ctx)
	defer end()
	v, err := s.viewForActions(ctx, q)
	if err != nil {
		return nil, nil, cmp.Or(context.Cause(ctx), err)
	}
	v.Wants = func(kind string) bool { return wanted(kind, only) }
	all := ide.Actions(v, s.stretch(q, at))
	if edits, solves := ide.FixAllNotation(v, ""); len(edits) > 0 {
		all = append(all, ide.Action{Title: "Mend everything in this file that has one safe remedy", Kind: ide.FixAll, Edits: edits, Solves: solves})
	}
	return v, slices.DeleteFunc(all, func(a ide.Action) bool { return !wanted(a.Kind, only) }), context.Cause(ctx)
}

// wanted reports whether a kind is among those asked for: the kind itself or
// one that it is a part of. Asked for nothing, everything is.
func wanted(kind string, only []protocol.CodeActionKind) bool {
	if len(only) == 0 {
		return true
	}
	return slices.ContainsFunc(only, func(k protocol.CodeActionKind) bool {
		return k == "" || kind == string(k) || strings.HasPrefix(kind, string(k)+".") || kind == ide.FixAll && k == fixAllOurs
	})
}

// solved picks from the client's diagnostics the ones that an action solves.
func (s *server) solved(v *ide.View, q *question, a ide.Action, shown []protocol.Diagnostic) []protocol.Diagnostic {
	var out []protocol.Diagnostic
	for _, i := range a.Solves {
		f := &v.Findings[i]
		for _, d := range shown {
			if d.Code == protocol.String(f.Rule) && d.Message == protocol.InlayHintTooltip(protocol.String(ide.Shown(f))) {
				out = append(out, d)
			}
		}
	}
	return out
}

// CodeActionResolve gives an action its edit, worked out on the current text.
func (s *server) CodeActionResolve(ctx context.Context, action *protocol.CodeAction) (*protocol.CodeAction, error) {
	var data actionData
	if len(action.Data) == 0 || json.Unmarshal(action.Data, &data) != nil {
		return action, nil
	}
	edit, err := s.editOf(ctx, data)
	if err != nil {
		return nil, err
	}
	action.Edit = edit
	return action, nil
}

// editOf works the edit of an action out again.
func (s *server) editOf(ctx context.Context, data actionData) (*protocol.WorkspaceEdit, error) {
	q, ok := s.about(ctx, data.URI)
	if !ok {
		return nil, failed(errNoDocument)
	}
	q = q.judged()
	switch data.Title {
	case sizeTitle:
		return s.sizeEdit(ctx, q)
	case mendTitle:
		return s.mendEdit(ctx, q)
	}
	_, actions, err := s.actions(ctx, q, data.Range, []protocol.CodeActionKind{protocol.CodeActionKind(data.Kind)})
	if err != nil {
		return nil, err
	}
	for _, a := range actions {
		if a.Kind == data.Kind && a.Title == data.Title {
			return s.workspaceEdit(q.plan, a.Edits), nil
		}
	}
	return nil, fmt.Errorf("%q is not to be done any more: %w", data.Title, protocol.ErrContentModified)
}

// explanations offers the pages of the rules at a selection to clients that
// cannot follow the link of a finding.
func (s *server) explanations(v *ide.View, q *question, params *protocol.CodeActionParams) []protocol.CommandOrCodeAction {
	if s.can.codeLink && s.can.virtualDocuments || !wanted(ide.QuickFix, params.Context.Only) || q.doc == nil {
		return nil
	}
	stretch := s.stretch(q, params.Range)
	seen := map[string]bool{}
	var out []protocol.CommandOrCodeAction
	for _, d := range ide.Diagnostics(v, lint.Hint) {
		if !d.Explained || seen[d.Code] || d.Path != q.file.Text.Path() || d.Start > stretch.End || d.End < stretch.Start {
			continue
		}
		seen[d.Code] = true
		c := protocol.Command{Title: "Explain " + d.Code, Command: explainCommand, Arguments: []protocol.LSPAny{jsonData(d.Code)}}
		if s.can.actionLiterals {
			kind := protocol.CodeActionKind(ide.QuickFix)
			out = append(out, &protocol.CodeAction{Title: c.Title, Kind: &kind, Command: c})
		} else {
			out = append(out, &c)
		}
	}
	return out
}
