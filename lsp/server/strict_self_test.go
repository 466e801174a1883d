package server

import (
	"fmt"
	"strings"
	"testing"

	"go.lsp.dev/jsonrpc2"
)

// Breaches of the protocol, and what the conversation says of each: a listener
// that hears nothing would let all tests pass.
func TestConversationHears(t *testing.T) {
	const doc = `{"uri": "file:///a.ohm.hcl"}`
	at := func(more string) string {
		return `{"textDocument": ` + doc + `, "position": {"line": 1, "character": 2}` + more + `}`
	}
	r := func(line1, char1, line2, char2 int) string {
		return fmt.Sprintf(`{"start": {"line": %d, "character": %d}, "end": {"line": %d, "character": %d}}`, line1, char1, line2, char2)
	}
	for _, c := range []struct{ can, method, params, answer, want string }{
		{`{}`, "textDocument/hover", at(""), `{"contents": {"kind": "plaintext", "value": "x"}, "range": ` + r(1, 0, 1, 4) + `}`, ""},
		{`{}`, "textDocument/hover", at(""), `{"contents": {"kind": "markdown", "value": "x"}}`, "Markdown"},
		{`{}`, "textDocument/hover", at(""), `{"contents": {"kind": "html", "value": "x"}}`, "is no MarkupKind"},
		{`{}`, "textDocument/hover", at(""), `{"range": ` + r(1, 0, 1, 4) + `}`, "Hover lacks contents"},
		{`{}`, "textDocument/hover", at(""), `{"contents": "x", "colour": 1}`, "has no property colour"},
		{`{}`, "textDocument/hover", at(""), `{"contents": "x", "range": ` + r(0, 0, 0, 1) + `}`, "asked at"},
		{`{}`, "textDocument/hover", at(""), `{"contents": "x", "range": ` + r(1, 0, 1, 9) + `}`, "no place in"},
		{`{}`, "textDocument/hover", at(""), `{"contents": "x", "range": ` + r(1, 2, 1, 5) + `}`, "no place in"}, // within a pair of units
		{`{}`, "textDocument/hover", at(""), `[]`, "where Hover belongs"},
		{`{}`, "textDocument/completion", at(""), `[{"label": "x", "insertTextFormat": 2}]`, "a snippet"},
		{`{}`, "textDocument/completion", at(""), `[{"label": "x", "kind": 20}]`, "does not know the kind 20"},
		{`{}`, "textDocument/completion", at(""), `[{"label": "x", "kind": 99}]`, "is no CompletionItemKind"},
		{`{}`, "textDocument/completion", at(""), `[{"label": "x", "textEdit": {"newText": "y", "range": ` + r(0, 0, 1, 3) + `}}]`, "replaces"},
		{`{}`, "textDocument/definition", at(""), `[{"targetUri": "file:///a.ohm.hcl", "targetRange": ` + r(0, 0, 0, 1) + `, "targetSelectionRange": ` + r(0, 0, 0, 1) + `}]`, "a link"},
		{`{}`, "textDocument/definition", at(""), `{"uri": "a.ohm.hcl", "range": ` + r(0, 0, 0, 1) + `}`, "is no DocumentUri"},
		{`{}`, "textDocument/rename", at(`, "newName": "x"`), `{"documentChanges": []}`, "workspaceEdit.documentChanges"},
		{`{}`, "textDocument/rename", at(`, "newName": "x"`), `{"changes": {"file:///a.ohm.hcl": [{"newText": "", "range": ` + r(0, 0, 0, 2) + `}, {"newText": "", "range": ` + r(0, 1, 0, 3) + `}]}}`, "overlap"},
		{`{"workspace": {"workspaceEdit": {"documentChanges": true}}}`, "textDocument/rename", at(`, "newName": "x"`), `{"documentChanges": [{"textDocument": {"uri": "file:///a.ohm.hcl", "version": 7}, "edits": []}]}`, "version 7"},
		{`{}`, "textDocument/codeAction", at(`, "context": {"diagnostics": []}`), `[{"title": "x", "command": {"title": "x", "command": "dance"}}]`, "which nobody has"},
		{`{}`, "textDocument/semanticTokens/full", at(""), `{"data": [0, 0, 9, 0, 0]}`, "not in the text"},
		{`{}`, "textDocument/semanticTokens/full", at(""), `{"data": [0, 0, 3, 5, 0]}`, "not in the legend"},
		{`{}`, "textDocument/semanticTokens/full", at(""), `{"data": [0, 0, 3, 0, 0, 0, 2, 1, 0, 0]}`, "overlaps"},
		{`{}`, "textDocument/selectionRange", at(`, "positions": [{"line": 0, "character": 0}, {"line": 1, "character": 0}]`), `[{"range": ` + r(0, 0, 0, 1) + `}]`, "1 ranges for 2 positions"},
		{`{}`, "textDocument/documentSymbol", at(""), `[{"name": "x", "kind": 5, "range": ` + r(0, 0, 0, 1) + `, "selectionRange": ` + r(0, 0, 0, 1) + `}]`, "hierarchicalDocumentSymbolSupport"},
		{`{}`, "", "window/showDocument", `{"uri": "file:///a"}`, "without window.showDocument.support"},
		{`{}`, "", "client/registerCapability", `{"registrations": [{"id": "1", "method": "workspace/didChangeConfiguration"}]}`, "does not take that"},
		{`{}`, "", "$/progress", `{"token": "t", "value": {"kind": "begin", "title": "x"}}`, `after ""`},
		{`{}`, "", "textDocument/publishDiagnostics", `{"uri": "file:///a.ohm.hcl", "version": 1, "diagnostics": []}`, "versionSupport"},
		{`{}`, "", "textDocument/dance", `{}`, "no message of a server"},
	} {
		m, err := publishedModel()
		if err != nil {
			t.Fatal(err)
		}
		talk := newConversation(m)
		client := func(n int64, method, params string) {
			talk.hear(false, jsonrpc2.NewCall(jsonrpc2.NewNumberID(n), method, jsonrpc2.RawMessage(params)))
		}
		answer := func(n int64, result string) {
			talk.hear(true, jsonrpc2.NewResponse(jsonrpc2.NewNumberID(n), jsonrpc2.RawMessage(result), nil))
		}
		client(1, "initialize", `{"capabilities": `+c.can+`}`)
		answer(1, `{"capabilities": {"semanticTokensProvider": {"legend": {"tokenTypes": ["a"], "tokenModifiers": []}}}}`)
		talk.hear(false, jsonrpc2.NewNotification("textDocument/didOpen", jsonrpc2.RawMessage(`{"textDocument": {"uri": "file:///a.ohm.hcl", "languageId": "x", "version": 1, "text": "one\ntwo 😀"}}`)))
		if c.method != "" {
			client(2, c.method, c.params)
			answer(2, c.answer)
		} else if strings.Contains(c.params, "Diagnostics") || strings.HasPrefix(c.params, "$") {
			talk.hear(true, jsonrpc2.NewNotification(c.params, jsonrpc2.RawMessage(c.answer)))
		} else {
			talk.hear(true, jsonrpc2.NewCall(jsonrpc2.NewNumberID(9), c.params, jsonrpc2.RawMessage(c.answer)))
		}
		if got := strings.Join(talk.wrong, "\n"); c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s %s: hears %q, want %q", c.method, c.answer, got, c.want)
		}
	}
}
