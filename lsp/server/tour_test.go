package server

import (
	"encoding/json"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/protocol"

	"ohmstead/calc/thorough"
	"ohmstead/schema/plans"
)

// middling is a client as they were some years ago: it knows most features in
// the form that they had when they were new.
const middling = `{
	"general": {"positionEncodings": ["utf-32", "utf-16"]},
	"window": {"workDoneProgress": true},
	"workspace": {
		"applyEdit": true, "workspaceFolders": true, "workspaceEdit": {"documentChanges": true},
		"didChangeConfiguration": {}, "didChangeWatchedFiles": {"dynamicRegistration": true}, "codeLens": {}
	},
	"textDocument": {
		"publishDiagnostics": {"relatedInformation": true},
		"completion": {"completionItem": {"documentationFormat": ["plaintext"]}},
		"hover": {"contentFormat": ["plaintext"]},
		"signatureHelp": {"signatureInformation": {"documentationFormat": ["plaintext"]}},
		"codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": ["", "quickfix", "refactor"]}}, "isPreferredSupport": true},
		"rename": {"prepareSupport": true},
		"foldingRange": {"rangeLimit": 5, "lineFoldingOnly": true},
		"semanticTokens": {"requests": {"full": true}, "tokenTypes": [], "tokenModifiers": [], "formats": ["relative"]}
	}
}`

// rich takes everything that the protocol has for a server, by bytes, and asks
// for findings itself.
var rich = strings.NewReplacer(
	`"positionEncodings": ["utf-16"]`, `"positionEncodings": ["utf-8", "utf-16"]`,
	`"hover":`, `"diagnostic": {"relatedDocumentSupport": true, "relatedInformation": true, "codeDescriptionSupport": true, "dataSupport": true, "tagSupport": {"valueSet": [1, 2]}}, "hover":`,
	`"snippetSupport": true`, `"snippetSupport": true, "preselectSupport": true, "tagSupport": {"valueSet": [1]}`,
	`"completion": {`, `"completion": {"completionItemKind": {"valueSet": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25]}, `,
).Replace(capable)

// TestEveryMessage asks everything at many places of plans, sound, broken and
// half typed, as three clients. What comes is held against the published
// protocol by the conversation that every client of these tests has.
func TestEveryMessage(t *testing.T) {
	for _, client := range []struct{ name, capabilities, options string }{
		{"poor", "{}", ""},
		{"middling", middling, ""},
		{"rich", rich, `{"suggestCommand": "suggest", "hover": {"pictures": true}}`},
	} {
		t.Run(client.name, func(t *testing.T) {
			e := start(t, "", setup{capabilities: client.capabilities, options: client.options})
			for _, name := range []string{"testdata/plans/bookcase", "testdata/shortforms/word", "editors/testdata/broken", "testdata/broken/porch-arch"} {
				e.tour(filepath.Join("../..", name))
			}
			e.openText("half/a.ohm.hcl", "plan \"é😀\" {}\nlet {\n  wide = \"2 m\"\n}\nrun \"ö😀\" {\n  strip = strip.\n  length = scale(\"1.2 m\", \n}\nlead \"a\" {\n  from = run.ö😀.\n  wi\n}\n\nsup\n")
			e.visit("half/a.ohm.hcl")
			e.must(e.Shutdown(e.ctx()))

			e.talk.mu.Lock()
			defer e.talk.mu.Unlock()
			heard := slices.Sorted(maps.Keys(e.talk.heard))
			for method := range methodsAsked {
				if e.talk.heard[method] == nil {
					t.Errorf("%s was never answered; heard: %v", method, heard)
				}
			}
			structures := map[string]bool{}
			for _, made := range e.talk.heard {
				maps.Copy(structures, made)
			}
			t.Logf("%d methods, %d structures of the protocol: %v", len(heard), len(structures), slices.Sorted(maps.Keys(structures)))
		})
	}
}

// methodsAsked are what is asked at each place, with params beside those of
// anyParams; true is for the whole document.
var methodsAsked = map[string]bool{
	"textDocument/hover": false, "textDocument/completion": false, "textDocument/signatureHelp": false, "textDocument/definition": false,
	"textDocument/typeDefinition": false, "textDocument/references": false, "textDocument/documentHighlight": false, "textDocument/prepareRename": false,
	"textDocument/rename": false, "textDocument/selectionRange": false, "textDocument/codeAction": false, "textDocument/prepareCallHierarchy": false, "textDocument/linkedEditingRange": false,
	"textDocument/onTypeFormatting": false, "textDocument/rangeFormatting": true,
	"textDocument/documentSymbol": true, "textDocument/foldingRange": true, "textDocument/documentLink": true, "textDocument/formatting": true,
	"textDocument/codeLens": true, "textDocument/inlayHint": true, "textDocument/semanticTokens/full": true, "textDocument/semanticTokens/range": true,
	"textDocument/documentColor": true, "workspace/symbol": true,
}

// tour opens the files of a plan and asks everything.
func (e *editor) tour(dir string) {
	e.t.Helper()
	var names []string
	e.must(filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, plans.Suffix) {
			name := filepath.Join(filepath.Base(dir), must(filepath.Rel(dir, path)))
			text := string(must(os.ReadFile(path)))
			// A character of four bytes, so that no encoding is as good as another.
			e.write(name, strings.Replace(text, "title", "note  = \"😀é\"\n  title", 1))
			names = append(names, filepath.ToSlash(name))
		}
		return err
	}))
	for _, name := range names {
		e.open(name)
	}
	for _, name := range names {
		e.visit(name)
	}
}

// visit asks everything of an open document.
func (e *editor) visit(name string) {
	u := string(e.uri(name))
	e.talk.mu.Lock()
	text := e.talk.docs[canonical(u)].newest().lines
	e.talk.mu.Unlock()
	ask := func(method string, params map[string]any) (answer any) {
		e.t.Helper()
		var raw json.RawMessage
		_, err := e.conn.Call(e.ctx(), method, protocol.LSPAny(must(json.Marshal(params))), &raw)
		if c := code(err); err != nil && c != codeRequestFailed && c != protocol.CodeContentModified {
			e.t.Errorf("%s: %v", method, err)
		}
		return parsed(raw)
	}
	last := map[string]any{"line": len(text.starts) - 1, "character": 0}
	whole := anyParams(u, 0, 0)
	whole["range"] = map[string]any{"start": map[string]any{"line": 0, "character": 0}, "end": last}
	whole["query"] = ""
	for method, all := range methodsAsked {
		if all {
			answer := ask(method, whole)
			if method == "textDocument/codeLens" {
				for _, lens := range some(answer, 3) {
					ask("codeLens/resolve", lens)
				}
			}
			if method == "textDocument/documentColor" {
				for _, c := range some(answer, 2) {
					p := maps.Clone(whole)
					p["range"], p["color"] = c["range"], c["color"]
					ask("textDocument/colorPresentation", p)
				}
			}
			if id := of(answer, "resultId"); id != nil {
				p := maps.Clone(whole)
				p["previousResultId"] = id
				ask("textDocument/semanticTokens/full/delta", p)
			}
		}
	}
	if e.init.Capabilities.DiagnosticProvider != nil {
		p := maps.Clone(whole)
		delete(p, "previousResultId")
		ask("textDocument/diagnostic", p)
		ask("workspace/diagnostic", map[string]any{"previousResultIds": []any{}})
	}
	step := max(1, len(text.starts)/thorough.Or(60, 4))
	for line := 0; line < len(text.starts); line += step {
		s := text.text[text.starts[line]:text.ends[line]]
		for _, column := range []int{0, strings.Index(s, `"`) + 1, strings.Index(s, "=") + 2, strings.Index(s, ".") + 1, len(s)} {
			if column > len(s) || !strings.HasPrefix(s[column:], strings.ToValidUTF8(s[column:], "")) {
				continue
			}
			p := anyParams(u, uint32(line), uint32(text.units(s[:column])))
			p["newName"] = "other"
			p["ch"] = "}"
			p["range"] = map[string]any{"start": p["position"], "end": p["position"]}
			for method, all := range methodsAsked {
				if !all {
					e.further(ask, method, ask(method, p))
				}
			}
		}
	}
}

// further asks what follows from an answer.
func (e *editor) further(ask func(string, map[string]any) any, method string, answer any) {
	next := map[string]string{"textDocument/completion": "completionItem/resolve", "textDocument/codeAction": "codeAction/resolve"}[method]
	if method == "textDocument/completion" {
		answer = of(answer, "items")
	}
	for _, item := range some(answer, 4) {
		switch {
		case next == "codeAction/resolve" && item["data"] == nil: // a command, or whole already
			if name, bare := item["command"].(string); bare && name == explainCommand {
				ask("workspace/executeCommand", map[string]any{"command": name, "arguments": item["arguments"]})
			}
		case next != "":
			ask(next, item)
		case method == "textDocument/prepareCallHierarchy":
			ask("callHierarchy/incomingCalls", map[string]any{"item": item})
			ask("callHierarchy/outgoingCalls", map[string]any{"item": item})
		}
	}
}

// some are a few objects of a list, from all over it.
func some(list any, most int) (out []map[string]any) {
	all, _ := list.([]any)
	for i := 0; i < len(all); i += len(all)/most + 1 {
		if o, ok := all[i].(map[string]any); ok {
			out = append(out, o)
		}
	}
	return out
}
