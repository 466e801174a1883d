package server

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

func code(err error) jsonrpc2.Code {
	var e *jsonrpc2.Error
	if errors.As(err, &e) {
		return e.Code
	}
	return 0
}

func TestOrderOfLife(t *testing.T) {
	e := start(t, "", setup{noInitialize: true})
	_, err := e.Hover(e.ctx(), &protocol.HoverParams{})
	if code(err) != jsonrpc2.ServerNotInitialized {
		t.Errorf("hover before initialize: %v", err)
	}
	e.openText("a.ohm.hcl", "plan \"a\" {}\n") // dropped: too early
	if _, err := e.Initialize(e.ctx(), &protocol.InitializeParams{}); err != nil {
		t.Fatal(err)
	}
	if _, err := e.Initialize(e.ctx(), &protocol.InitializeParams{}); code(err) != jsonrpc2.InvalidRequest {
		t.Errorf("a second initialize: %v", err)
	}
	if err := e.Shutdown(e.ctx()); err != nil {
		t.Errorf("shutdown: %v", err)
	}
	if _, err := e.Hover(e.ctx(), &protocol.HoverParams{}); code(err) != jsonrpc2.InvalidRequest {
		t.Errorf("hover after shutdown: %v", err)
	}
	if err := e.Exit(e.ctx()); err != nil {
		t.Errorf("exit: %v", err)
	}
	if err := e.end(); err != nil {
		t.Errorf("exit after shutdown: %v", err)
	}
}

// end waits for the server to end.
func (e *editor) end() error {
	e.t.Helper()
	select {
	case err := <-e.done:
		e.done <- err
		return err
	case <-time.After(longest):
		e.t.Fatal("the server did not end")
		return nil
	}
}

func TestExitWithoutShutdown(t *testing.T) {
	for _, c := range []struct {
		name string
		with setup
	}{{"serving", setup{}}, {"before initialize", setup{noInitialize: true}}} {
		t.Run(c.name, func(t *testing.T) {
			e := start(t, "", c.with)
			e.must(e.Exit(e.ctx()))
			if err := e.end(); !errors.Is(err, ErrNoShutdown) {
				t.Errorf("ended with %v", err)
			}
		})
	}
}

func TestUnknownMethods(t *testing.T) {
	e := start(t, "", setup{})
	for _, method := range []string{"textDocument/smell", "$/whatever", "textDocument/moniker"} {
		_, err := e.conn.Call(e.ctx(), method, map[string]int{"a": 1}, nil)
		if code(err) != jsonrpc2.MethodNotFound {
			t.Errorf("call %s: %v", method, err)
		}
		e.must(e.conn.Notify(e.ctx(), method, map[string]int{"a": 1}))
	}
	// Known methods with nonsense in them.
	_, err := e.conn.Call(e.ctx(), "textDocument/hover", []int{1, 2}, nil)
	if code(err) != jsonrpc2.InvalidParams {
		t.Errorf("hover of a list: %v", err)
	}
	for _, method := range []string{"textDocument/didOpen", "textDocument/didChange", "$/cancelRequest", "workspace/didChangeWatchedFiles"} {
		e.must(e.conn.Notify(e.ctx(), method, []int{1, 2}))
		e.must(e.conn.Notify(e.ctx(), method, nil))
	}
	u := e.openText("a.ohm.hcl", "plan \"a\" {}\n")
	e.eventually("the server still answers", func() bool { return e.shown[u] != nil })
}

func TestSettings(t *testing.T) {
	const plan = "-- a/a.ohm.hcl --\nplan \"a\" {}\nrun \"r\" {\n  strip = strip.none\n}\n"
	t.Run("from the client's configuration", func(t *testing.T) {
		e := start(t, plan, setup{settings: `{"warnings": {"level": "loud"}, "trace": {"server": 7}, "other": "x"}`})
		e.eventually("both wrong values are named", func() bool {
			all := strings.Join(e.logs, "\n")
			return strings.Contains(all, `ohmstead.warnings.level: "loud" is none of error, warning, hint`) && strings.Contains(all, "ohmstead.trace.server: 7 is not a string")
		})
	})
	t.Run("level", func(t *testing.T) {
		e := start(t, "-- a/a.ohm.hcl --\nplan \"a\" {}\n# ohmstead: allow voltage-low because reasons\nlet {\n}\n", setup{settings: `null`})
		u := e.open("a/a.ohm.hcl")
		e.eventually("a warning", func() bool { return slices.Contains(e.codes(u), "allow-unused") })
		e.mu.Lock()
		e.settings = `{"warnings": {"level": "error"}}`
		e.mu.Unlock()
		e.must(e.DidChangeConfiguration(e.ctx(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny("null")}))
		e.eventually("no warning", func() bool { return !slices.Contains(e.codes(u), "allow-unused") })
		e.eventually("hints are asked for again", func() bool { return e.refresh >= 2 })
	})
	t.Run("from initializationOptions", func(t *testing.T) {
		e := start(t, plan, setup{capabilities: "{}", options: `{"ohmstead": {"trace": {"server": "shout"}}}`})
		e.eventually("the wrong value is named", func() bool {
			return strings.Contains(strings.Join(e.logs, "\n"), `ohmstead.trace.server: "shout" is none of off, messages, verbose`)
		})
	})
	t.Run("later ones go over those of initializationOptions", func(t *testing.T) {
		e := start(t, "", setup{capabilities: "{}", options: `{"warnings": {"level": "error"}}`})
		u := e.openText("a/a.ohm.hcl", "plan \"a\" {}\n# ohmstead: allow voltage-low because reasons\nlet {\n}\n")
		e.must(e.DidChangeConfiguration(e.ctx(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(`{"ohmstead": {"hints": {"amps": false}}}`)}))
		e.eventually("an answer", func() bool { return e.shown[u] != nil })
		e.mu.Lock()
		if slices.Contains(e.codes(u), "allow-unused") {
			t.Error("the level of the options is forgotten")
		}
		e.mu.Unlock()
		e.must(e.DidChangeConfiguration(e.ctx(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(`{"warnings": {"level": "hint"}}`)}))
		e.eventually("the warning", func() bool { return slices.Contains(e.codes(u), "allow-unused") })
	})
	t.Run("table", func(t *testing.T) {
		s := DefaultSettings()
		for _, f := range settingFields(&s) {
			if f.Doc == "" || f.Key == "" || f.Section == "" {
				t.Errorf("%+v lacks something", f)
			}
			var shown string
			switch v := f.value.(type) {
			case *bool:
				shown = map[bool]string{true: "true", false: "false"}[*v]
			case *string:
				shown = *v
			}
			if shown != f.Default {
				t.Errorf("%s.%s says its default is %q, but it is %q", f.Section, f.Key, f.Default, shown)
			}
		}
	})
}

func TestEncodings(t *testing.T) {
	for _, c := range []struct{ name, general, want string }{
		{"nothing said", `{}`, "utf-16"},
		{"no list", `{"general": {}}`, "utf-16"},
		{"bytes last", `{"general": {"positionEncodings": ["utf-16", "utf-32", "utf-8"]}}`, "utf-8"},
		{"code points first", `{"general": {"positionEncodings": ["utf-32", "utf-16"]}}`, "utf-32"},
		{"units only", `{"general": {"positionEncodings": ["utf-16"]}}`, "utf-16"},
		{"unknown", `{"general": {"positionEncodings": ["utf-7"]}}`, "utf-16"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := start(t, "", setup{capabilities: c.general})
			if got := string(e.init.Capabilities.PositionEncoding); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
			// An unknown reference behind a character of four bytes.
			u := e.openText("a/a.ohm.hcl", "plan \"a\" {}\nstrip \"😀é\" { like = strip.none }\n")
			column := map[string]uint32{"utf-8": 30, "utf-16": 27, "utf-32": 26}[c.want]
			e.eventually("the finding", func() bool { return len(e.codes(u)) > 0 })
			e.mu.Lock()
			defer e.mu.Unlock()
			i := slices.Index(e.codes(u), "reference-unknown")
			if i < 0 {
				t.Fatal("the reference is not found unknown")
			}
			if got := e.shown[u].Diagnostics[i].Range.Start.Character; got != column {
				t.Errorf("at %d, want %d", got, column)
			}
		})
	}
}

func TestPull(t *testing.T) {
	pull := strings.Replace(capable, `"hover":`, `"diagnostic": {"relatedInformation": true}, "hover":`, 1)
	e := start(t, porch, setup{capabilities: pull})
	if e.init.Capabilities.DiagnosticProvider == nil {
		t.Fatal("no diagnosticProvider")
	}
	u := e.openText("porch/porch.ohm.hcl", "plan \"porch\" {}\nrun \"a\" {\n  strip = strip.none\n}\n")
	ask := func(before *string) protocol.DocumentDiagnosticReport {
		t.Helper()
		r, err := e.Diagnostic(e.ctx(), &protocol.DocumentDiagnosticParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, PreviousResultID: before})
		e.must(err)
		return r
	}
	full, ok := ask(nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	if !ok || full.Kind != "full" || len(full.Items) == 0 {
		t.Fatalf("got %+v", full)
	}
	if same, ok := ask(full.ResultID).(*protocol.RelatedUnchangedDocumentDiagnosticReport); !ok || same.Kind != "unchanged" {
		t.Errorf("asked again: %T", ask(full.ResultID))
	}
	e.eventually("the scan is over", func() bool { return len(e.progress) > 1 })
	all, err := e.DiagnosticWorkspace(e.ctx(), &protocol.WorkspaceDiagnosticParams{})
	e.must(err)
	seen := map[string]int{}
	var ids []protocol.PreviousResultId
	for _, i := range all.Items {
		f := i.(*protocol.WorkspaceFullDocumentDiagnosticReport)
		seen[f.URI.Path()] = len(f.Items)
		ids = append(ids, protocol.PreviousResultId{URI: f.URI, Value: *f.ResultID})
	}
	if len(seen) != 2 || seen[u.Path()] != len(full.Items) {
		t.Errorf("workspace: %v", seen)
	}
	e.replace(u, 2, "plan \"porch\" {}\n")
	all, err = e.DiagnosticWorkspace(e.ctx(), &protocol.WorkspaceDiagnosticParams{PreviousResultIds: ids})
	e.must(err)
	kinds := map[string]bool{}
	for _, i := range all.Items {
		switch i := i.(type) {
		case *protocol.WorkspaceFullDocumentDiagnosticReport:
			kinds["full "+i.URI.Path()] = true
		case *protocol.WorkspaceUnchangedDocumentDiagnosticReport:
			kinds["unchanged "+i.URI.Path()] = true
		}
	}
	if !kinds["full "+u.Path()] {
		t.Errorf("workspace after an edit: %v", kinds)
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if len(e.all) > 0 {
		t.Error("findings were pushed to a client that asks for them")
	}
}
