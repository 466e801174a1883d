package server

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func (e *editor) do(command string, args ...any) string {
	e.t.Helper()
	params := &protocol.ExecuteCommandParams{Command: command}
	for _, a := range args {
		params.Arguments = append(params.Arguments, jsonData(a))
	}
	got, err := e.ExecuteCommand(e.ctx(), params)
	e.must(err)
	return string(got)
}

func (e *editor) lenses(u uri.URI) []protocol.CodeLens {
	e.t.Helper()
	got, err := e.CodeLens(e.ctx(), &protocol.CodeLensParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}})
	e.must(err)
	return got
}

func (e *editor) hints(u uri.URI) string {
	e.t.Helper()
	got, err := e.InlayHint(e.ctx(), &protocol.InlayHintParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Range: protocol.Range{End: protocol.Position{Line: 10000}}})
	e.must(err)
	var out []string
	for _, h := range got {
		out = append(out, string(h.Label.(protocol.String)))
	}
	return strings.Join(out, "\n")
}

// Each lens that does something names a command of the server, which does it.
func TestLensesDo(t *testing.T) {
	e, u, text := desk(t, setup{})
	e.replace(u, 2, strings.Replace(strings.Replace(text, `"16 AWG"`, `"26 AWG"`, 1), `"1.2 m"`, `"4 m"`, 1))
	done := map[string]bool{}
	for _, l := range e.lenses(u) {
		if l.Command.Command == "" || l.Command.Command == viewCommand {
			continue
		}
		got, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: l.Command.Command, Arguments: l.Command.Arguments})
		if err != nil || len(got) < 3 {
			t.Errorf("%s: %s, %v", l.Command.Title, got, err)
		}
		done[l.Command.Command] = true
	}
	for _, c := range []string{nextCommand, caseCommand, feedsCommand, limitsCommand} {
		if !done[c] {
			t.Errorf("no lens does %s", c)
		}
	}

	// Every finding is gone to once, in the order of the text, and then the first again.
	e.mu.Lock()
	e.shows = nil
	e.mu.Unlock()
	first := e.do(nextCommand, u)
	var seen []string
	for m := e.do(nextCommand, u); m != first && len(seen) < 100; m = e.do(nextCommand, u) {
		seen = append(seen, m)
	}
	if len(seen) < 2 || len(seen) > 50 {
		t.Errorf("from %s on: %q", first, seen)
	}
	if len(e.shows) < 3 || e.shows[0].Selection == nil {
		t.Errorf("shown: %v", e.shows)
	}

	if got := e.do(caseCommand, u, "held"); got != `"held"` || !strings.Contains(e.hints(u), "figures of case held") {
		t.Errorf("case %s: %s", got, e.hints(u))
	}
	if got := e.do(feedsCommand, u, "run.arch"); !strings.Contains(got, "supply.brick") {
		t.Errorf("fed by %s", got)
	}
	if _, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: caseCommand, Arguments: []protocol.LSPAny{jsonData(u), jsonData("none")}}); err == nil {
		t.Error("a case that is not there")
	}
}

// A plan that nothing feeds yet has no figures of a load case: none are named, and no other
// case is offered.
func TestLensesOfAPlanWithoutPower(t *testing.T) {
	e, u, _ := desk(t, setup{})
	e.replace(u, 2, "plan \"first\" {}\n\nrun \"low\" {\n  strip  = catalog.ws2812b_5v_60\n  length = \"1 m\"\n}\n")
	if got := e.hints(u); strings.Contains(got, "figures of case") {
		t.Errorf("hints: %s", got)
	}
	for _, l := range e.lenses(u) {
		if l.Command.Command == caseCommand || strings.Contains(l.Command.Title, "may be") {
			t.Errorf("lens: %s", l.Command.Title)
		}
	}
}

// Where nothing is found the lens goes to what is open.
func TestNextOpenQuestion(t *testing.T) {
	e, u, _ := desk(t, setup{})
	e.replace(u, 2, "# ? Of what is it?\nplan \"first\" {}\n\nsurface \"wall\" {\n  width  = \"1 m\" # ? measure it\n  height = \"1 m\"\n}\n")
	for _, want := range []string{"Of what is it?", "measure it", "Of what is it?"} {
		if got := e.do(nextCommand, u); got != `"`+want+`"` {
			t.Errorf("next is %s, want %s", got, want)
		}
	}
}

// Figures of a network that cannot be judged stay, marked as old, until it is judged
// again; what an edit moved stands at its end until the plan is saved.
func TestFiguresOfBefore(t *testing.T) {
	e, u, text := desk(t, setup{})
	hint := func(say string, want bool) {
		t.Helper()
		if got := e.hints(u); strings.Contains(got, say) != want {
			t.Errorf("hints say %q: %v\n%s", say, !want, got)
		}
	}
	hint("before: ", false)
	e.replace(u, 2, strings.Replace(text, "strip.arch", "strip.arhc", 1))
	hint("before: 216 pixels", true)
	if got := wire(t, e.lenses(u)); !strings.Contains(got, "1 network not judged") || !strings.Contains(got, "before: 216 pixels") {
		t.Errorf("lenses: %s", got)
	}
	e.replace(u, 3, strings.Replace(text, `"1.2 m"`, `"2.4 m"`, 1))
	hint("before: ", false)
	hint(" -> ", true)
	e.must(e.DidSave(e.ctx(), &protocol.DidSaveTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}))
	hint(" -> ", false)
	e.replace(u, 4, text)
	hint(" -> ", true)
	e, u, text = desk(t, setup{options: `{"hints": {"moved": false}}`})
	e.replace(u, 2, strings.Replace(text, `"1.2 m"`, `"2.4 m"`, 1))
	hint(" -> ", false)
}

// A name and what refers to it are typed together, where all of that stands in one
// document and is written alike.
func TestLinkedEditing(t *testing.T) {
	e, u, text := desk(t, setup{})
	linked := func(u uri.URI, text, needle string) string {
		t.Helper()
		got, err := e.LinkedEditingRange(e.ctx(), &protocol.LinkedEditingRangeParams{TextDocumentPositionParams: e.place(u, text, needle)})
		e.must(err)
		if got == nil {
			return ""
		}
		var lines []string
		for _, r := range got.Ranges {
			lines = append(lines, strings.TrimSpace(strings.Split(text, "\n")[r.Start.Line]))
		}
		return strings.Join(lines, "; ")
	}
	if got := linked(u, text, `run "ar|ch"`); !strings.Contains(got, `run "arch"`) || strings.Count(got, "run.arch") == 0 {
		t.Errorf("a run: %s", got)
	}
	if got := linked(u, text, `strip.ar|ch`); got != "" {
		t.Errorf("a strip of the stock, which stands in two files: %s", got)
	}
	if got := linked(u, text, `len|gth`); got != "" {
		t.Errorf("no name: %s", got)
	}
}

// The flow is asked for from anywhere in a block, and the catalogue's pages answer as plans do.
func TestFromAnywhere(t *testing.T) {
	e, u, text := desk(t, setup{})
	for needle, want := range map[string]string{`insert   = "co|rd"`: "run.arch", `ra|ting = "12.5 A"`: "supply.brick", `ceil|ing`: "controller.brain", `gau|ge = "16 AWG"`: "", `color = "#ff|b070"`: ""} {
		got, err := e.PrepareCallHierarchy(e.ctx(), &protocol.CallHierarchyPrepareParams{TextDocumentPositionParams: e.place(u, text, needle)})
		e.must(err)
		name := ""
		if len(got) > 0 {
			name = got[0].Name
		}
		if name != want {
			t.Errorf("%s: %q, want %q", needle, name, want)
		}
	}
	page := catalogueURI("diffusers.ohm.hcl")
	c, err := e.TextDocumentContent(e.ctx(), &protocol.TextDocumentContentParams{URI: page})
	e.must(err)
	const needle = "catalog.silicone_tube_side_12x20"
	before := c.Text[:strings.Index(c.Text, needle)]
	at := at(page, uint32(strings.Count(before, "\n")), uint32(len(before)-strings.LastIndex(before, "\n")-1+12))
	d, err := e.Definition(e.ctx(), &protocol.DefinitionParams{TextDocumentPositionParams: at})
	e.must(err)
	if links, ok := d.(protocol.DefinitionLinkSlice); !ok || len(links) != 1 || links[0].TargetURI != uri.MustParse(string(page)) {
		t.Errorf("definition in the catalogue: %s", wire(t, d))
	}
	h, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: at})
	e.must(err)
	if h == nil || !strings.Contains(h.Contents.(*protocol.MarkupContent).Value, "silicone_tube_side_12x20") {
		t.Errorf("hover in the catalogue: %s", wire(t, h))
	}
}
