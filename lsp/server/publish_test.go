package server

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
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

// Who embeds the server is told when nobody waits: after what was found is told, unless a request is at work.
func TestIdle(t *testing.T) {
	idle := make(chan bool, 100)
	asked, answer := make(chan bool), make(chan bool)
	var waits atomic.Bool
	e := start(t, "", setup{opts: Options{
		Idle: func() {
			if waits.Load() {
				t.Error("nobody was said to wait while a hover did")
			}
			idle <- true
		},
		front: func(f protocol.Server) protocol.Server { return slowHover{f, asked, answer} },
	}})
	u := e.openText("a/a.ohm.hcl", porchText(t))
	<-idle

	hovered := make(chan error)
	go func() {
		_, err := e.Hover(e.ctx(), &protocol.HoverParams{TextDocumentPositionParams: at(u, 0, 0)})
		hovered <- err
	}()
	<-asked
	waits.Store(true)
	e.replace(u, 2, porchText(t)+"\nwire \"w\" {}\n")
	e.eventually("other findings", func() bool {
		p := e.shown[u]
		if p == nil {
			return false
		}
		v, _ := p.Version.Get()
		return v == 2
	})
	waits.Store(false)
	close(answer)
	e.must(<-hovered)
	e.replace(u, 3, porchText(t))
	<-idle
}

// An editor that pulls is told by its own request what others are pushed.
func TestIdleAfterPull(t *testing.T) {
	idle := make(chan bool, 100)
	e := start(t, "", setup{capabilities: strings.Replace(capable, `"hover":`, `"diagnostic": {}, "hover":`, 1), opts: Options{Idle: func() { idle <- true }}})
	u := e.openText("a/a.ohm.hcl", porchText(t))
	_, err := e.Diagnostic(e.ctx(), &protocol.DocumentDiagnosticParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}})
	e.must(err)
	<-idle
}

// slowHover answers when it is told to.
type slowHover struct {
	protocol.Server
	asked, answer chan bool
}

func (s slowHover) Hover(ctx context.Context, params *protocol.HoverParams) (*protocol.Hover, error) {
	s.asked <- true
	<-s.answer
	return s.Server.Hover(ctx, params)
}
