package server

import (
	"bufio"
	"context"
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lsp/page"
)

// viewer is a browser that shows the live page.
type viewer struct {
	t       testing.TB
	address string
	lines   *bufio.Scanner
	pieces  map[string]json.RawMessage
}

// look opens the page at an address.
func look(e *editor, address string) *viewer {
	e.t.Helper()
	r, err := http.NewRequestWithContext(e.ctx(), "GET", address+"events", nil)
	e.must(err)
	a, err := http.DefaultClient.Do(r)
	e.must(err)
	e.t.Cleanup(func() { a.Body.Close() })
	v := &viewer{e.t, address, bufio.NewScanner(a.Body), map[string]json.RawMessage{}}
	v.lines.Buffer(nil, 64<<20)
	return v
}

// until reads what comes until the page is as wanted.
func (v *viewer) until(what string, ok func() bool) {
	v.t.Helper()
	for !ok() {
		if !v.lines.Scan() {
			v.t.Fatalf("the events ended without: %s", what)
		}
		if data, is := strings.CutPrefix(v.lines.Text(), "data: "); is {
			var news struct {
				Pieces map[string]json.RawMessage `json:"pieces"`
			}
			if err := json.Unmarshal([]byte(data), &news); err != nil {
				v.t.Fatal(err)
			}
			for k, x := range news.Pieces {
				v.pieces[k] = x
			}
		}
	}
}

func (v *viewer) has(key, part string) func() bool {
	return func() bool { return strings.Contains(string(v.pieces[key]), part) }
}

// showPage has the server show the page, and gives its address.
func (e *editor) showPage(args ...protocol.LSPAny) string {
	e.t.Helper()
	got, err := e.ExecuteCommand(e.ctx(), &protocol.ExecuteCommandParams{Command: viewCommand, Arguments: args})
	e.must(err)
	var address string
	e.must(json.Unmarshal(got, &address))
	return address
}

func porchText(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/plans/porch-arch/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestPageShowsTheBuffer(t *testing.T) {
	text := porchText(t)
	e := start(t, "-- porch/plan.ohm.hcl --\n"+text+"-- other/plan.ohm.hcl --\nplan \"other\" { title = \"Another one\" }\n", setup{})
	u := e.open("porch/plan.ohm.hcl")
	address := e.showPage(jsonData(u))
	e.mu.Lock()
	if n := len(e.shows); n != 1 || string(e.shows[0].URI) != address || e.shows[0].External == nil || !*e.shows[0].External {
		t.Errorf("the editor was to show %v, want %s in a browser", e.shows, address)
	}
	e.mu.Unlock()
	v := look(e, address)
	v.until("the plan", v.has("head", "Arch over the porch door"))
	v.until("its voltages", v.has("volts/run.arch", `"cases":[{"at":[`))
	v.until("its findings", v.has("findings", `[]`))

	// A keystroke that is not saved.
	edited := time.Now()
	e.replace(u, 2, strings.Replace(text, `"1.2 m"`, `"30 m"`, 1))
	was := string(v.pieces["volts/run.arch"])
	v.until("other voltages", func() bool { return string(v.pieces["volts/run.arch"]) != was })
	t.Logf("the voltages are there %s after the keystroke", time.Since(edited).Round(time.Millisecond))
	v.until("a finding", v.has("findings", `"rule":"voltage-low"`))

	// The cursor, from requests that editors send where it rests.
	for needle, id := range map[string]string{"lead \"le|ft\"": "lead.left", "run \"ar|ch\"": "run.arch"} {
		line, char := find(t, text, needle)
		_, err := e.DocumentHighlight(e.ctx(), &protocol.DocumentHighlightParams{TextDocumentPositionParams: at(u, line, char)})
		e.must(err)
		v.until(id, v.has("cursor", id))
	}

	// A click jumps to the line.
	var places map[string]struct {
		Path string `json:"path"`
		Line int    `json:"line"`
	}
	e.must(json.Unmarshal(v.pieces["places"], &places))
	body, err := json.Marshal(places["run.arch"])
	e.must(err)
	for _, to := range []struct {
		body string
		want int
	}{{string(body), 204}, {`{"path":"etc/passwd","line":1}`, 502}, {`{"path":"porch/plan.ohm.hcl","line":100000}`, 502}, {`{`, 400}} {
		a, err := http.Post(address+"jump", "application/json", strings.NewReader(to.body))
		e.must(err)
		a.Body.Close()
		if a.StatusCode != to.want {
			t.Errorf("a jump to %s: %d, want %d", to.body, a.StatusCode, to.want)
		}
	}
	e.mu.Lock()
	if last := e.shows[len(e.shows)-1]; len(e.shows) != 2 || last.URI != u || last.Selection == nil || int(last.Selection.Start.Line) != places["run.arch"].Line-1 {
		t.Errorf("the click showed %+v", last)
	}
	e.mu.Unlock()

	// The page follows to another plan, and is one and the same.
	o := e.open("other/plan.ohm.hcl")
	if again := e.showPage(jsonData(o)); again != address {
		t.Errorf("the second page is at %s, the first at %s", again, address)
	}
	v.until("the other plan", v.has("head", "Another one"))
	if string(v.pieces["run/run.arch"]) != "null" {
		t.Error("the run of the first plan is still there")
	}
}

// A page that is asked for shows where the cursor was before: editors ask again
// only when it moves.
func TestPageBeginsAtTheCursor(t *testing.T) {
	text := porchText(t)
	e := start(t, "-- porch/plan.ohm.hcl --\n"+text+"-- other/plan.ohm.hcl --\nplan \"other\" { title = \"Another one\" }\n", setup{})
	u := e.open("porch/plan.ohm.hcl")
	line, char := find(t, text, "run \"ar|ch\"")
	_, err := e.DocumentHighlight(e.ctx(), &protocol.DocumentHighlightParams{TextDocumentPositionParams: at(u, line, char)})
	e.must(err)
	v := look(e, e.showPage(jsonData(u), jsonData(false)))
	v.until("where the cursor is", v.has("cursor", "run.arch"))

	e.showPage(jsonData(e.open("other/plan.ohm.hcl")), jsonData(false))
	v.until("another plan, where the cursor was not yet", v.has("cursor", `""`))
	e.showPage(jsonData(u), jsonData(false))
	v.until("the first plan again", v.has("cursor", "run.arch"))
}

// An answer that comes late, as that of a search for remedies, says nothing of
// where the cursor is now.
func TestOlderRequestDoesNotPoint(t *testing.T) {
	var s server
	s.rest(resting{"plan", "run.arch", 2})
	s.rest(resting{"plan", "lead.left", 1})
	if s.live.at.block != "run.arch" {
		t.Errorf("the cursor is said to be in %s", s.live.at.block)
	}
}

// An answer about one document that comes after an edit in another does not turn
// the page back; one that was asked after the edit does, as does the page asked for.
func TestOlderRequestDoesNotTurnThePage(t *testing.T) {
	for _, served := range []bool{true, false} {
		var s server
		if served {
			p, err := page.Serve(t.Context(), page.Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer p.Close()
			s.live.page.Store(p)
		}
		shows := func(want string) {
			t.Helper()
			if s.live.last.key != want || served && s.live.key != want {
				t.Errorf("the user is said to be in %q, and the page shows %q; want %q", s.live.last.key, s.live.key, want)
			}
		}
		hover, edit := s.running.next(), s.running.next()
		s.follow("b", edit)
		s.rest(resting{"a", "run.arch", hover})
		shows("b")
		s.follow("a", hover)
		shows("b")
		s.rest(resting{"b", "lead.left", hover}) // of the same document it still says the block
		if s.live.at.block != "lead.left" {
			t.Errorf("the cursor is said to be in %q", s.live.at.block)
		}
		s.rest(resting{"a", "run.arch", s.running.next()})
		shows("a")
		s.follow("b", s.running.next())
		shows("b")
	}
}

func TestPageEndsWithTheServer(t *testing.T) {
	e := start(t, "-- plan.ohm.hcl --\n"+porchText(t), setup{})
	e.open("plan.ohm.hcl")
	address := e.showPage()
	v := look(e, address)
	v.until("the plan", v.has("findings", "["))
	e.must(e.Shutdown(e.ctx()))
	e.must(e.Exit(e.ctx()))
	select {
	case <-e.done:
		e.done <- nil
	case <-time.After(longest):
		t.Fatal("the server did not end")
	}
	if _, err := http.Get(address); err == nil {
		t.Error("the page is still there")
	}
}

func TestPageByTheSettings(t *testing.T) {
	e := start(t, "-- plan.ohm.hcl --\n"+porchText(t), setup{capabilities: "{}", options: `{"page": {"serve": true}}`})
	e.open("plan.ohm.hcl")
	var address string
	e.eventually("a message with the address", func() bool {
		for _, m := range e.messages {
			if _, at, ok := strings.Cut(m, "is shown at "); ok {
				address = at
			}
		}
		return address != ""
	})
	if got := e.showPage(); got != address {
		t.Errorf("the command gives %s, the message %s", got, address)
	}
	v := look(e, address)
	v.until("the plan", v.has("head", `"jumps":false`)) // the editor cannot be asked
}

func TestPageIsOffered(t *testing.T) {
	e := start(t, "-- plan.ohm.hcl --\n"+porchText(t), setup{})
	u := e.open("plan.ohm.hcl")
	lenses, err := e.CodeLens(e.ctx(), &protocol.CodeLensParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}})
	e.must(err)
	var offered []protocol.Command
	for _, l := range lenses {
		if l.Command.Command == viewCommand {
			offered = append(offered, l.Command)
			again, err := e.CodeLensResolve(e.ctx(), &l)
			e.must(err)
			if again.Command.Title != l.Command.Title {
				t.Errorf("resolved, the lens is %q", again.Command.Title)
			}
		}
	}
	for _, c := range []struct {
		name string
		of   protocol.CodeActionContext
		want bool
	}{
		{"the list of actions", protocol.CodeActionContext{TriggerKind: protocol.CodeActionTriggerKindInvoked}, true},
		{"a light bulb", protocol.CodeActionContext{TriggerKind: protocol.CodeActionTriggerKindAutomatic}, false},
		{"an editor that does not say", protocol.CodeActionContext{}, false},
		{"source actions", protocol.CodeActionContext{Only: []protocol.CodeActionKind{"source"}}, true},
		{"quick fixes", protocol.CodeActionContext{Only: []protocol.CodeActionKind{"quickfix"}, TriggerKind: protocol.CodeActionTriggerKindInvoked}, false},
	} {
		actions, err := e.CodeAction(e.ctx(), &protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Context: c.of})
		e.must(err)
		got := false
		for _, a := range actions {
			if x, ok := a.(*protocol.CodeAction); ok && x.Command.Command == viewCommand {
				got = true
				offered = append(offered, x.Command)
			}
		}
		if got != c.want {
			t.Errorf("%s: offered %v, want %v", c.name, got, c.want)
		}
	}
	if len(offered) != 3 {
		t.Errorf("offered %d times, want a lens and two actions", len(offered))
	}
	address := ""
	for _, c := range offered {
		address = e.showPage(c.Arguments...)
	}
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Errorf("the page is at %q", address)
	}
	_, err = e.ExecuteCommand(context.Background(), &protocol.ExecuteCommandParams{Command: viewCommand, Arguments: []protocol.LSPAny{jsonData(uri.File(e.path("none.txt")))}})
	if err == nil || !strings.Contains(err.Error(), "part of no plan") {
		t.Errorf("a file that is in no plan: %v", err)
	}
}
