package server

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/schema/source"
)

// listener hears what is published.
type listener struct {
	protocol.UnimplementedClient
	heard []*protocol.PublishDiagnosticsParams
}

func (l *listener) PublishDiagnostics(_ context.Context, p *protocol.PublishDiagnosticsParams) error {
	l.heard = append(l.heard, p)
	return nil
}

// A change of settings tells all documents again, also where a plan was replaced meanwhile by one that is like it:
// of the same documents, with the same findings.
func TestSettingsTellAgain(t *testing.T) {
	dir := realPath(t.TempDir())
	file := filepath.Join(dir, "a.ohm.hcl")
	const text = "plan \"a\" {}\n# ohmstead: allow voltage-low because reasons\nlet {\n}\n"
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	heard := &listener{}
	s := newServer(t.Context(), heard, Options{})
	d := s.diagnoser() // that looks when it is told to
	s.change(func(snap *snapshot, disk *disk) *snapshot {
		u := uri.File(file)
		return snap.open(&buffer{key: keyOf(u), uri: u, version: 1, text: source.NewText(file, []byte(text))}, disk)
	})
	said := func(want int, when string) {
		t.Helper()
		heard.heard = nil
		d.look()
		if len(heard.heard) != 1 || len(heard.heard[0].Diagnostics) != want {
			t.Fatalf("%s: told %v, want %d findings", when, heard.heard, want)
		}
	}
	said(1, "opened")

	s.change(func(snap *snapshot, disk *disk) *snapshot {
		next := snap.clone()
		next.settings.Warnings.Level = "error"
		for _, r := range snap.roots {
			for _, at := range r.holds(file) {
				like := *r.dir(at)
				next.withChanges(r, map[string]*directory{at: &like}, disk)
			}
		}
		return next
	})
	said(0, "the level changed, and the plan was replaced by its like")

	s.change(func(snap *snapshot, _ *disk) *snapshot {
		next := snap.clone()
		next.settings.Warnings.Level = "hint"
		return next
	})
	said(1, "the level changed back")
}
