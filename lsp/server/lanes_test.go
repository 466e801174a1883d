package server

import (
	"context"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"ohmstead/lint/figures"
)

// However long work is held up, what is cancelled or asked again after an edit
// is answered at once, and what is left of the questions is bounded.
func TestSupersededAtOnce(t *testing.T) {
	var s *server
	e := start(t, arch, setup{
		capabilities: strings.Replace(capable, `"hover":`, `"diagnostic": {}, "hover":`, 1), // nothing is worked out that is not asked for
		opts: Options{
			front: func(f protocol.Server) protocol.Server { s = f.(*server); return f },
			rest:  func() <-chan time.Time { return nil },
		},
	})
	u := e.open("porch/porch.ohm.hcl")
	text := e.read("porch/porch.ohm.hcl")
	place := e.place(u, text, `sup|ply "brick"`)

	// Nobody gets a lane.
	all, far := int64(0), int64(0)
	for s.lanes.all.TryAcquire(1) {
		all++
	}
	for s.lanes.far.TryAcquire(1) {
		far++
	}
	if all < 2 || far != all-1 {
		t.Errorf("%d lanes, %d of them for whole documents", all, far)
	}
	ask := func(method string) (id int64, answer chan error) {
		return send(e.conn, method, anyParams(string(u), place.Position.Line, place.Position.Character))
	}
	methods := []string{protocol.MethodTextDocumentCompletion, protocol.MethodTextDocumentInlayHint, protocol.MethodTextDocumentSemanticTokensFull}
	const edits = 50
	var waiting []chan error // by method
	for version := range int32(edits) {
		e.replace(u, version+2, text+strings.Repeat("#\n", int(version)))
		before := waiting
		waiting = nil
		for _, m := range methods {
			_, answer := ask(m)
			waiting = append(waiting, answer)
		}
		for i, answer := range before {
			if c := code(<-answer); c != jsonrpc2.Code(protocol.LSPErrorCodesContentModified) {
				t.Fatalf("%s, which is asked again: %v", methods[i], c)
			}
		}
		if n := s.atWork(); n > len(methods) {
			t.Fatalf("%d requests wait after %d edits", n, version+1)
		}
	}
	id, hover := ask(protocol.MethodTextDocumentHover)
	e.must(e.conn.Notify(e.ctx(), protocol.MethodCancelRequest, map[string]any{"id": id}))
	if c := code(<-hover); c != jsonrpc2.Code(protocol.LSPErrorCodesRequestCancelled) {
		t.Errorf("a hover that is cancelled: %v", c)
	}

	// A stage that hangs holds up only who still wants it.
	q, ok := s.current.Load().about(s.current.Load().key(u))
	if !ok {
		t.Fatal("no plan")
	}
	gate, held := make(chan struct{}), make(chan struct{})
	go q.plan.worked.get(t.Context(), func(ctx context.Context) (*figures.Figures, error) {
		close(held)
		<-gate
		return nil, ctx.Err()
	})
	<-held
	s.lanes.all.Release(all)
	s.lanes.far.Release(far)
	for i, m := range methods {
		if m != protocol.MethodTextDocumentInlayHint { // which needs that stage
			if err := <-waiting[i]; err != nil {
				t.Errorf("%s, which was asked last: %v", m, err)
			}
		}
	}
	e.replace(u, edits+2, text)
	if _, next := ask(protocol.MethodTextDocumentInlayHint); <-next != nil {
		t.Error("the hints of the next version wait for those of the last")
	}
	if c := code(<-waiting[1]); c != jsonrpc2.Code(protocol.LSPErrorCodesContentModified) {
		t.Errorf("what the stage is held up for: %v", c)
	}
	close(gate)
}

// atWork counts the requests that are not answered.
func (s *server) atWork() int {
	s.running.mu.Lock()
	defer s.running.mu.Unlock()
	return len(s.running.requests)
}
