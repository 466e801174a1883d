package server

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// One action mends what has one safe remedy in all plans of the workspace, and where nothing mends a finding about fire or
// shock, what feeds the block is shown before anything allows it.
func TestMendAll(t *testing.T) {
	const slip = "plan \"a\" { mains = \"230,0 V\" }\n"
	e := start(t, "", setup{capabilities: `{"workspace": {"applyEdit": true}, "textDocument": {"codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": ["quickfix", "source"]}}}}}`})
	u := e.openText("a/a.ohm.hcl", slip)
	e.openText("b/b.ohm.hcl", strings.Replace(slip, `"a"`, `"b"`, 1))
	at := protocol.TextDocumentIdentifier{URI: u}
	got, err := e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: at, Context: protocol.CodeActionContext{Only: []protocol.CodeActionKind{mendKind}}})
	e.must(err)
	if len(got) != 1 {
		t.Fatalf("offered %s", wire(t, got))
	}
	c := got[0].(*protocol.CodeAction).Command
	_, err = e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
	e.must(err)
	e.mu.Lock()
	edit := wire(t, e.applied[0].Edit)
	e.mu.Unlock()
	if strings.Count(edit, "230.0 V") != 2 {
		t.Errorf("applied %s", edit)
	}

	u = e.openText("c/c.ohm.hcl", `plan "c" { mains = "230 V" }

strip "led" { like = catalog.ws2812b_5v_60 }

supply "s" {
  output = "60 V"
  rating = "8 A"
  input  = ["230 V"]
}

run "low" {
  strip  = strip.led
  length = "1 m"
}

lead "low" {
  from   = supply.s.out
  to     = run.low.start
  wire   = catalog.awg_18
  length = "1 m"
}
`)
	got, err = e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Range: protocol.Range{Start: protocol.Position{Line: 11, Character: 12}, End: protocol.Position{Line: 11, Character: 12}},
		Context: protocol.CodeActionContext{Only: []protocol.CodeActionKind{ide.QuickFix}}})
	e.must(err)
	var titles []string
	for _, x := range got {
		titles = append(titles, x.(*protocol.CodeAction).Title)
	}
	all := strings.Join(titles, "\n")
	if !strings.Contains(all, "Show what feeds run.low\nAllow supply-voltage-mismatch here") {
		t.Errorf("offered\n%s", all)
	}
}
