package server

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lsp/ide"
)

// The commands that a client can have executed.
const (
	// explainCommand takes a rule's name, shows what there is to say about it,
	// and gives it as Markdown.
	explainCommand = "ohmstead.explain"
	// applyCommand takes an action, for clients that know no actions with
	// edits, and has the client make its edit.
	applyCommand = "ohmstead.apply"
	// viewCommand takes the URI of a document, or nothing, and shows its plan on
	// the live page; it gives the page's address. A second argument, false, keeps
	// the browser closed.
	viewCommand = "ohmstead.view"
)

var commands = []string{explainCommand, applyCommand, viewCommand, nextCommand, caseCommand, feedsCommand, limitsCommand}

// ExecuteCommand does what an action or a user asks for by name.
func (s *server) ExecuteCommand(ctx context.Context, params *protocol.ExecuteCommandParams) (protocol.LSPAny, error) {
	switch params.Command {
	case explainCommand:
		var name string
		if err := argument(params, &name); err != nil {
			return nil, err
		}
		r, ok := lint.RuleNamed(allRules(), name)
		if !ok {
			return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no rule %q", name)
		}
		text := ide.Explain(r)
		s.showRule(ctx, name, text)
		return jsonData(text), nil
	case viewCommand:
		return s.showPage(ctx, params)
	case nextCommand, caseCommand, feedsCommand, limitsCommand:
		return s.deed(ctx, params)
	case applyCommand:
		var data actionData
		if err := argument(params, &data); err != nil {
			return nil, err
		}
		edit, err := s.editOf(ctx, data)
		if err != nil {
			return nil, err
		}
		got, err := s.client.ApplyEdit(ctx, &protocol.ApplyWorkspaceEditParams{Label: &data.Title, Edit: *edit})
		if err != nil {
			return nil, err
		}
		if !got.Applied {
			return nil, failed(fmt.Errorf("the editor did not make the change %q", data.Title))
		}
		return nil, nil
	}
	return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no command %q; there are %s", params.Command, quantity.List(commands))
}

// argument reads a command's only argument.
func argument(params *protocol.ExecuteCommandParams, into any) error {
	if len(params.Arguments) != 1 {
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s takes one argument, not %d", params.Command, len(params.Arguments))
	}
	if err := json.Unmarshal(params.Arguments[0], into); err != nil {
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "the argument of %s: %v", params.Command, err)
	}
	return nil
}

// showRule shows a rule's page: as a document where the client can, else as a message.
func (s *server) showRule(ctx context.Context, name, text string) {
	if s.can.showDocument && s.can.virtualDocuments {
		if r, err := s.client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: ruleURI(name), TakeFocus: ptr(true)}); err == nil && r != nil && r.Success {
			return
		}
	}
	_ = s.client.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: markup(false, text).Value}) // the text is the command's result too
}
