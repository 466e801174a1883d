package server

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"
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
