package server

import (
	"context"
	"errors"
	"testing"
	"time"

	"go.lsp.dev/protocol"

	"ohmstead/schema/bigplan"
)

// mendable counts the findings of a plan that have remedies to try, and those
// of them whose outcome is kept.
func mendable(t *testing.T, p *plan) (all, kept int) {
	t.Helper()
	p.tried.mu.Lock()
	trials := p.tried.value
	p.tried.mu.Unlock()
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	for i, f := range must(p.findings(t.Context())) {
		if f.Propose == nil {
			continue
		}
		all++
		if trials != nil {
			if _, err := trials.For(ended, i); err == nil {
				kept++
			}
		}
	}
	return all, kept
}

// When the user rests, the remedies of the document are searched and kept. An
// edit ends that and whatever else was asked about the text before it, and its
// findings do not wait for either.
func TestRest(t *testing.T) {
	rested := make(chan time.Time)
	var s *server
	e := start(t, "", setup{opts: Options{
		rest:  func() <-chan time.Time { return rested },
		front: func(f protocol.Server) protocol.Server { s = f.(*server); return f },
	}})
	text := bigplan.Wall(1)
	u := e.openText("a/a.ohm.hcl", text)
	shown := func(version int32) {
		e.eventually("findings", func() bool {
			p := e.shown[u]
			if p == nil {
				return false
			}
			v, _ := p.Version.Get()
			return v == version && len(p.Diagnostics) > 0
		})
	}
	shown(1)
	about := func(snap *snapshot) *plan {
		q, ok := snap.about(snap.key(u))
		if !ok {
			t.Fatal("the document is in no plan")
		}
		return q.judged().plan
	}
	first := s.current.Load()
	if all, kept := mendable(t, about(first)); all == 0 || kept > 0 {
		t.Fatalf("before any rest %d of %d are kept", kept, all)
	}
	rested <- time.Time{}
	for end := time.Now().Add(longest); ; time.Sleep(time.Millisecond) {
		all, kept := mendable(t, about(first))
		if kept == all {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("after a rest %d of %d are kept", kept, all)
		}
	}

	e.replace(u, 2, text+"\n# an edit\n")
	shown(2)
	second := s.current.Load()
	searched := make(chan struct{})
	go func() { // as after a rest, of this version for sure
		s.searchRemedies(second)
		close(searched)
	}()
	e.replace(u, 3, text+"\n# another\n")
	shown(3)
	<-searched
	if all, kept := mendable(t, about(s.current.Load())); all == 0 || kept > 0 {
		t.Errorf("after an edit %d of %d are kept", kept, all)
	}
	if about(second).newest.Err() == nil || about(s.current.Load()).newest.Err() != nil {
		t.Error("an edit does not end the version before it, or its own")
	}

	// A search and an action of a text that is no more.
	last := s.current.Load()
	e.replace(u, 4, text+"\n# the last\n")
	shown(4)
	s.searchRemedies(last)
	if _, kept := mendable(t, about(last)); kept > 0 {
		t.Errorf("of a text that was edited %d are kept", kept)
	}
	whole := protocol.CodeActionParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, Range: protocol.Range{End: protocol.Position{Line: 5000}}}
	if _, err := s.CodeAction(context.WithValue(t.Context(), snapshotKey{}, last), &whole); !errors.Is(err, protocol.ErrContentModified) {
		t.Errorf("actions of a text that was edited: %v", err)
	}
}
