// Package server speaks the Language Server Protocol for plans of LED strips.
//
// It holds what the client has open over what is on disk as immutable
// snapshots, and answers each request from the snapshot that was current when
// the request arrived. What the answers are is the affair of package ide; this
// package converts positions, keeps order, cancels and publishes. It is the
// only package that knows the protocol.
package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Options are what the program around the server decides.
type Options struct {
	// Version is told to the client.
	Version string
	// CacheDir is where a file of the built-in catalogue is written, read-only,
	// when a client that cannot show virtual documents asks for a place in it.
	// Empty means the folder "ohmstead" in the user's cache directory.
	CacheDir string
	// Log takes what the client cannot be told. Nil discards it.
	Log io.Writer
	// Idle is called when what changed has been told and no request is at work; nil for nothing to do then. It
	// comes back at once.
	Idle func()

	front func(protocol.Server) protocol.Server // what answers in front of the server; only tests have one
	rest  func() <-chan time.Time               // tells when the user has rested from now on; only tests have their own
}

// ErrNoShutdown is what Serve returns when the client said exit without having
// said shutdown before; the process then ends with code 1.
var ErrNoShutdown = errors.New("the client said exit without shutdown")

// Serve answers one client over rwc until the client says exit, closes its
// side, or ctx ends. After exit the read of rwc may still be waiting, so the
// caller is to end the process, not to use rwc again.
func Serve(ctx context.Context, rwc io.ReadWriteCloser, opts Options) error {
	return serveStream(ctx, jsonrpc2.NewStream(rwc), opts)
}

func serveStream(ctx context.Context, stream jsonrpc2.Stream, opts Options) error {
	life, end := context.WithCancel(ctx)
	defer end()
	conn := jsonrpc2.NewConn(stream, jsonrpc2.WithCodec(codec{}))
	s := newServer(life, protocol.ClientDispatcher(conn), opts)
	background := make(chan struct{})
	go func() {
		defer close(background)
		s.diagnose()
	}()
	conn.Go(life, s.handler())
	defer func() {
		end()
		<-background
		s.live.end()
	}()
	select {
	case <-conn.Done():
		if err := conn.Err(); err != nil {
			return fmt.Errorf("connection to the client: %w", err)
		}
		return nil
	case code := <-s.exit:
		go conn.Close() // it waits for the handler that is still at work on exit
		if code != 0 {
			return ErrNoShutdown
		}
		return nil
	case <-ctx.Done():
		go conn.Close()
		return ctx.Err()
	}
}

// server is one conversation with one client.
type server struct {
	protocol.UnimplementedServer

	life   context.Context // ends with the connection
	client protocol.Client
	opts   Options
	exit   chan int

	phase atomic.Int32 // see route.go
	can   *abilities   // set by initialize, before any other request is let in
	trace atomic.Value // protocol.TraceValue

	current atomic.Pointer[snapshot]
	queue   queue                  // what diagnose is to look at
	edited  atomic.Pointer[string] // the document edited last, which is diagnosed first
	running running
	lanes   lanes
	scans   scans
	live    live
	initial Settings  // of initializationOptions, under those that come later
	given   []uri.URI // the workspace folders as the client names them; only touched in the order of the wire

	tokens tokenMemory
	shelf  shelf
	seen   seen
}

// seen is the finding that was gone to last.
type seen struct {
	sync.Mutex
	last shownFinding
}

func newServer(life context.Context, client protocol.Client, opts Options) *server {
	if opts.CacheDir == "" {
		if dir, err := os.UserCacheDir(); err == nil {
			opts.CacheDir = filepath.Join(dir, "ohmstead")
		}
	}
	if opts.Log == nil {
		opts.Log = io.Discard
	}
	if opts.rest == nil {
		opts.rest = func() <-chan time.Time { return time.After(time.Second) }
	}
	s := &server{
		life:   life,
		client: client,
		opts:   opts,
		exit:   make(chan int, 1),
		can:    &abilities{},
		lanes:  newLanes(),
		live:   live{wake: make(chan struct{}, 1)},
		queue:  queue{wake: make(chan struct{}, 1), plans: map[planID]bool{}},
	}
	s.trace.Store(protocol.TraceValueOff)
	s.current.Store(&snapshot{settings: DefaultSettings()})
	return s
}

// change makes the next snapshot from the current one. All changes of what the
// server knows go through here. There is no lock to wait for: next may read
// the disk, and when another change was quicker it is called again with the
// snapshot that came of that one and with what it has read.
func (s *server) change(next func(*snapshot, *disk) *snapshot) { s.changeReading(newDisk(), next) }

func (s *server) changeReading(d *disk, next func(*snapshot, *disk) *snapshot) {
	defer d.close()
	for {
		was := s.current.Load()
		now := next(was, d)
		if now == was {
			return
		}
		if s.current.CompareAndSwap(was, now) {
			for _, id := range now.news {
				if p := was.plan(id); p != nil && p != now.plan(id) {
					p.supersede()
				}
			}
			s.queue.add(now.news)
			s.stir()
			return
		}
	}
}

// beside does some work beside everything else. A mistake in it costs that
// work, not the connection.
func (s *server) beside(what string, work func()) {
	go func() {
		defer func() {
			if x := recover(); x != nil {
				s.log(protocol.MessageTypeError, "%s: a defect: %v\n%s", what, x, debug.Stack())
			}
		}()
		work()
	}()
}

// log tells the client something that is not worth a window.
func (s *server) log(kind protocol.MessageType, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if err := s.client.LogMessage(s.life, &protocol.LogMessageParams{Type: kind, Message: text}); err != nil {
		fmt.Fprintln(s.opts.Log, text)
	}
}

// codec lets the connection read and write the protocol's union types. It
// copies what it reads: in a list of raw values they would else be part of the
// frame, which the next message overwrites (protocol v1.0.1).
type codec struct{}

func (codec) Marshal(v any) ([]byte, error) {
	if raw, ok := v.(jsonrpc2.RawMessage); ok {
		return raw, nil
	}
	return protocol.Marshal(v)
}

func (codec) Unmarshal(data []byte, v any) error {
	if raw, ok := v.(*jsonrpc2.RawMessage); ok {
		*raw = append((*raw)[:0:0], data...)
		return nil
	}
	return protocol.Unmarshal(slices.Clone(data), v)
}
