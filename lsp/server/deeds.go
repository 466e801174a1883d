package server

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint/limits"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
)

// What lenses do, by name. Each takes the URI of a document, and where it is about a
// block then the block's address.
const (
	// nextCommand goes to the next finding of the document's plan, from the one that it
	// went to last.
	nextCommand = "ohmstead.next"
	// caseCommand has figures shown in the load case of that name or, without one, in
	// the plan's next; it gives the name.
	caseCommand = "ohmstead.case"
	// feedsCommand tells what feeds a block, from it back to the supplies.
	feedsCommand = "ohmstead.feeds"
	// limitsCommand tells how far the values of a block, or of all blocks, may go.
	limitsCommand = "ohmstead.limits"
)

var deedCommands = map[ide.Deed]string{
	ide.NextFinding: nextCommand, ide.NextCase: caseCommand, ide.TellFeeds: feedsCommand, ide.TellLimits: limitsCommand, ide.ShowPlan: viewCommand,
}

// command is what a lens does when it is clicked.
func command(u uri.URI, l ide.Lens) protocol.Command {
	c := protocol.Command{Title: l.Title, Command: deedCommands[l.Do]}
	if l.Do != "" {
		c.Arguments = []protocol.LSPAny{jsonData(u)}
	}
	if l.About != "" {
		c.Arguments = append(c.Arguments, jsonData(l.About))
	}
	return c
}

// deed does what a lens offers.
func (s *server) deed(ctx context.Context, params *protocol.ExecuteCommandParams) (protocol.LSPAny, error) {
	var u uri.URI
	var about string
	for i, into := range []any{&u, &about} {
		if i < len(params.Arguments) {
			if err := json.Unmarshal(params.Arguments[i], into); err != nil {
				return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "an argument of %s: %v", params.Command, err)
			}
		}
	}
	q, ok := s.about(ctx, u)
	if !ok || q.root == nil {
		return nil, failed(errNoDocument)
	}
	q = q.judged()
	switch params.Command {
	case nextCommand:
		return s.next(ctx, q)
	case caseCommand:
		return s.switchCase(ctx, q, about)
	case feedsCommand:
		v, err := s.view(ctx, q, needFigures)
		if err != nil {
			return nil, err
		}
		return s.tell(ctx, ide.FeedText(v, about))
	}
	return s.limits(ctx, q, about)
}

// tell shows a text, and gives it.
func (s *server) tell(ctx context.Context, text string) (protocol.LSPAny, error) {
	_ = s.client.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: text}) // the text is the command's result too
	return jsonData(text), nil
}

// next shows the finding behind the one that was shown last; where there is none, the open question.
func (s *server) next(ctx context.Context, q *question) (protocol.LSPAny, error) {
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil {
		return nil, err
	}
	found := ide.Diagnostics(v, q.snap.settings.leastLevel())
	if len(found) == 0 {
		found = ide.OpenQuestions(v)
	}
	if len(found) == 0 {
		return s.tell(ctx, "nothing found")
	}
	place := func(d ide.Diagnostic) shownFinding { return shownFinding{q.plan.id, d.Path, d.Start, d.Code} }
	s.seen.Lock()
	i := slices.IndexFunc(found, func(d ide.Diagnostic) bool { return place(d).behind(s.seen.last) })
	d := found[max(i, 0)]
	s.seen.last = place(d)
	s.seen.Unlock()
	at, ok := s.location(q.plan, d.Location)
	if ok && s.can.showDocument {
		if r, err := s.client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: at.URI, TakeFocus: ptr(true), Selection: &at.Range}); err == nil && r != nil && r.Success {
			return jsonData(d.Message), nil
		}
	}
	return s.tell(ctx, fmt.Sprintf("%s:%d: %s", d.Path, at.Range.Start.Line+1, d.Message))
}

// shownFinding is where a finding stands.
type shownFinding struct {
	plan  planID
	path  string
	start int
	rule  string
}

// behind reports whether a finding comes behind another one of its plan.
func (f shownFinding) behind(o shownFinding) bool {
	return f.plan == o.plan && cmp.Or(strings.Compare(f.path, o.path), cmp.Compare(f.start, o.start), strings.Compare(f.rule, o.rule)) > 0
}

// switchCase has figures shown in another load case, until the settings are read again.
func (s *server) switchCase(ctx context.Context, q *question, name string) (protocol.LSPAny, error) {
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, c := range v.Figures.Cases {
		names = append(names, c.Name)
	}
	if name == "" {
		now := slices.Index(names, q.snap.settings.Hints.Case)
		if now < 0 {
			now = slices.Index(names, schema.Full)
		}
		name = names[(now+1)%len(names)]
	}
	if !slices.Contains(names, name) {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no case %q; there are %s", name, strings.Join(names, ", "))
	}
	s.change(func(snap *snapshot, _ *disk) *snapshot {
		next := snap.clone()
		next.settings.Hints.Case = name
		return next
	})
	s.beside("refreshing", s.refreshAll)
	return jsonData(name), nil
}

// limits works out how far values may go, until the plan is edited.
func (s *server) limits(ctx context.Context, q *question, about string) (protocol.LSPAny, error) {
	ctx, end := q.plan.whileNewest(ctx)
	defer end()
	v, err := s.view(ctx, q, needFigures)
	if err != nil {
		return nil, cmp.Or(context.Cause(ctx), err)
	}
	if partial(v.Figures) {
		return nil, failed(errors.New("parts of the plan could not be read, so that there are no limits"))
	}
	q.plan.limited.CompareAndSwap(nil, limits.New(v.Plan, v.Figures, allRules()))
	l := q.plan.limited.Load()
	var told []string
	for _, k := range l.Knobs(about) {
		is, err := l.Find(ctx, k)
		if err != nil {
			return nil, cmp.Or(context.Cause(ctx), err)
		}
		told = append(told, k.Block()+" "+is.Say())
	}
	if len(told) == 0 {
		return s.tell(ctx, "there is no value of "+about+" whose limits are told")
	}
	return s.tell(ctx, strings.Join(told, "\n"))
}
