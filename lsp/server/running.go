package server

import (
	"context"
	"sync"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// running are the requests at work, by id.
type running struct {
	mu       sync.Mutex
	requests map[jsonrpc2.ID]*request
	number   uint64        // of the last that came, or edit
	busy     int           // those that do not wait for findings
	calm     chan struct{} // closed when there is none of them any more
}

// request is one at work.
type request struct {
	method string
	number uint64 // in the order in which they and edits came, from 1
	cancel context.CancelCauseFunc
	lane   bool    // it has one; only its own goroutine asks
	waits  bool    // for findings
	about  *buffer // what it was asked about, where others of its kind may follow; nil where that is not known
}

// refreshed are the requests that editors send again after an edit: then what
// was asked before is of no use to anybody.
var refreshed = map[string]bool{
	protocol.MethodTextDocumentCompletion: true, protocol.MethodTextDocumentSignatureHelp: true, protocol.MethodTextDocumentDocumentHighlight: true,
	protocol.MethodTextDocumentCodeAction: true, protocol.MethodTextDocumentCodeLens: true, protocol.MethodTextDocumentInlayHint: true,
	protocol.MethodTextDocumentSemanticTokensFull: true, protocol.MethodTextDocumentSemanticTokensFullDelta: true, protocol.MethodTextDocumentSemanticTokensRange: true,
	protocol.MethodTextDocumentDocumentSymbol: true, protocol.MethodTextDocumentFoldingRange: true, protocol.MethodTextDocumentDocumentLink: true,
	protocol.MethodTextDocumentDocumentColor: true,
}

type requestKey struct{}

// add notes a request, and gives the context that it runs under.
func (r *running) add(ctx context.Context, id jsonrpc2.ID, req *request) context.Context {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.requests == nil {
		r.requests = map[jsonrpc2.ID]*request{}
	}
	if r.busy++; r.busy == 1 {
		r.calm = make(chan struct{})
	}
	r.number++
	req.number = r.number
	r.requests[id] = req
	return context.WithValue(ctx, requestKey{}, req)
}

// next gives an edit its number among the requests.
func (r *running) next() uint64 {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.number++
	return r.number
}

// numberOf is the number of the request of a context; 0 where there is none.
func numberOf(ctx context.Context) uint64 {
	if req, ok := ctx.Value(requestKey{}).(*request); ok {
		return req.number
	}
	return 0
}

func (r *running) remove(id jsonrpc2.ID) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if req := r.requests[id]; req != nil {
		r.idle(req)
	}
	delete(r.requests, id)
}

// end cancels a request that is at work, if it still is.
func (r *running) end(id jsonrpc2.ID) {
	r.mu.Lock()
	req := r.requests[id]
	r.mu.Unlock()
	if req != nil {
		req.cancel(nil)
	}
}

// supersede notes which text the request of a context is about, and ends those
// at work, it may be itself, that asked the same about the document before an edit.
func (r *running) supersede(ctx context.Context, about *buffer) {
	req, ok := ctx.Value(requestKey{}).(*request)
	if !ok || about == nil || !refreshed[req.method] {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	req.about = about
	for _, other := range r.requests {
		if other.about == nil || other.method != req.method || other.about.key != about.key {
			continue
		}
		switch v := other.about.version; {
		case v < about.version:
			other.cancel(protocol.ErrContentModified)
		case v > about.version: // it was quicker to get here
			req.cancel(protocol.ErrContentModified)
		}
	}
}

// awaits notes that the request of a context, if it is one's, waits for findings.
func (r *running) awaits(ctx context.Context) {
	if req, ok := ctx.Value(requestKey{}).(*request); ok {
		r.mu.Lock()
		defer r.mu.Unlock()
		r.idle(req)
	}
}

func (r *running) idle(req *request) {
	if req.waits {
		return
	}
	req.waits = true
	if r.busy--; r.busy == 0 {
		close(r.calm)
	}
}

// none reports whether no request is at work.
func (r *running) none() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return len(r.requests) == 0
}

// courtesy is for how long findings wait for requests: somebody looks at the
// place that those are about.
const courtesy = 25 * time.Millisecond

// quiet waits until no request is at work but such as wait for findings, not
// for longer than courtesy.
func (r *running) quiet(ctx context.Context) {
	var enough <-chan time.Time
	for {
		r.mu.Lock()
		busy, calm := r.busy, r.calm
		r.mu.Unlock()
		if busy == 0 {
			return
		}
		if enough == nil {
			enough = time.After(courtesy)
		}
		select {
		case <-calm:
		case <-enough:
			return
		case <-ctx.Done():
			return
		}
	}
}
