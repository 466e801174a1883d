package server

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint"
	"ohmstead/lint/rules"
)

// serveFailing in the environment makes the test program a language server
// with a guard rule that fails on every plan.
const serveFailing = "SERVE_WITH_A_FAILING_RULE"

func TestMain(m *testing.M) {
	if os.Getenv(serveFailing) == "" {
		os.Exit(m.Run())
	}
	rules.All = append(rules.All, &lint.Rule{Name: "failing", Title: "A rule with a mistake", Level: lint.Error, Guard: true, Check: func(p *lint.Pass) {
		_ = p.Plan.Leads[len(p.Plan.Leads)]
	}})
	if err := Serve(context.Background(), pipes{os.Stdout, os.Stdin, func() error { return nil }}, Options{Log: os.Stderr}); err != nil {
		os.Exit(1)
	}
}

// A rule that fails costs the editor nothing but its own findings.
func TestFailingRule(t *testing.T) {
	t.Setenv(serveFailing, "yes")
	dir := realPath(t.TempDir())
	file := filepath.Join(dir, "p"+planSuffix)
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
