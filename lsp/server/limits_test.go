package server

import (
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
)

// When the user rests the limits are worked out, and hovers and lenses say them from then
// on; the next version has none until the next rest.
func TestLimits(t *testing.T) {
	rested := make(chan time.Time)
	e, u, text := desk(t, setup{opts: Options{rest: func() <-chan time.Time { return rested }}})
	hover := func() string {
		h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: e.place(u, text, `len|gth = "1.2 m"`)})
		e.must(err)
		return wire(t, h)
	}
	if got := hover(); strings.Contains(got, "with this wire") {
		t.Fatalf("before any rest: %s", got)
	}
	rested <- time.Time{}
	for n := 0; !strings.Contains(hover(), "m long with this wire; at "); {
		e.eventually("a hover says the limit", func() bool {
			before := n
			n = e.refresh
			return n > before
		})
	}
	lenses, err := e.CodeLens(e.ctx(), &protocol.CodeLensParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}})
	e.must(err)
	if got := wire(t, lenses); !strings.Contains(got, "may be rated ") {
		t.Errorf("lenses: %s", got)
	}
	e.replace(u, 2, text+"\n# an edit\n")
	if got := hover(); strings.Contains(got, "with this wire") {
		t.Errorf("after an edit: %s", got)
	}
}
