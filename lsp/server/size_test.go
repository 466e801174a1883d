package server

import (
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/protocol"

	"ohmstead/lsp/ide"
)

// On the plan block there is an action that searches the sizes once it is
// taken; elsewhere there is none, and a plan that is edited meanwhile is not changed.
func TestSizeAction(t *testing.T) {
	const text = `plan "a" { mains = "230 V" }

strip "led" { like = catalog.ws2812b_5v_60 }
wire "thin" { gauge = "28 AWG" }

supply "s" {
  output = "5 V"
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
  wire   = wire.thin
  length = "1 m"
}
`
	e := start(t, "", setup{capabilities: `{"workspace": {"applyEdit": true}}`})
	u := e.openText("a/a.ohm.hcl", text)
	ask := func(line uint32) *protocol.Command {
		got, err := e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u},
			Range: protocol.Range{Start: protocol.Position{Line: line, Character: 8}, End: protocol.Position{Line: line, Character: 8}}})
		e.must(err)
		for _, x := range got {
			if c, ok := x.(*protocol.Command); ok && c.Title == sizeTitle {
				return c
			}
		}
		return nil
	}
	if ask(3) != nil {
		t.Error("offered on a wire")
	}
	c := ask(0)
	if c == nil {
		t.Fatal("not offered on the plan block")
	}
	_, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
	e.must(err)
	e.mu.Lock()
	defer e.mu.Unlock()
	if len(e.applied) != 1 || !strings.Contains(wire(t, e.applied[0].Edit), "14 AWG") {
		t.Errorf("applied %s", wire(t, e.applied))
	}
}

// A plan that has only a run gets its power and data by the first finding's
// light bulb, and nothing is found then.
func TestFirstDraftByAction(t *testing.T) {
	const text = "plan \"a\" {\n  mains = \"230 V\"\n}\n\nrun \"é\" {\n  strip  = catalog.ws2812b_5v_60\n  length = \"3.6 m\"\n}\n"
	e := start(t, "", setup{})
	u := e.openText("a/a.ohm.hcl", text)
	e.eventually("a finding", func() bool { return slices.Contains(e.codes(u), "no-feed") })
	e.mu.Lock()
	shown := slices.Clone(e.shown[u].Diagnostics)
	e.mu.Unlock()
	got, err := e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u},
		Range: protocol.Range{Start: protocol.Position{Line: 4, Character: 2}, End: protocol.Position{Line: 4, Character: 2}}, Context: protocol.CodeActionContext{Diagnostics: shown}})
	e.must(err)
	i := slices.IndexFunc(got, func(x protocol.CommandOrCodeAction) bool {
		a, ok := x.(*protocol.CodeAction)
		return ok && a.Title == draftTitle && *a.Kind == ide.QuickFix && a.IsPreferred != nil && len(a.Diagnostics) == 1
	})
	if i < 0 {
		t.Fatalf("not offered: %s", wire(t, got))
	}
	c := got[i].(*protocol.CodeAction).Command
	_, err = e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
	e.must(err)
	e.mu.Lock()
	change := e.applied[0].Edit.DocumentChanges[0].(*protocol.TextDocumentEdit)
	e.mu.Unlock()
	lines := newLines(text, "utf-16")
	after := text
	for _, x := range slices.Backward(change.Edits) {
		edit := x.(*protocol.TextEdit)
		from, ok1 := lines.exact(parsed([]byte(wire(t, edit.Range.Start))))
		to, ok2 := lines.exact(parsed([]byte(wire(t, edit.Range.End))))
		if !ok1 || !ok2 {
			t.Fatalf("no place: %s", wire(t, edit))
		}
		after = after[:from] + edit.NewText + after[to:]
	}
	e.replace(u, 2, after)
	e.eventually("nothing found in\n"+after, func() bool {
		p := e.shown[u]
		v, _ := p.Version.Get()
		return v == 2 && len(p.Diagnostics) == 0
	})
}
