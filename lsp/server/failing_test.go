package server

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint"
	"ohmstead/lint/rules"
	"ohmstead/schema/plans"
)

// serveFailing in the environment makes the test program a language server in
// which something fails: a guard rule, on every plan, or features.
const serveFailing = "SERVE_WITH_A_FAILING"

func TestMain(m *testing.M) {
	opts := Options{Log: os.Stderr}
	switch os.Getenv(serveFailing) {
	case "":
		os.Exit(m.Run())
	case "feature":
		opts.front = func(s protocol.Server) protocol.Server { return failing{s} }
	case "rule":
		rules.All = append(rules.All, failingRule)
	}
	if err := Serve(context.Background(), pipes{os.Stdout, os.Stdin, func() error { return nil }}, opts); err != nil {
		os.Exit(1)
	}
}

var failingRule = &lint.Rule{Name: "failing", Title: "A rule with a mistake", Level: lint.Error, Guard: true, Check: func(p *lint.Pass) {
	_ = p.Plan.Leads[len(p.Plan.Leads)]
}}

// failing is a server with mistakes in two features.
type failing struct{ protocol.Server }

func (failing) Hover(context.Context, *protocol.HoverParams) (*protocol.Hover, error) {
	var none []int
	return nil, fmt.Errorf("not reached: %d", none[len(none)])
}

func (failing) Completion(context.Context, *protocol.CompletionParams) (protocol.CompletionResult, error) {
	panic("a mistake in completion")
}

// A feature that fails costs the editor the answer to that request: the log
// names the method, and everything else stands.
func TestFailingFeature(t *testing.T) {
	t.Setenv(serveFailing, "feature")
	dir := realPath(t.TempDir())
	file := filepath.Join(dir, "p"+plans.Suffix)
	if err := os.WriteFile(file, []byte(unknown), 0o644); err != nil {
		t.Fatal(err)
	}
	p := run(t, os.Args[0], dir)
	u := uri.File(file)
	p.open(t, u, unknown)
	for i := range 3 {
		_, err := p.Hover(t.Context(), &protocol.HoverParams{TextDocumentPositionParams: at(u, 1, 1)})
		if code(err) != jsonrpc2.InternalError || !strings.Contains(err.Error(), "textDocument/hover: a defect of the server: runtime error: index out of range") {
			t.Errorf("hover: %v", err)
		}
		_, err = p.Completion(t.Context(), &protocol.CompletionParams{TextDocumentPositionParams: at(u, 1, 1)})
		if code(err) != jsonrpc2.InternalError || !strings.Contains(err.Error(), "textDocument/completion: a defect of the server: a mistake in completion") {
			t.Errorf("completion: %v", err)
		}
		if s, err := p.DocumentSymbol(t.Context(), &protocol.DocumentSymbolParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}}); err != nil || s == nil {
			t.Errorf("symbols: %v, %v", s, err)
		}
		p.edit(t, u, int32(2+i), protocol.Range{}, "# an edit\n")
		p.wait(int32(2 + i))
		p.mu.Lock()
		if len(p.last.Diagnostics) == 0 {
			t.Error("nothing is published any more")
		}
		t.Logf("after edit %d: %d findings", i+1, len(p.last.Diagnostics))
		p.mu.Unlock()
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, method := range []string{"textDocument/hover", "textDocument/completion"} {
		n := 0
		for _, l := range p.logs {
			if strings.HasPrefix(l, method+": a defect: ") {
				n++
			}
		}
		if n != 3 {
			t.Errorf("%d of 3 failures of %s are in the log", n, method)
		}
	}
}

func (p *program) LogMessage(_ context.Context, m *protocol.LogMessageParams) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.logs = append(p.logs, m.Message)
	return nil
}

// A rule that fails costs the editor nothing but its own findings.
func TestFailingRule(t *testing.T) {
	t.Setenv(serveFailing, "rule")
	dir := realPath(t.TempDir())
	file := filepath.Join(dir, "p"+plans.Suffix)
	if err := os.WriteFile(file, []byte(unknown), 0o644); err != nil {
		t.Fatal(err)
	}
	p := run(t, os.Args[0], dir)
	p.open(t, uri.File(file), unknown)
	var failed, others int
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, d := range p.last.Diagnostics {
		if message := fmt.Sprint(d.Message); d.Code == protocol.String(lint.RuleFailed) {
			failed++
			t.Log(message)
			if !strings.HasPrefix(message, "failing failed on this plan") {
				t.Errorf("it says %q", message)
			}
			continue
		}
		others++
	}
	if failed != 1 || others == 0 {
		t.Errorf("published: %d times that a rule failed, %d of the other rules", failed, others)
	}
}
