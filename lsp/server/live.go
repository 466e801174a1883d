package server

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lint"
	"ohmstead/lsp/ide"
	"ohmstead/lsp/page"
)

// live is the page on which the server shows the plan that the user works on,
// from the moment when somebody first asks for it.
type live struct {
	page atomic.Pointer[page.Page]
	wake chan struct{}
	plan atomic.Pointer[plan] // that is shown

	mu      sync.Mutex // of what follows
	key     string     // the document whose plan is shown: where the user was last
	at      resting
	last    told
	over    bool // the connection has ended
	running sync.WaitGroup
}

// resting is where the user was when the editor last asked about the place of the cursor.
type resting struct {
	key    string // the document
	block  string // that the cursor was in; "" for none
	number uint64 // of the message that said so
}

// told is what last said in which document the user is: an edit, or a request.
type told struct {
	key    string
	number uint64 // of the message, in the order in which they came
}

var errNoPage = errors.New("the connection has ended")

// serve begins to serve the page, if it is not being served.
func (s *server) serve() (*page.Page, error) {
	l := &s.live
	l.mu.Lock()
	defer l.mu.Unlock()
	if p := l.page.Load(); p != nil {
		return p, nil
	}
	if l.over {
		return nil, errNoPage
	}
	opts := page.Options{Log: s.opts.Log}
	if s.can.showDocument {
		opts.Jump = s.jump
	}
	p, err := page.Serve(s.life, opts)
	if err != nil {
		return nil, err
	}
	l.page.Store(p)
	key := l.last.key
	if edited := s.edited.Load(); edited != nil && key == "" {
		key = *edited
	}
	l.turn(p, key)
	l.running.Go(func() { s.show(p) })
	s.stir()
	return p, nil
}

// end ends the page with the connection, whose context has ended.
func (l *live) end() {
	l.mu.Lock()
	l.over = true
	p := l.page.Load()
	l.mu.Unlock()
	if p != nil {
		p.Close()
	}
	l.running.Wait()
}

// stir tells the page that something may be new.
func (s *server) stir() {
	select {
	case s.live.wake <- struct{}{}:
	default: // it has not looked yet and will see this
	}
}

// begin has a page that was served before any document was open show the first.
// A document that is opened later need not be one that the user looks at.
func (s *server) begin(key string) {
	if s.live.page.Load() == nil {
		return // serve looks at what was edited, after it has stored the page
	}
	s.live.mu.Lock()
	defer s.live.mu.Unlock()
	if s.live.key == "" {
		s.live.key = key
	}
}

// follow has the page follow the user to a document, as a message says; one that came before another that said it
// comes too late.
func (s *server) follow(key string, number uint64) {
	l := &s.live
	l.mu.Lock()
	defer l.mu.Unlock()
	if number < l.last.number {
		return
	}
	l.last = told{key, number}
	if p := l.page.Load(); p != nil && l.turn(p, key) {
		s.stir()
	}
}

// turn has the page show the plan of a document and, as far as is known, where in
// it the user is. Its caller holds the lock.
func (l *live) turn(p *page.Page, key string) (moved bool) {
	if l.key == key {
		return false
	}
	l.key = key
	if l.at.key == key {
		p.Point(l.at.block)
	} else {
		p.Point("")
	}
	return true
}

// point has the page show where the user is. The protocol does not tell;
// requests that editors send wherever the cursor rests do.
func (s *server) point(ctx context.Context, q *question, v *ide.View, offset int) {
	if q.doc != nil {
		s.rest(resting{q.doc.key, ide.BlockAt(v, offset), numberOf(ctx)})
	}
}

// rest takes note of where the user is, also for a page that somebody asks for
// later. Of two requests the one that came last tells, whichever is answered first; none does about another document
// than an edit that came after it.
func (s *server) rest(now resting) {
	l := &s.live
	l.mu.Lock()
	defer l.mu.Unlock()
	if now.number < l.at.number || now.number < l.last.number && now.key != l.last.key {
		return
	}
	l.at = now
	l.last = told{now.key, max(now.number, l.last.number)}
	p := l.page.Load()
	if p == nil {
		return
	}
	if l.turn(p, now.key) {
		s.stir()
	} else {
		p.Point(now.block)
	}
}

// shown is what the page shows.
type shown struct {
	plan  *plan
	least lint.Level
}

// show keeps the page up to date for as long as the connection lasts. What it
// shows comes from the stages of the plan, which others ask too. A newer
// version of a plan ends the work on it, but not twice in a row, as with
// findings: the picture moves while one types.
func (s *server) show(p *page.Page) {
	var last shown
	dropped := false
	for {
		select {
		case <-s.life.Done():
			return
		case <-s.live.wake:
		}
		snap := s.current.Load()
		s.live.mu.Lock()
		q, ok := snap.about(s.live.key)
		s.live.mu.Unlock()
		if !ok {
			continue
		}
		now := shown{q.judged().plan, snap.settings.leastLevel()}
		if now == last {
			continue
		}
		s.live.plan.Store(now.plan)
		ctx, end := s.life, func() {}
		if !dropped {
			ctx, end = now.plan.whileNewest(s.life)
		}
		_, err := caught(ctx, func(ctx context.Context) (struct{}, error) { return struct{}{}, s.showNow(ctx, p, now) })
		end()
		var bug *defect
		if errors.As(err, &bug) {
			s.log(protocol.MessageTypeError, "showing %s: %v\n%s", now.plan.id.dir, bug, bug.stack)
		}
		if dropped = err != nil; !dropped {
			last = now
		}
	}
}

// showNow shows a plan as far as it is known, and the rest when that is.
func (s *server) showNow(ctx context.Context, p *page.Page, now shown) error {
	fig, err := now.plan.figures(s.life)
	if err != nil {
		return err
	}
	p.Show(fig)
	if err := fig.Solve(ctx); err != nil {
		return err
	}
	p.Solved(fig)
	v, err := s.view(ctx, &question{plan: now.plan}, needFigures|needFindings)
	if err != nil {
		return err
	}
	p.Judged(v, now.least)
	return nil
}

// jump shows a place of the plan on the page in the editor.
func (s *server) jump(ctx context.Context, to page.Place) error {
	p := s.live.plan.Load()
	if p == nil {
		return errNoDocument
	}
	f, ok := p.document(to.Path)
	if !ok || f.doc == nil || to.Line < 1 || to.Line > f.text.Lines() {
		return errNoDocument
	}
	at := f.text.LineStart(to.Line - 1)
	got, err := s.client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: f.uri, TakeFocus: ptr(true), Selection: ptr(s.span(f.text, at, at))})
	if err != nil {
		return err
	}
	if got == nil || !got.Success {
		return fmt.Errorf("the editor did not show %s", to.Path)
	}
	return nil
}

// showPage does what viewCommand asks: it serves the page, has it show the plan
// of a document and, unless the client shows the page itself, has the editor
// open a browser or tells the user the address. The address is also the
// command's result.
func (s *server) showPage(ctx context.Context, params *protocol.ExecuteCommandParams) (protocol.LSPAny, error) {
	var of uri.URI
	open := true
	for i, into := range []any{&of, &open} {
		if i < len(params.Arguments) {
			if err := json.Unmarshal(params.Arguments[i], into); err != nil {
				return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s takes the URI of a document, and whether to open a browser: %v", viewCommand, err)
			}
		}
	}
	p, err := s.serve()
	if err != nil {
		return nil, failed(fmt.Errorf("the page cannot be served on this machine: %w", err))
	}
	if of != "" {
		key := s.snapshot(ctx).key(of)
		if _, ok := s.snapshot(ctx).about(key); !ok {
			return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is part of no plan", of)
		}
		s.follow(key, numberOf(ctx))
	}
	if !open {
		return jsonData(p.Address()), nil
	}
	if s.can.showDocument {
		if got, err := s.client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: uri.URI(p.Address()), External: ptr(true)}); err == nil && got != nil && got.Success {
			return jsonData(p.Address()), nil
		}
	}
	s.tellPage(p)
	return jsonData(p.Address()), nil
}

func (s *server) tellPage(p *page.Page) {
	_ = s.client.ShowMessage(s.life, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: "The plan is shown at " + p.Address()}) // the address is the command's result too
}

// servePage serves the page without being asked, where the settings want that.
func (s *server) servePage() {
	if !s.current.Load().settings.Page.Serve || s.live.page.Load() != nil {
		return
	}
	p, err := s.serve()
	if err != nil {
		s.log(protocol.MessageTypeWarning, "the page cannot be served on this machine: %v", err)
		return
	}
	s.tellPage(p)
}
