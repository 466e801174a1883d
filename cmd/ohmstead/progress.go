package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// progress tells on a terminal how far a long run is.
type progress struct {
	mu      sync.Mutex
	w       io.Writer // nil: say nothing
	what    string    // is counted: "plans"
	total   int
	done    int
	started time.Time
	said    time.Time
}

// A run is long from patience on, and is spoken of every interval.
const (
	patience = 700 * time.Millisecond
	interval = 100 * time.Millisecond
)

// newProgress speaks to w only if it is a terminal.
func newProgress(w io.Writer, total int, what string) *progress {
	p := &progress{total: total, what: what, started: time.Now()}
	if isTerminal(w) && total > 1 {
		p.w = w
	}
	return p
}

// step counts one as done.
func (p *progress) step() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
	now := time.Now()
	if p.w == nil || now.Sub(p.started) < patience || now.Sub(p.said) < interval {
		return
	}
	p.said = now
	fmt.Fprintf(p.w, "\r%d of %d %s", p.done, p.total, p.what)
}

// end wipes what was said.
func (p *progress) end() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.w != nil && !p.said.IsZero() {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
