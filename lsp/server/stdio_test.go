package server

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/schema/plans"
)

// TestProgram drives the built program over its standard input and output.
func TestProgram(t *testing.T) {
	path := build(t)
	dir := realPath(t.TempDir())
	file := filepath.Join(dir, "p"+plans.Suffix)
	if err := os.WriteFile(file, []byte(known), 0o644); err != nil {
		t.Fatal(err)
	}
	u := uri.File(file)
	wait := func(t *testing.T, cmd *exec.Cmd) error {
		t.Helper()
		ended := make(chan error, 1)
		go func() { ended <- cmd.Wait() }()
		select {
		case err := <-ended:
			return err
		case <-time.After(longest):
			t.Fatal("the program did not end")
			return nil
		}
	}
	exitCode := func(err error) int {
		var e *exec.ExitError
		if errors.As(err, &e) {
			return e.ExitCode()
		}
		return 0
	}
	t.Run("a conversation", func(t *testing.T) {
		p := run(t, path, dir)
		p.open(t, u, unknown)
		p.mu.Lock()
		found := len(p.last.Diagnostics)
		p.mu.Unlock()
		if found == 0 {
			t.Error("nothing is found in a plan with an unknown reference")
		}
		hover, err := p.Hover(context.Background(), &protocol.HoverParams{TextDocumentPositionParams: at(u, 1, 1)})
		if err != nil || hover == nil {
			t.Errorf("hover: %v, %v", hover, err)
		}
		if err := p.Shutdown(context.Background()); err != nil {
			t.Error(err)
		}
		if err := p.Exit(context.Background()); err != nil {
			t.Error(err)
		}
		if err := wait(t, p.cmd); err != nil {
			t.Errorf("ended with %v", err)
		}
	})
	t.Run("exit without shutdown", func(t *testing.T) {
		p := run(t, path, dir)
		if err := p.Exit(context.Background()); err != nil {
			t.Error(err)
		}
		if code := exitCode(wait(t, p.cmd)); code != 1 {
			t.Errorf("ended with code %d", code)
		}
	})
	t.Run("input closed", func(t *testing.T) {
		p := run(t, path, dir)
		p.open(t, u, unknown)
		p.hangUp()
		if err := wait(t, p.cmd); err != nil {
			t.Errorf("ended with %v", err)
		}
	})
	t.Run("not the protocol", func(t *testing.T) {
		cmd := exec.Command(path, "lsp")
		cmd.Stdin = strings.NewReader("hello\r\n\r\nis anybody there")
		var errs bytes.Buffer
		cmd.Stderr = &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if code := exitCode(wait(t, cmd)); code != 2 || !strings.Contains(errs.String(), "connection to the client") || strings.Contains(errs.String(), "goroutine") {
			t.Errorf("ended with code %d and %q", code, errs.String())
		}
	})
}
