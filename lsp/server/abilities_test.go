package server

import (
	"slices"
	"testing"

	"go.lsp.dev/protocol"
)

// Each ability follows the client's own words, and what is missing, in part or
// refused is none.
func TestAbilities(t *testing.T) {
	lists := func(field func(*abilities) bool, none []string, one string) {
		t.Helper()
		for _, text := range append(none, "{}") {
			if field(abilitiesFrom(t, text)) {
				t.Errorf("%s gives the ability", text)
			}
		}
		if !field(abilitiesFrom(t, one)) {
			t.Errorf("%s does not give the ability", one)
		}
	}
	lists(func(a *abilities) bool { return a.showDocument }, []string{`{"window": {}}`, `{"window": {"showDocument": {"support": false}}}`}, `{"window": {"showDocument": {"support": true}}}`)
	lists(func(a *abilities) bool { return a.progress }, []string{`{"window": {"workDoneProgress": false}}`}, `{"window": {"workDoneProgress": true}}`)
	for name, field := range map[string]func(*abilities) bool{
		"didChangeConfiguration": func(a *abilities) bool { return a.watchConfig },
		"didChangeWatchedFiles":  func(a *abilities) bool { return a.watchFiles },
	} {
		lists(field, []string{`{"workspace": {"` + name + `": {}}}`, `{"workspace": {"` + name + `": {"dynamicRegistration": false}}}`}, `{"workspace": {"`+name+`": {"dynamicRegistration": true}}}`)
	}
	for name, field := range map[string]func(*abilities) bool{
		"diagnostics": func(a *abilities) bool { return a.pullRefresh },
		"codeLens":    func(a *abilities) bool { return a.lensRefresh },
		"inlayHint":   func(a *abilities) bool { return a.hintRefresh },
	} {
		lists(field, []string{`{"workspace": {}}`, `{"workspace": {"` + name + `": {}}}`, `{"workspace": {"` + name + `": {"refreshSupport": false}}}`}, `{"workspace": {"`+name+`": {"refreshSupport": true}}}`)
	}
	lists(func(a *abilities) bool { return a.documentChanges }, []string{`{"workspace": {"workspaceEdit": {"documentChanges": false}}}`}, `{"workspace": {"workspaceEdit": {"documentChanges": true}}}`)
	for name, field := range map[string]func(*abilities) bool{
		"definition":     func(a *abilities) bool { return a.definitionLinks },
		"typeDefinition": func(a *abilities) bool { return a.typeLinks },
	} {
		lists(field, []string{`{"textDocument": {"` + name + `": {}}}`, `{"textDocument": {"` + name + `": {"linkSupport": false}}}`}, `{"textDocument": {"`+name+`": {"linkSupport": true}}}`)
	}
	lists(func(a *abilities) bool { return a.hierarchy }, []string{`{"textDocument": {"documentSymbol": {}}}`}, `{"textDocument": {"documentSymbol": {"hierarchicalDocumentSymbolSupport": true}}}`)
	lists(func(a *abilities) bool { return a.prepareRename }, []string{`{"textDocument": {"rename": {}}}`}, `{"textDocument": {"rename": {"prepareSupport": true}}}`)
	lists(func(a *abilities) bool { return a.actionResolve }, []string{
		`{"textDocument": {"codeAction": {"resolveSupport": {"properties": ["edit"]}}}}`, // the client would not keep what is needed for it
		`{"textDocument": {"codeAction": {"dataSupport": true, "resolveSupport": {"properties": ["command"]}}}}`,
	}, `{"textDocument": {"codeAction": {"dataSupport": true, "resolveSupport": {"properties": ["edit"]}}}}`)
	lists(func(a *abilities) bool { return a.labelOffsets }, []string{
		`{"textDocument": {"signatureHelp": {"signatureInformation": {}}}}`,
		`{"textDocument": {"signatureHelp": {"signatureInformation": {"parameterInformation": {}}}}}`,
	}, `{"textDocument": {"signatureHelp": {"signatureInformation": {"parameterInformation": {"labelOffsetSupport": true}}}}}`)
	lists(func(a *abilities) bool { return a.foldLimit == 50 }, []string{`{"textDocument": {"foldingRange": {}}}`}, `{"textDocument": {"foldingRange": {"rangeLimit": 50}}}`)
	lists(func(a *abilities) bool { return slices.Contains(a.tags, protocol.DiagnosticTagUnnecessary) }, nil,
		`{"textDocument": {"publishDiagnostics": {"tagSupport": {"valueSet": [1]}}}}`)
}

func abilitiesFrom(t *testing.T, text string) *abilities {
	t.Helper()
	var c protocol.ClientCapabilities
	if err := protocol.Unmarshal([]byte(text), &c); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return abilitiesOf(&c)
}
