package server

import (
	"context"
	"runtime"

	"go.lsp.dev/protocol"
	"golang.org/x/sync/semaphore"
)

// lanes bound how many requests are worked on at once: as many as there are
// processors, since of more each waits for all the others. What a user waits for
// at the cursor finds one free that no question about a whole document takes. Who
// waits for a lane does nothing, so a request that is cancelled meanwhile has
// cost nothing.
type lanes struct{ all, far *semaphore.Weighted }

func newLanes() lanes {
	n := max(2, int64(runtime.GOMAXPROCS(0)))
	return lanes{semaphore.NewWeighted(n), semaphore.NewWeighted(n - 1)}
}

// atCursor are the requests whose answer a user waits for at the cursor.
var atCursor = map[string]bool{
	protocol.MethodTextDocumentHover: true, protocol.MethodTextDocumentCompletion: true, protocol.MethodCompletionItemResolve: true,
	protocol.MethodTextDocumentSignatureHelp: true, protocol.MethodTextDocumentDefinition: true, protocol.MethodTextDocumentTypeDefinition: true,
	protocol.MethodTextDocumentPrepareRename: true, protocol.MethodTextDocumentRename: true,
}

// enter waits for a lane for the request of a context, if it is one's that has
// none. A command takes none: it may wait for the user.
func (l lanes) enter(ctx context.Context) error {
	req, ok := ctx.Value(requestKey{}).(*request)
	if !ok || req.lane || req.method == protocol.MethodWorkspaceExecuteCommand {
		return nil
	}
	if !atCursor[req.method] {
		if err := l.far.Acquire(ctx, 1); err != nil {
			return context.Cause(ctx)
		}
	}
	if err := l.all.Acquire(ctx, 1); err != nil {
		if !atCursor[req.method] {
			l.far.Release(1)
		}
		return context.Cause(ctx)
	}
	req.lane = true
	return nil
}

// leave gives the lane of the request of a context to others.
func (l lanes) leave(ctx context.Context) {
	req, ok := ctx.Value(requestKey{}).(*request)
	if !ok || !req.lane {
		return
	}
	req.lane = false
	l.all.Release(1)
	if !atCursor[req.method] {
		l.far.Release(1)
	}
}
