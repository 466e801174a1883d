package server

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// arch is a plan with stock beside it.
const arch = `-- porch/porch.ohm.hcl --
plan "porch-arch" {
  title = "Arch 😀 over the door"
  mains = "230 V"
  rate  = "40 Hz"
  stock = ["../workshop"]
}

diffuser "tube" { like = catalog.silicone_tube_side_bend }
wire "feed" { gauge = "16 AWG" }
wire "data" { gauge = "22 AWG" }

supply "brick" {
  output = "12 V"
  rating = "12.5 A"
  input  = ["230 V"]
}

controller "brain" {
  board   = catalog.esp32_devkit
  buffer  = "5 V"
  ceiling = "6 A"
  port "a" { pin = 4 }
}

run "arch" {
  strip    = strip.arch
  diffuser = diffuser.tube
  insert   = "cord"
  length   = scale("1.2 m", 3)
}

lead "left" {
  from   = supply.brick.out
  to     = run.arch.start
  wire   = wire.feed
  length = "1.2 m"
  fuse   = "7.5 A"
}

signal "arch" {
  from   = controller.brain.port.a
  to     = run.arch.start
  wire   = wire.data
  length = "60 cm"
}

case "warm" {
  color = "#ffb070"
}
-- workshop/parts.ohm.hcl --
strip "arch" {
  like = catalog.ws2815_12v_60
}
-- gate/gate.ohm.hcl --
plan "gate" {
  stock = ["../workshop"]
}

run "gate" {
  strip  = strip.arch
  length = "2 m"
}
`

// desk is an editor with arch open.
func desk(t *testing.T, with setup) (e *editor, u uri.URI, text string) {
	e = start(t, arch, with)
	u = e.open("porch/porch.ohm.hcl")
	text = e.read("porch/porch.ohm.hcl")
	if with.capabilities == "" {
		e.eventually("the scan is over", func() bool { return len(e.progress) > 1 })
	}
	return e, u, text
}

func (e *editor) place(u uri.URI, text, needle string) protocol.TextDocumentPositionParams {
	e.t.Helper()
	line, char := find(e.t, text, needle)
	return at(u, line, char)
}

func wire(t *testing.T, v any) string {
	t.Helper()
	data, err := protocol.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestHover(t *testing.T) {
	e, u, text := desk(t, setup{})
	for _, c := range []struct{ needle, want string }{
		{`run "ar|ch"`, "216"},
		{`sup|ply "brick"`, "brick"},
		{`catalog.ws|`, ""},
		{`ga|uge = "16`, "gauge"},
		{`strip.ar|ch`, "strip"},
	} {
		if c.want == "" {
			continue
		}
		h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: e.place(u, text, c.needle)})
		e.must(err)
		if h == nil {
			t.Errorf("%s: nothing", c.needle)
			continue
		}
		if m := h.Contents.(*protocol.MarkupContent); m.Kind != protocol.MarkupKindMarkdown || !strings.Contains(m.Value, c.want) {
			t.Errorf("%s: %s %s", c.needle, m.Kind, m.Value)
		}
		if h.Range == nil || h.Range.Start.Line != e.place(u, text, c.needle).Position.Line {
			t.Errorf("%s: range %v", c.needle, h.Range)
		}
	}
	if h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: at(e.uri("nowhere.ohm.hcl"), 0, 0)}); err != nil || h != nil {
		t.Errorf("in a document that is not there: %v, %v", h, err)
	}
	// Pictures come where the user asks for them and the editor reads Markdown.
	const plain = `{"textDocument": {"hover": {"contentFormat": ["plaintext"]}}}`
	for _, c := range []struct {
		with setup
		want bool
	}{
		{setup{options: `{"hover": {"pictures": true}}`}, true},
		{setup{}, false},
		{setup{capabilities: plain, options: `{"hover": {"pictures": true}}`}, false},
	} {
		e, u, text := desk(t, c.with)
		h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: e.place(u, text, `run "ar|ch"`)})
		e.must(err)
		if m := h.Contents.(*protocol.MarkupContent); strings.Contains(m.Value, "](data:image/svg+xml;base64,") != c.want {
			t.Errorf("%s: %s", c.with.options, m.Value)
		}
	}
	e, u, text = desk(t, setup{capabilities: plain})
	h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: e.place(u, text, `run "ar|ch"`)})
	e.must(err)
	if m := h.Contents.(*protocol.MarkupContent); m.Kind != protocol.MarkupKindPlainText || strings.Contains(m.Value, "**") || strings.Contains(m.Value, "`") {
		t.Errorf("plain: %s %s", m.Kind, m.Value)
	}
}

func labels(list *protocol.CompletionList) []string {
	var out []string
	for _, i := range list.Items {
		out = append(out, i.Label)
	}
	return out
}

func TestCompletion(t *testing.T) {
	e, u, text := desk(t, setup{})
	broken := strings.Replace(text, "from   = supply.brick.out", "from   = supply.", 1)
	e.replace(u, 2, broken)
	r, err := e.Completion(e.ctx(), &protocol.CompletionParams{TextDocumentPositionParams: e.place(u, broken, "from   = supply.|\n")})
	e.must(err)
	list := r.(*protocol.CompletionList)
	i := slices.IndexFunc(list.Items, func(i protocol.CompletionItem) bool { return strings.Contains(i.Label, "brick") })
	if i < 0 {
		t.Fatalf("supply. proposes %v", labels(list))
	}
	item := list.Items[i]
	if item.TextEdit == nil || item.Documentation != nil || len(item.Data) == 0 {
		t.Errorf("item %s", wire(t, &item))
	}
	full, err := e.CompletionResolve(e.ctx(), &item)
	e.must(err)
	if full.Documentation == nil {
		t.Errorf("resolved: %s", wire(t, full))
	}
	// A client without snippets, resolve and label details.
	e, u, _ = desk(t, setup{capabilities: "{}"})
	e.replace(u, 2, text+"\n\n")
	lines := uint32(strings.Count(text, "\n"))
	r, err = e.Completion(e.ctx(), &protocol.CompletionParams{TextDocumentPositionParams: at(u, lines+1, 0)})
	e.must(err)
	documented := 0
	for _, i := range r.(*protocol.CompletionList).Items {
		if i.InsertTextFormat == protocol.InsertTextFormatSnippet || strings.Contains(i.TextEdit.(*protocol.TextEdit).NewText, "$") || i.LabelDetails != nil {
			t.Errorf("item %s", wire(t, &i))
		}
		if i.Documentation != nil {
			documented++
		}
	}
	if documented == 0 {
		t.Error("no documentation for a client that cannot ask for it later")
	}
	// Where that command has a name, a step leads on to the next list.
	e, u, _ = desk(t, setup{options: `{"suggestCommand": "suggest.again"}`})
	broken = strings.Replace(text, "from   = supply.brick.out", "from   = ", 1)
	e.replace(u, 2, broken)
	r, err = e.Completion(e.ctx(), &protocol.CompletionParams{TextDocumentPositionParams: e.place(u, broken, "from   = |\n")})
	e.must(err)
	again := slices.ContainsFunc(r.(*protocol.CompletionList).Items, func(i protocol.CompletionItem) bool { return i.Command.Command == "suggest.again" })
	t.Logf("a list that goes on: %v", again)
}

func TestSignatureHelp(t *testing.T) {
	e, u, text := desk(t, setup{})
	s, err := e.SignatureHelp(e.ctx(), &protocol.SignatureHelpParams{TextDocumentPositionParams: e.place(u, text, `scale("1.2 m", |3)`)})
	e.must(err)
	if s == nil || len(s.Signatures) != 1 || !strings.HasPrefix(s.Signatures[0].Label, "scale(") {
		t.Fatalf("got %s", wire(t, s))
	}
	if active, ok := s.ActiveParameter.Get(); !ok || active != 1 {
		t.Errorf("active parameter %d", active)
	}
	if s, err := e.SignatureHelp(e.ctx(), &protocol.SignatureHelpParams{TextDocumentPositionParams: at(u, 0, 0)}); err != nil || s != nil {
		t.Errorf("outside of a call: %v, %v", s, err)
	}
}

func TestDefinition(t *testing.T) {
	e, u, text := desk(t, setup{})
	d, err := e.Definition(e.ctx(), &protocol.DefinitionParams{TextDocumentPositionParams: e.place(u, text, `strip    = strip.ar|ch`)})
	e.must(err)
	links, ok := d.(protocol.DefinitionLinkSlice)
	if !ok || len(links) != 1 || links[0].TargetURI != e.uri("workshop/parts.ohm.hcl") {
		t.Errorf("into stock: %s", wire(t, d))
	}
	d, err = e.Definition(e.ctx(), &protocol.DefinitionParams{TextDocumentPositionParams: e.place(u, text, `catalog.esp32_dev|kit`)})
	e.must(err)
	links, ok = d.(protocol.DefinitionLinkSlice)
	if !ok || len(links) != 1 || links[0].TargetURI != uri.MustParse(string(catalogueURI("boards.ohm.hcl"))) {
		t.Fatalf("into the catalogue: %s", wire(t, d))
	}
	c, err := e.TextDocumentContent(e.ctx(), &protocol.TextDocumentContentParams{URI: links[0].TargetURI})
	e.must(err)
	if !strings.Contains(c.Text, `board "esp32_devkit"`) {
		t.Errorf("the catalogue's file: %.200s", c.Text)
	}
	// It is a document like any other, but cannot be changed.
	e.openURI(links[0].TargetURI, c.Text)
	h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: protocol.TextDocumentIdentifier{URI: links[0].TargetURI}, Position: links[0].TargetSelectionRange.Start}})
	e.must(err)
	if h == nil {
		t.Error("no hover in the catalogue")
	}
	d, err = e.TypeDefinition(e.ctx(), &protocol.TypeDefinitionParams{TextDocumentPositionParams: e.place(u, text, `run "ar|ch"`)})
	e.must(err)
	if places, ok := d.(protocol.LocationSlice); !ok || len(places) != 1 || places[0].URI != e.uri("workshop/parts.ohm.hcl") {
		t.Errorf("type: %s", wire(t, d))
	}
}

func TestCatalogueOnDisk(t *testing.T) {
	cache := realPath(t.TempDir())
	e, u, text := desk(t, setup{capabilities: "{}", opts: Options{CacheDir: cache}})
	h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: e.place(u, text, `catalog.esp32_dev|kit`)})
	e.must(err)
	if entries, _ := os.ReadDir(cache); len(entries) != 0 || h == nil {
		t.Fatalf("written before it was asked for: %v", entries)
	}
	d, err := e.Definition(e.ctx(), &protocol.DefinitionParams{TextDocumentPositionParams: e.place(u, text, `catalog.esp32_dev|kit`)})
	e.must(err)
	places, ok := d.(protocol.LocationSlice)
	if !ok || len(places) != 1 || !places[0].URI.IsFile() {
		t.Fatalf("got %s", wire(t, d))
	}
	path := places[0].URI.FsPath()
	info, err := os.Stat(path)
	e.must(err)
	data, err := os.ReadFile(path)
	e.must(err)
	if info.Mode().Perm() != 0o444 || !strings.Contains(string(data), `board "esp32_devkit"`) || !strings.HasPrefix(path, cache) {
		t.Errorf("%s: %s\n%.200s", path, info.Mode(), data)
	}
	e.openURI(places[0].URI, string(data))
	h, err = e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: protocol.TextDocumentIdentifier{URI: places[0].URI}, Position: places[0].Range.Start}})
	e.must(err)
	if h == nil {
		t.Error("no hover in the laid out file")
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if len(e.codes(places[0].URI)) > 0 {
		t.Error("the catalogue is judged as a plan")
	}
}

func TestReferencesInEveryPlan(t *testing.T) {
	e, u, text := desk(t, setup{})
	p := &protocol.ReferenceParams{TextDocumentPositionParams: e.place(u, text, `strip    = strip.ar|ch`), Context: protocol.ReferenceContext{IncludeDeclaration: true}}
	refs, err := e.References(e.ctx(), p)
	e.must(err)
	files := map[uri.URI]int{}
	for _, r := range refs {
		files[r.URI]++
	}
	if len(files) != 3 || files[u] != 1 || files[e.uri("gate/gate.ohm.hcl")] != 1 || files[e.uri("workshop/parts.ohm.hcl")] != 1 {
		t.Errorf("got %v", files)
	}
	marks, err := e.DocumentHighlight(e.ctx(), &protocol.DocumentHighlightParams{TextDocumentPositionParams: e.place(u, text, `run.ar|ch.start`)})
	e.must(err)
	if len(marks) != 3 {
		t.Errorf("highlights: %s", wire(t, marks))
	}
}

func TestRename(t *testing.T) {
	e, u, text := desk(t, setup{})
	spot := e.place(u, text, `strip    = strip.ar|ch`)
	r, err := e.PrepareRename(e.ctx(), &protocol.PrepareRenameParams{TextDocumentPositionParams: spot})
	e.must(err)
	if p, ok := r.(*protocol.PrepareRenamePlaceholder); !ok || p.Placeholder != "arch" {
		t.Errorf("prepared: %s", wire(t, r))
	}
	edit, err := e.Rename(e.ctx(), &protocol.RenameParams{TextDocumentPositionParams: spot, NewName: "bow"})
	e.must(err)
	versions := map[uri.URI]*int32{}
	edits := 0
	for _, c := range edit.DocumentChanges {
		x := c.(*protocol.TextDocumentEdit)
		versions[x.TextDocument.URI] = x.TextDocument.Version
		edits += len(x.Edits)
	}
	if len(versions) != 3 || edits != 3 || versions[u] == nil || *versions[u] != 1 || versions[e.uri("gate/gate.ohm.hcl")] != nil {
		t.Errorf("got %s", wire(t, edit))
	}
	for _, bad := range []struct{ needle, name string }{{`strip    = strip.ar|ch`, "no name"}, {`catalog.esp32_dev|kit`, "x"}, {`|plan "porch`, "x"}} {
		if _, err := e.Rename(e.ctx(), &protocol.RenameParams{TextDocumentPositionParams: e.place(u, text, bad.needle), NewName: bad.name}); code(err) != codeRequestFailed {
			t.Errorf("%s to %q: %v", bad.needle, bad.name, err)
		}
	}
	// A client without versioned edits.
	e, u, text = desk(t, setup{capabilities: "{}"})
	edit, err = e.Rename(e.ctx(), &protocol.RenameParams{TextDocumentPositionParams: e.place(u, text, `run "ar|ch"`), NewName: "bow"})
	e.must(err)
	if len(edit.DocumentChanges) != 0 || len(edit.Changes[u]) != 3 {
		t.Errorf("got %s", wire(t, edit))
	}
}

func TestSymbols(t *testing.T) {
	e, u, _ := desk(t, setup{})
	r, err := e.DocumentSymbol(e.ctx(), &protocol.DocumentSymbolParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}})
	e.must(err)
	tree, ok := r.(protocol.DocumentSymbolSlice)
	if !ok || len(tree) != 10 {
		t.Fatalf("got %d: %s", len(tree), wire(t, r))
	}
	within := func(a, b protocol.Range) bool {
		before := func(p, q protocol.Position) bool {
			return p.Line < q.Line || p.Line == q.Line && p.Character <= q.Character
		}
		return before(b.Start, a.Start) && before(a.End, b.End)
	}
	var check func(list []protocol.DocumentSymbol)
	check = func(list []protocol.DocumentSymbol) {
		for _, x := range list {
			if !within(x.SelectionRange, x.Range) {
				t.Errorf("%s is selected outside of itself", x.Name)
			}
			for _, c := range x.Children {
				if !within(c.Range, x.Range) {
					t.Errorf("%s lies outside of %s", c.Name, x.Name)
				}
			}
			check(x.Children)
		}
	}
	check(tree)
	w, err := e.Symbols(e.ctx(), &protocol.WorkspaceSymbolParams{Query: "gate"})
	e.must(err)
	if !strings.Contains(wire(t, w), "run.gate") {
		t.Errorf("in the workspace: %s", wire(t, w))
	}
	flat := strings.Replace(capable, `"hierarchicalDocumentSymbolSupport": true`, `"hierarchicalDocumentSymbolSupport": false`, 1)
	e, u, _ = desk(t, setup{capabilities: flat})
	r, err = e.DocumentSymbol(e.ctx(), &protocol.DocumentSymbolParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}})
	e.must(err)
	if _, ok := r.(protocol.SymbolInformationSlice); !ok {
		t.Errorf("flat: %s", wire(t, r))
	}
}

func TestWholeDocuments(t *testing.T) {
	e, u, text := desk(t, setup{})
	id := protocol.TextDocumentIdentifier{URI: u}
	folds, err := e.FoldingRanges(e.ctx(), &protocol.FoldingRangeParams{TextDocument: id})
	e.must(err)
	if len(folds) < 7 || folds[0].StartCharacter == nil {
		t.Errorf("folds: %s", wire(t, folds))
	}
	ranges, err := e.SelectionRange(e.ctx(), &protocol.SelectionRangeParams{TextDocument: id, Positions: []protocol.Position{
		e.place(u, text, `strip    = strip.ar|ch`).Position, e.place(u, text, `rating = "12|.5`).Position}})
	e.must(err)
	if len(ranges) != 2 || ranges[0].Parent == nil || ranges[0].Parent.Parent == nil {
		t.Errorf("selections: %s", wire(t, ranges))
	}
	links, err := e.DocumentLink(e.ctx(), &protocol.DocumentLinkParams{TextDocument: id})
	e.must(err)
	if len(links) != 1 || *links[0].Target != e.uri("workshop/parts.ohm.hcl") {
		t.Errorf("links: %s", wire(t, links))
	}
	lenses, err := e.CodeLens(e.ctx(), &protocol.CodeLensParams{TextDocument: id})
	e.must(err)
	if len(lenses) == 0 || lenses[0].Command.Title == "" {
		t.Errorf("lenses: %s", wire(t, lenses))
	}
	broken := e.openText("broken/broken.ohm.hcl", unknown)
	if above, err := e.CodeLens(e.ctx(), &protocol.CodeLensParams{TextDocument: protocol.TextDocumentIdentifier{URI: broken}}); err != nil || len(above) == 0 || !strings.HasPrefix(above[0].Command.Title, "2 errors") {
		t.Errorf("lenses above an error: %s, %v", wire(t, above), err)
	}
	bare := lenses[0]
	bare.Command = protocol.Command{}
	if full, err := e.CodeLensResolve(e.ctx(), &bare); err != nil || full.Command.Title != lenses[0].Command.Title {
		t.Errorf("lens resolved: %v, %v", full, err)
	}
	colours, err := e.DocumentColor(e.ctx(), &protocol.DocumentColorParams{TextDocument: id})
	e.must(err)
	if len(colours) != 1 || colours[0].Color.Red != 1 || colours[0].Color.Alpha != 1 {
		t.Fatalf("colours: %s", wire(t, colours))
	}
	texts, err := e.ColorPresentation(e.ctx(), &protocol.ColorPresentationParams{TextDocument: id, Range: colours[0].Range, Color: protocol.Color{Green: 1, Alpha: 1}})
	e.must(err)
	if len(texts) == 0 || !strings.Contains(texts[0].TextEdit.NewText, "#00ff00") {
		t.Errorf("presentations: %s", wire(t, texts))
	}
	part, err := e.SemanticTokensRange(e.ctx(), &protocol.SemanticTokensRangeParams{TextDocument: id, Range: protocol.Range{Start: protocol.Position{Line: 1}, End: protocol.Position{Line: 2}}})
	e.must(err)
	all, err := e.SemanticTokensFull(e.ctx(), &protocol.SemanticTokensParams{TextDocument: id})
	e.must(err)
	if len(part.Data) == 0 || len(part.Data) >= len(all.Data) || len(all.Data)%5 != 0 {
		t.Errorf("tokens: %d of %d numbers", len(part.Data), len(all.Data))
	}
	// An emoji is two UTF-16 units long.
	line, char := find(t, text, "|\"Arch 😀")
	var l, c uint32
	seen := false
	for i := 0; i < len(all.Data); i += 5 {
		if all.Data[i] > 0 {
			c = 0
		}
		l, c = l+all.Data[i], c+all.Data[i+1]
		if l == line && c == char {
			seen = true
			if want := uint32(len(`"Arch 12 over the door"`)); all.Data[i+2] != want {
				t.Errorf("the title is %d units long, want %d", all.Data[i+2], want)
			}
		}
	}
	if !seen {
		t.Error("the title has no token")
	}
}

func TestHintsFollowTheSettings(t *testing.T) {
	e, u, _ := desk(t, setup{})
	ask := func() string {
		t.Helper()
		hints, err := e.InlayHint(e.ctx(), &protocol.InlayHintParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Range: protocol.Range{End: protocol.Position{Line: 1000}}})
		e.must(err)
		return wire(t, hints)
	}
	if !strings.Contains(ask(), "216") {
		t.Errorf("no pixels in %s", ask())
	}
	e.mu.Lock()
	before := e.refresh
	e.settings = `{"hints": {"pixels": false, "metres": false, "amps": false, "drop": false, "load": false, "lengths": false}}`
	e.mu.Unlock()
	e.must(e.DidChangeConfiguration(e.ctx(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny("null")}))
	e.eventually("hints are asked for again", func() bool { return e.refresh > before })
	if got := ask(); got != "[]" {
		t.Errorf("switched off: %s", got)
	}
}

func TestFormatting(t *testing.T) {
	e, u, _ := desk(t, setup{})
	id := protocol.TextDocumentIdentifier{URI: u}
	edits, err := e.Formatting(e.ctx(), &protocol.DocumentFormattingParams{TextDocument: id})
	e.must(err)
	if len(edits) != 0 {
		t.Errorf("of a tidy document: %s", wire(t, edits))
	}
	e.replace(u, 2, "plan \"p\" {\n    title=\"x\"\n}\nwire \"w\" {\n    gauge=\"16 AWG\"\n}\n")
	edits, err = e.Formatting(e.ctx(), &protocol.DocumentFormattingParams{TextDocument: id})
	e.must(err)
	if len(edits) != 2 {
		t.Errorf("of two untidy lines: %s", wire(t, edits))
	}
	edits, err = e.RangeFormatting(e.ctx(), &protocol.DocumentRangeFormattingParams{TextDocument: id, Range: protocol.Range{Start: protocol.Position{Line: 4}, End: protocol.Position{Line: 4, Character: 2}}})
	e.must(err)
	if len(edits) != 1 || edits[0].Range.Start.Line != 4 {
		t.Errorf("of a range: %s", wire(t, edits))
	}
	edits, err = e.OnTypeFormatting(e.ctx(), &protocol.DocumentOnTypeFormattingParams{TextDocument: id, Position: protocol.Position{Line: 2, Character: 1}, Ch: "}"})
	e.must(err)
	if len(edits) == 0 || edits[0].Range.Start.Line > 2 {
		t.Errorf("behind a brace: %s", wire(t, edits))
	}
}

func TestCodeActions(t *testing.T) {
	const text = "plan \"p\" {\n  mains = 230\n}\n"
	ask := func(e *editor, u uri.URI, only ...protocol.CodeActionKind) []protocol.CommandOrCodeAction {
		t.Helper()
		e.mu.Lock()
		shown := slices.Clone(e.shown[u].Diagnostics)
		e.mu.Unlock()
		r := protocol.Range{Start: protocol.Position{Line: 1, Character: 10}, End: protocol.Position{Line: 1, Character: 11}}
		got, err := e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Range: r,
			Context: protocol.CodeActionContext{Diagnostics: shown, Only: only}})
		e.must(err)
		return got
	}
	fix := func(list []protocol.CommandOrCodeAction) *protocol.CodeAction {
		t.Helper()
		for _, a := range list {
			if a, ok := a.(*protocol.CodeAction); ok && *a.Kind == protocol.CodeActionKindQuickFix && len(a.Diagnostics) > 0 {
				return a
			}
		}
		t.Fatalf("no remedy in %s", wire(t, list))
		return nil
	}
	t.Run("resolved later", func(t *testing.T) {
		e := start(t, "", setup{})
		u := e.openText("a/a.ohm.hcl", text)
		e.eventually("a finding", func() bool { return len(e.codes(u)) > 0 })
		a := fix(ask(e, u))
		if a.Edit != nil || len(a.Data) == 0 {
			t.Errorf("before: %s", wire(t, a))
		}
		full, err := e.CodeActionResolve(e.ctx(), a)
		e.must(err)
		if full.Edit == nil || !strings.Contains(wire(t, full.Edit), "230 V") {
			t.Errorf("resolved: %s", wire(t, full))
		}
		e.replace(u, 2, "\n\n\n\n")
		if _, err := e.CodeActionResolve(e.ctx(), a); code(err) != protocol.CodeContentModified {
			t.Errorf("resolved too late: %v", err)
		}
	})
	t.Run("with the edit at once", func(t *testing.T) {
		e := start(t, "", setup{capabilities: strings.Replace(capable, `"properties": ["edit"]`, `"properties": []`, 1)})
		u := e.openText("a/a.ohm.hcl", text)
		e.eventually("a finding", func() bool { return len(e.codes(u)) > 0 })
		if a := fix(ask(e, u)); a.Edit == nil || len(a.Edit.DocumentChanges) != 1 {
			t.Errorf("got %s", wire(t, a))
		}
		for _, x := range ask(e, u, "refactor") {
			if a := x.(*protocol.CodeAction); !strings.HasPrefix(string(*a.Kind), "refactor") {
				t.Errorf("asked for refactorings: %s", wire(t, a))
			}
		}
	})
	t.Run("as commands", func(t *testing.T) {
		e := start(t, "", setup{capabilities: `{"workspace": {"applyEdit": true}}`})
		u := e.openText("a/a.ohm.hcl", text)
		e.eventually("a finding", func() bool { return len(e.codes(u)) > 0 })
		var made int
		for _, x := range ask(e, u) {
			c, ok := x.(*protocol.Command)
			if !ok {
				t.Fatalf("not a command: %s", wire(t, x))
			}
			if c.Command == applyCommand && made == 0 {
				_, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
				e.must(err)
				made++
			}
		}
		e.mu.Lock()
		defer e.mu.Unlock()
		if made != 1 || len(e.applied) != 1 || len(e.applied[0].Edit.Changes[u]) == 0 {
			t.Errorf("%d made, %d applied", made, len(e.applied))
		}
	})
}

// In stock that is no plan by itself, the findings and remedies are those of
// the plans that use it.
func TestCodeActionsInStock(t *testing.T) {
	e, _, _ := desk(t, setup{})
	w := e.openText("workshop/parts.ohm.hcl", "strip \"arch\" {\n  like  = catalog.ws2815_12v_60\n  width = 12\n}\n")
	e.eventually("a finding", func() bool { return len(e.codes(w)) > 0 })
	e.mu.Lock()
	if slices.Contains(e.codes(w), "plan-missing") {
		t.Errorf("stock is judged as a plan: %v", e.codes(w))
	}
	e.mu.Unlock()
	got, err := e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: w},
		Range: protocol.Range{Start: protocol.Position{}, End: protocol.Position{Line: 4}}})
	e.must(err)
	if all := wire(t, got); !strings.Contains(all, "12 mm") || strings.Contains(all, "plan block") {
		t.Errorf("got %s", all)
	}
}

func TestExplain(t *testing.T) {
	e := start(t, "", setup{})
	got, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: explainCommand, Arguments: []protocol.LSPAny{protocol.LSPAny(`"voltage-low"`)}})
	e.must(err)
	var text string
	e.must(json.Unmarshal(got, &text))
	page, err := e.TextDocumentContent(e.ctx(), &protocol.TextDocumentContentParams{URI: ruleURI("voltage-low")})
	e.must(err)
	if text != page.Text || !strings.Contains(text, "voltage-low") {
		t.Errorf("got %q and %q", text, page.Text)
	}
	e.mu.Lock()
	if len(e.shows) != 1 || e.shows[0].URI != uri.MustParse(string(ruleURI("voltage-low"))) {
		t.Errorf("shown: %v", e.shows)
	}
	e.mu.Unlock()
	for _, c := range []struct{ name, command, args string }{
		{"an unknown rule", explainCommand, `"smell-bad"`},
		{"no rule", explainCommand, `7`},
		{"an unknown command", "ohmstead.dance", `1`},
		{"a document that is not there", applyCommand, `{"uri": "file:///nowhere/x.ohm.hcl"}`},
	} {
		if _, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: c.command, Arguments: []protocol.LSPAny{protocol.LSPAny(c.args)}}); err == nil || code(err) == 0 {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	e, u, plan := desk(t, setup{})
	e.replace(u, 2, strings.Replace(plan, `fuse   = "7.5 A"`, `fuse   = "60 A"`, 1))
	e.eventually("a finding links to the page of its rule", func() bool {
		return e.shown[u] != nil && slices.ContainsFunc(e.shown[u].Diagnostics, func(d protocol.Diagnostic) bool {
			return d.CodeDescription.Href == uri.MustParse(string(ruleURI(string(d.Code.(protocol.String))))) // as the client writes it
		})
	})
}

func TestCallHierarchy(t *testing.T) {
	e, u, text := desk(t, setup{})
	items, err := e.PrepareCallHierarchy(e.ctx(), &protocol.CallHierarchyPrepareParams{TextDocumentPositionParams: e.place(u, text, `run "ar|ch"`)})
	e.must(err)
	if len(items) != 1 || items[0].Name != "run.arch" {
		t.Fatalf("got %s", wire(t, items))
	}
	in, err := e.IncomingCalls(e.ctx(), &protocol.CallHierarchyIncomingCallsParams{Item: items[0]})
	e.must(err)
	if got := wire(t, in); !strings.Contains(got, "supply.brick") || !strings.Contains(got, "controller.brain") {
		t.Fatalf("fed by %s", got)
	}
	for _, c := range in {
		if c.From.Name != "supply.brick" {
			continue
		}
		out, err := e.OutgoingCalls(e.ctx(), &protocol.CallHierarchyOutgoingCallsParams{Item: c.From})
		e.must(err)
		if got := wire(t, out); !strings.Contains(got, "run.arch") || len(out[0].FromRanges) == 0 {
			t.Errorf("supply.brick feeds %s", got)
		}
	}
}
