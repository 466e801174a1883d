package server

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// everywhere are requests at a place of a document.
var everywhere = []string{
	"textDocument/hover", "textDocument/completion", "textDocument/signatureHelp", "textDocument/definition", "textDocument/typeDefinition",
	"textDocument/references", "textDocument/documentHighlight", "textDocument/prepareRename", "textDocument/rename", "textDocument/documentSymbol",
	"textDocument/foldingRange", "textDocument/selectionRange", "textDocument/documentLink", "textDocument/formatting",
	"textDocument/rangeFormatting", "textDocument/onTypeFormatting", "textDocument/codeAction", "textDocument/codeLens", "textDocument/inlayHint",
	"textDocument/semanticTokens/full", "textDocument/semanticTokens/full/delta", "textDocument/semanticTokens/range", "textDocument/documentColor",
	"textDocument/colorPresentation", "textDocument/prepareCallHierarchy", "textDocument/linkedEditingRange", "textDocument/diagnostic", "workspace/symbol", "workspace/executeCommand",
	"workspace/textDocumentContent", "completionItem/resolve", "codeAction/resolve", "codeLens/resolve", "callHierarchy/incomingCalls", "callHierarchy/outgoingCalls",
}

// question is params that every method of everywhere takes for its own.
func anyParams(u string, line, char uint32) map[string]any {
	place := map[string]any{"line": line, "character": char}
	stretch := map[string]any{"start": place, "end": map[string]any{"line": line, "character": uint32(math.MaxUint32)}}
	return map[string]any{
		"textDocument": map[string]any{"uri": u}, "position": place, "range": stretch, "positions": []any{place}, "ch": "\n", "newName": "x y\"",
		"context": map[string]any{"includeDeclaration": true, "diagnostics": []any{}}, "options": map[string]any{"tabSize": 4, "insertSpaces": true},
		"color": map[string]any{"red": math.MaxFloat32, "green": -1, "blue": 0.5, "alpha": 1}, "previousResultId": "none", "query": "a\x00*(",
		"command": "ohmstead.explain", "arguments": []any{map[string]any{"a": 1}}, "uri": u, "label": "x", "title": "x", "data": map[string]any{"a": []int{1}},
		"item": map[string]any{"name": "x", "kind": 1, "uri": u, "range": stretch, "selectionRange": stretch, "data": "nonsense"},
	}
}

func TestHostileClient(t *testing.T) {
	e := start(t, porch, setup{nonsense: true})
	u := e.open("porch/porch.ohm.hcl")
	defects := func() int {
		e.mu.Lock()
		defer e.mu.Unlock()
		n := 0
		for _, l := range e.logs {
			if strings.Contains(l, "a defect") {
				n++
				t.Error(l)
			}
		}
		return n
	}
	t.Run("places out of range, and documents that are not there", func(t *testing.T) {
		for _, m := range everywhere {
			for _, doc := range []string{string(u), "file:///nowhere/x.ohm.hcl", "untitled:x", "ohmstead-catalog:///strips.ohm.hcl", "ohmstead-catalog:///none", "", "%%%"} {
				for _, line := range []uint32{0, 3, math.MaxInt32, math.MaxUint32} {
					_, err := e.conn.Call(e.ctx(), m, anyParams(doc, line, math.MaxUint32-line), nil)
					if c := code(err); c == jsonrpc2.InternalError || err != nil && c == 0 {
						t.Errorf("%s in %q: %v", m, doc, err)
					}
				}
			}
		}
		for _, c := range []string{
			`{"textDocument": {"uri": %q, "version": 2}, "contentChanges": [{"range": {"start": {"line": 9999, "character": 4294967295}, "end": {"line": 0, "character": 0}}, "text": "x"}]}`,
			`{"textDocument": {"uri": %q, "version": -5}, "contentChanges": [{"range": null, "text": "y"}, {"text": "plan \"porch\" {\n"}, {"range": {"start": {"line": 4294967295, "character": 1}, "end": {"line": 4294967295, "character": 0}}, "text": "}\n"}]}`,
			`{"textDocument": {"uri": %q, "version": 3}, "contentChanges": []}`,
			`{"textDocument": {"uri": %q, "version": 3}}`,
			`{"textDocument": {"uri": %q, "version": 2147483648}, "contentChanges": null}`,
		} {
			e.must(e.conn.Notify(e.ctx(), "textDocument/didChange", jsonrpc2.RawMessage(fmt.Sprintf(c, u))))
		}
		defects()
	})
	t.Run("a flood of requests and cancellations", func(t *testing.T) {
		var wg sync.WaitGroup
		for i := range 2000 {
			wg.Go(func() {
				ctx, cancel := context.WithCancel(e.ctx())
				go cancel()
				m := everywhere[i%len(everywhere)]
				_ = protocol.Call(ctx, e.conn, m, anyParams(string(u), uint32(i%9), 2), nil) // answered or cancelled
			})
			if i%10 == 0 {
				e.must(e.conn.Notify(e.ctx(), "$/cancelRequest", map[string]any{"id": rand.IntN(4000)}))
				e.must(e.conn.Notify(e.ctx(), "$/cancelRequest", map[string]any{"id": "x"}))
				e.replace(u, int32(i), e.read("porch/porch.ohm.hcl")+strings.Repeat("#\n", i%7))
			}
		}
		wg.Wait()
		defects()
	})
	t.Run("opened twice, closed twice", func(t *testing.T) {
		e.openURI(u, "plan \"porch\" {\n")
		e.openURI(u, "plan \"porch\" {}\n")
		for range 2 {
			e.must(e.DidClose(e.ctx(), &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}))
		}
		e.replace(u, 9, "not open")
		defects()
	})
	t.Run("ten megabytes", func(t *testing.T) {
		big := e.openText("porch/big.ohm.hcl", strings.Repeat("run \"a\" {\n  length = \"2 m\"\n}\n", 10<<20/28))
		e.eventually("it is refused", func() bool { return e.shown[big] != nil && len(e.shown[big].Diagnostics) == 1 })
		for _, m := range everywhere {
			if _, err := e.conn.Call(e.ctx(), m, anyParams(string(big), 1000, 3), nil); code(err) == jsonrpc2.InternalError {
				t.Errorf("%s: %v", m, err)
			}
		}
		deep := e.openText("porch/deep.ohm.hcl", "let {\n  a = "+strings.Repeat("[", 100_000)+"\n}\n")
		e.eventually("it is refused", func() bool { return e.shown[deep] != nil && len(e.shown[deep].Diagnostics) >= 1 })
		defects()
	})
	t.Run("gone in the middle", func(t *testing.T) {
		for range 50 {
			go e.conn.Call(context.Background(), "textDocument/completion", anyParams(string(u), 2, 3), nil)
		}
		e.hangUp()
		if err := e.end(); err != nil {
			t.Errorf("ended with %v", err)
		}
	})
}
