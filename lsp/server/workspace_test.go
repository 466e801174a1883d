package server

import (
	"slices"
	"testing"

	"go.lsp.dev/protocol"
)

const porch = `-- porch/porch.ohm.hcl --
plan "porch" {
  title = "Porch"
  stock = ["../workshop"]
}
run "arch" {
  strip  = strip.arch
  length = "2 m"
}
-- workshop/parts.ohm.hcl --
strip "arch" {
  like = catalog.ws2815_12v_60
}
`

func TestStockChangesRefreshEveryPlan(t *testing.T) {
	e := start(t, porch, setup{})
	u := e.open("porch/porch.ohm.hcl")
	e.eventually("nothing unknown", func() bool { return e.shown[u] != nil && !slices.Contains(e.codes(u), "reference-unknown") })
	e.write("workshop/parts.ohm.hcl", "strip \"bow\" {\n  like = catalog.ws2815_12v_60\n}\n")
	e.must(e.DidChangeWatchedFiles(e.ctx(), &protocol.DidChangeWatchedFilesParams{Changes: []protocol.FileEvent{{URI: e.uri("workshop/parts.ohm.hcl"), Type: protocol.FileChangeTypeChanged}}}))
	e.eventually("strip.arch is unknown", func() bool { return slices.Contains(e.codes(u), "reference-unknown") })
	// An unsaved buffer goes before the disk.
	w := e.openText("workshop/parts.ohm.hcl", "strip \"arch\" {\n  like = catalog.ws2815_12v_60\n}\n")
	e.eventually("strip.arch is known again", func() bool { return !slices.Contains(e.codes(u), "reference-unknown") })
	e.must(e.DidClose(e.ctx(), &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: w}}))
	e.eventually("strip.arch is unknown after closing", func() bool { return slices.Contains(e.codes(u), "reference-unknown") })
}
