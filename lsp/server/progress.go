package server

import (
	"context"
	"fmt"
	"time"

	"go.lsp.dev/protocol"
)

// progress shows a piece of work in the editor. Without a token it shows nothing.
type progress struct {
	s      *server
	token  string
	cancel context.CancelFunc
}

// beginProgress starts to show a piece of work. The context ends when the user
// or the end of the connection cancels it.
func (s *server) beginProgress(title string) (context.Context, *progress) {
	ctx, cancel := context.WithCancel(s.life)
	p := &progress{s: s, cancel: cancel}
	if !s.can.progress {
		return ctx, p
	}
	s.scans.Lock()
	s.scans.count++
	token := fmt.Sprintf("ohmstead-%d", s.scans.count)
	s.scans.Unlock()
	// A client that does not answer is not to keep the work from being done.
	patience, stop := context.WithTimeout(ctx, 2*time.Second)
	defer stop()
	if err := s.client.WorkDoneProgressCreate(patience, &protocol.WorkDoneProgressCreateParams{Token: protocol.String(token)}); err != nil {
		return ctx, p
	}
	p.token = token
	s.scans.Lock()
	if s.scans.cancel == nil {
		s.scans.cancel = map[string]context.CancelFunc{}
	}
	s.scans.cancel[token] = cancel
	s.scans.Unlock()
	cancellable := true
	p.send(&protocol.WorkDoneProgressBegin{Kind: "begin", Title: title, Cancellable: &cancellable})
	return ctx, p
}

func (p *progress) report(message string) {
	p.send(&protocol.WorkDoneProgressReport{Kind: "report", Message: &message})
}

func (p *progress) end(message string) {
	p.send(&protocol.WorkDoneProgressEnd{Kind: "end", Message: &message})
	p.cancel()
	p.s.scans.Lock()
	delete(p.s.scans.cancel, p.token)
	p.s.scans.Unlock()
}

func (p *progress) send(value any) {
	if p.token == "" {
		return
	}
	data, err := protocol.Marshal(value)
	if err != nil {
		return
	}
	_ = p.s.client.Progress(p.s.life, &protocol.ProgressParams{Token: protocol.String(p.token), Value: data}) // only shown
}

// WorkDoneProgressCancel stops a piece of work.
func (s *server) WorkDoneProgressCancel(_ context.Context, params *protocol.WorkDoneProgressCancelParams) error {
	token, ok := params.Token.(protocol.String)
	if !ok {
		return nil
	}
	s.scans.Lock()
	defer s.scans.Unlock()
	if cancel := s.scans.cancel[string(token)]; cancel != nil {
		cancel()
	}
	return nil
}
