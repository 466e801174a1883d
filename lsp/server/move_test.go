package server

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// twoFiles is a plan of two files and its stock.
const twoFiles = `-- p/plan.ohm.hcl --
plan "p" {
  stock = ["../shop"]
}
strip "band" { like = catalog.ws2811_12v_60 }
# the long one
run "r" {
  strip  = strip.band
  length = "5 m"
}
-- p/more.ohm.hcl --
run "s" {
  strip  = strip.band
  length = "1 m"
}
-- shop/parts.ohm.hcl --
wire "w" { gauge = "16 AWG" }
`

// makesFiles is a client that makes files where an edit asks for it.
var makesFiles = strings.Replace(capable, `"documentChanges": true`, `"documentChanges": true, "resourceOperations": ["create"]`, 1)

// moved gives the edit of the action of a title on a word of a document.
func moved(e *editor, u uri.URI, title string, line uint32) (*protocol.WorkspaceEdit, []string) {
	e.t.Helper()
	p := &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}
	p.Range.Start.Line, p.Range.End.Line = line, line
	p.Context.Only = []protocol.CodeActionKind{"refactor.move"}
	var titles []string
	list, err := e.CodeAction(e.ctx(), p)
	for errors.Is(err, protocol.ErrContentModified) { // while the folder is still searched for plans
		list, err = e.CodeAction(e.ctx(), p)
	}
	e.must(err)
	for _, a := range list {
		action := a.(*protocol.CodeAction)
		if titles = append(titles, action.Title); action.Title == title {
			resolved, err := e.CodeActionResolve(e.ctx(), action)
			for errors.Is(err, protocol.ErrContentModified) {
				resolved, err = e.CodeActionResolve(e.ctx(), action)
			}
			return must(resolved, err).Edit, titles
		}
	}
	return nil, titles
}

// A block goes to a file that is on disk and not open, to one with unsaved text, and to a new one; a client
// that makes no files is offered those that there are.
func TestMoveToAnotherFile(t *testing.T) {
	e := start(t, twoFiles, setup{capabilities: makesFiles})
	u := e.open("p/plan.ohm.hcl")
	edit, _ := moved(e, u, "Move run.r to more.ohm.hcl", 5)
	if edit == nil || len(edit.DocumentChanges) != 2 {
		t.Fatalf("no edit of two files: %v", edit)
	}
	to := edit.DocumentChanges[1].(*protocol.TextDocumentEdit)
	if to.TextDocument.URI != e.uri("p/more.ohm.hcl") || to.TextDocument.Version != nil {
		t.Errorf("%v, version %v, of a file that is not open", to.TextDocument.URI, to.TextDocument.Version)
	}

	more := e.openText("p/more.ohm.hcl", "# not saved yet\n\nrun \"s\" {\n  strip  = strip.band\n  length = \"1 m\"\n}")
	edit, _ = moved(e, u, "Move run.r to more.ohm.hcl", 5)
	to = edit.DocumentChanges[1].(*protocol.TextDocumentEdit)
	if to.TextDocument.Version == nil || to.TextDocument.URI != more {
		t.Errorf("no version of a file that is open")
	}
	text := to.Edits[0].(*protocol.TextEdit)
	if text.Range.Start.Line != 5 || text.NewText != "\n\n# the long one\nrun \"r\" {\n  strip  = strip.band\n  length = \"5 m\"\n}\n" {
		t.Errorf("writes %q at line %d", text.NewText, text.Range.Start.Line)
	}

	edit, titles := moved(e, u, "Move run.r to a new file, runs.ohm.hcl", 5)
	if edit == nil || len(edit.DocumentChanges) != 3 {
		t.Fatalf("no new file among %q", titles)
	}
	made, isMade := edit.DocumentChanges[1].(*protocol.CreateFile)
	if !isMade || made.URI != e.uri("p/runs.ohm.hcl") {
		t.Errorf("makes %v", edit.DocumentChanges[1])
	}
	written := edit.DocumentChanges[2].(*protocol.TextDocumentEdit)
	if got := written.Edits[0].(*protocol.TextEdit).NewText; written.TextDocument.URI != made.URI || got != "# the long one\nrun \"r\" {\n  strip  = strip.band\n  length = \"5 m\"\n}\n" {
		t.Errorf("writes %q", got)
	}

	// Stock stays stock.
	shop := e.open("shop/parts.ohm.hcl")
	if _, titles = moved(e, shop, "", 0); !slices.Equal(titles, []string{"Move wire.w to a new file, wires.ohm.hcl"}) {
		t.Errorf("stock goes to %q", titles)
	}
	// A file with the name is not made again; one with a mistake is left alone.
	e.openText("p/runs.ohm.hcl", "run \"x\" {\n")
	if _, titles = moved(e, u, "", 5); !slices.Equal(titles, []string{"Move run.r to more.ohm.hcl"}) {
		t.Errorf("goes to %q", titles)
	}

	plain := start(t, twoFiles, setup{})
	if _, titles = moved(plain, plain.open("p/plan.ohm.hcl"), "", 5); !slices.Equal(titles, []string{"Move run.r to more.ohm.hcl"}) {
		t.Errorf("a client that makes no files is offered %q", titles)
	}
	bare := start(t, twoFiles, setup{capabilities: strings.Replace(makesFiles, `"documentChanges": true, `, "", 1)})
	if _, titles = moved(bare, bare.open("p/plan.ohm.hcl"), "", 5); !slices.Equal(titles, []string{"Move run.r to more.ohm.hcl"}) {
		t.Errorf("a client without documentChanges is offered %q", titles)
	}
}
