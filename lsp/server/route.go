package server

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// The phases of a conversation.
const (
	fresh int32 = iota // initialize has not been answered
	serving
	shut // shutdown has been answered
)

type snapshotKey struct{}

// snapshot gives the snapshot that a request was routed with.
func (s *server) snapshot(ctx context.Context) *snapshot {
	if snap, ok := ctx.Value(snapshotKey{}).(*snapshot); ok {
		return snap
	}
	return s.current.Load()
}

// handler is the way of a message: guard, order, cancellation, dispatch.
//
// The library's own context of a request and its CancelHandler are not used: a
// context derived from the request's outlives it for a moment, when the
// request has been recycled already, and the process panics (jsonrpc2 v1.0.1).
func (s *server) handler() jsonrpc2.Handler {
	var features protocol.Server = s
	if s.opts.front != nil {
		features = s.opts.front(s)
	}
	inner := s.recover(protocol.ServerHandler(features, nil))
	route := func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		if req.Method() == protocol.MethodCancelRequest {
			return nil, s.cancelRequest(req)
		}
		if err := s.admit(req); err != nil {
			return nil, err
		}
		if !req.IsCall() || req.Method() == protocol.MethodInitialize || req.Method() == protocol.MethodShutdown {
			return s.traced(s.life, req, inner) // inline, in the order of the wire: the one writer
		}
		snap, id := s.current.Load(), req.ID()
		own, cancel := context.WithCancelCause(context.WithValue(s.life, snapshotKey{}, snap))
		r := &request{method: strings.Clone(req.Method()), cancel: cancel}
		own = s.running.add(own, id, r)
		defer func() {
			s.running.remove(id)
			s.lanes.leave(own)
			cancel(nil)
			if r.method == protocol.MethodTextDocumentDiagnostic {
				s.idle() // who pulls has been told now what others are pushed
			}
		}()
		jsonrpc2.Async(ctx)
		result, err := s.traced(own, req, inner)
		if own.Err() != nil {
			return nil, context.Cause(own) // nobody reads it, whatever it has come to
		}
		return result, err
	}
	return s.guard(route)
}

// cancelRequest cancels a request that is at work, if it still is.
func (s *server) cancelRequest(req *jsonrpc2.Request) error {
	var params protocol.CancelParams
	if err := protocol.Unmarshal(req.Params(), &params); err != nil {
		return err
	}
	var id jsonrpc2.ID
	switch v := params.ID.(type) {
	case protocol.Integer:
		id = jsonrpc2.NewNumberID(int64(v))
	case protocol.String:
		id = jsonrpc2.NewStringID(strings.Clone(string(v)))
	default:
		return fmt.Errorf("an id of the kind %T", v)
	}
	s.running.end(id)
	return nil
}

// admit says whether a message may come now.
func (s *server) admit(req *jsonrpc2.Request) error {
	method := req.Method()
	switch s.phase.Load() {
	case fresh:
		if method != protocol.MethodInitialize && method != protocol.MethodExit {
			return jsonrpc2.Errorf(jsonrpc2.ServerNotInitialized, "%s came before initialize", method)
		}
	case serving:
		if method == protocol.MethodInitialize {
			return jsonrpc2.Errorf(jsonrpc2.InvalidRequest, "initialize came a second time")
		}
	case shut:
		if method != protocol.MethodExit {
			return jsonrpc2.Errorf(jsonrpc2.InvalidRequest, "%s came after shutdown", method)
		}
	}
	return nil
}

// guard gives every error its code, and keeps the connection: an error from a
// notification would close it.
func (s *server) guard(next jsonrpc2.Handler) jsonrpc2.Handler {
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		call, method := req.IsCall(), ""
		if !call {
			method = string(append([]byte(nil), req.Method()...))
		}
		result, err := next(ctx, req)
		if err == nil {
			return result, nil
		}
		if !call {
			if s.phase.Load() == serving && !errors.Is(err, jsonrpc2.ErrMethodNotFound) {
				s.log(protocol.MessageTypeWarning, "%s: %v", method, err)
			}
			return nil, nil
		}
		return nil, coded(err)
	}
}

// coded gives an error the code that the protocol has for it.
func coded(err error) error {
	var known *jsonrpc2.Error
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return protocol.ErrRequestCancelled
	case errors.Is(err, jsonrpc2.ErrParse): // the text was JSON, but not what the method takes
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%v", err)
	case errors.As(err, &known):
		return err
	}
	return jsonrpc2.Errorf(jsonrpc2.InternalError, "%v", err)
}

// recover turns a panic in one feature into an error of that one request.
func (s *server) recover(next jsonrpc2.Handler) jsonrpc2.Handler {
	return func(ctx context.Context, req *jsonrpc2.Request) (result any, err error) {
		method := req.Method()
		defer func() {
			if caught := recover(); caught != nil {
				s.log(protocol.MessageTypeError, "%s: a defect: %v\n%s", method, caught, debug.Stack())
				result, err = nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "%s: a defect of the server: %v", method, caught)
			}
		}()
		return next(ctx, req)
	}
}

// traced writes what $/setTrace asks for.
func (s *server) traced(ctx context.Context, req *jsonrpc2.Request, next jsonrpc2.Handler) (any, error) {
	level := s.trace.Load().(protocol.TraceValue)
	if level == protocol.TraceValueOff {
		return next(ctx, req)
	}
	method, start := strings.Clone(req.Method()), time.Now()
	p := &protocol.LogTraceParams{}
	if level == protocol.TraceValueVerbose {
		params := string(req.Params())
		p.Verbose = &params
	}
	result, err := next(ctx, req)
	p.Message = fmt.Sprintf("%s took %s", method, time.Since(start).Round(10*time.Microsecond))
	_ = s.client.LogTrace(s.life, p) // a trace that cannot be sent is not missed
	return result, err
}

// Request answers methods that the protocol does not have.
func (s *server) Request(_ context.Context, method string, _ any) (any, error) {
	return nil, jsonrpc2.Errorf(jsonrpc2.MethodNotFound, "there is no method %s", method)
}

// SetTrace sets how much is traced.
func (s *server) SetTrace(_ context.Context, params *protocol.SetTraceParams) error {
	switch params.Value {
	case protocol.TraceValueOff, protocol.TraceValueMessages, protocol.TraceValueVerbose:
		s.trace.Store(params.Value)
	}
	return nil
}
