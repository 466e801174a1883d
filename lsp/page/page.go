// Package page shows a plan in a browser while it is written: the runs where
// they hang, voltage as colour in every case, what was found, and the way of
// the data pixel by pixel. It listens on the loopback interface only, and
// answers nobody who does not know its secret. What it shows is given to it;
// it reads no files.
package page

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lsp/ide"
)

// Place is a line of a file of the plan.
type Place struct {
	Path string `json:"path"` // as in source.Text.Path
	Line int    `json:"line"` // counted from 1
}

// Options are what the program around the page decides.
type Options struct {
	// Jump shows a place to the user in an editor. Nil where there is none: then
	// the page only names places.
	Jump func(context.Context, Place) error
	// Log takes what goes wrong with a connection. Nil discards it.
	Log io.Writer
}

// Page is one that is being served.
type Page struct {
	opts    Options
	secret  string
	addr    string // 127.0.0.1:PORT
	life    context.Context
	end     context.CancelFunc
	http    *http.Server
	board   board
	figures atomic.Pointer[figures.Figures] // the last that were solved

	mu      sync.Mutex     // of closed
	closed  bool           // no more is begun
	running sync.WaitGroup // the listener and the requests
}

// Serve begins to serve a page on a free port of the loopback interface, until
// Close or the end of ctx.
func Serve(ctx context.Context, opts Options) (*Page, error) {
	if opts.Log == nil {
		opts.Log = io.Discard
	}
	var secret [18]byte
	_, _ = rand.Read(secret[:]) // it never fails
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	p := &Page{opts: opts, secret: base64.RawURLEncoding.EncodeToString(secret[:]), addr: l.Addr().String()}
	p.life, p.end = context.WithCancel(ctx)
	p.board.changed = make(chan struct{})
	p.http = &http.Server{
		Handler:           p,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          log.New(opts.Log, "page: ", 0),
		BaseContext:       func(net.Listener) context.Context { return p.life },
	}
	p.running.Go(func() {
		if err := p.http.Serve(l); err != nil && !errors.Is(err, http.ErrServerClosed) {
			log.New(opts.Log, "page: ", 0).Print(err)
		}
	})
	context.AfterFunc(p.life, func() { _ = p.http.Close() }) // what is left is closed, and nothing was to be written
	return p, nil
}

// Address is where a browser finds the page. It holds the secret.
func (p *Page) Address() string { return "http://" + p.addr + "/" + p.secret + "/" }

// Close ends the page, and is back when nothing of it runs any more.
func (p *Page) Close() {
	p.mu.Lock()
	p.closed = true
	p.mu.Unlock()
	p.end()
	_ = p.http.Close() // as in Serve
	p.running.Wait()
}

// begin notes a request, unless the page has ended.
func (p *Page) begin() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.closed {
		p.running.Add(1)
	}
	return !p.closed
}

// Show shows a plan as far as it is laid out: where everything is. What is
// shown of it from an older version stays.
func (p *Page) Show(f *figures.Figures) {
	p.board.put(shapeKinds, shape(f, p.opts.Jump != nil))
}

// Solved shows what flows; Figures.Solve has been done.
func (p *Page) Solved(f *figures.Figures) {
	p.figures.Store(f)
	p.board.put(solvedKinds, solved(f))
}

// Judged shows what was found, of a level and above.
func (p *Page) Judged(v *ide.View, least lint.Level) {
	p.board.put(foundKinds, map[string]any{"findings": found(v, ide.Diagnostics(v, least)), "hidden": hidden(v.Hidden)})
}

// Point shows where the user is in the editor: at a block, or with "" at none.
func (p *Page) Point(id string) {
	p.board.put([]string{"cursor"}, map[string]any{"cursor": cursor{id}})
}
