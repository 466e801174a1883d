package server

import (
	"context"
	"testing"
	"testing/synctest"
	"time"

	"go.lsp.dev/jsonrpc2"
)

// Findings wait for the requests at work, but neither for those that wait for
// findings nor without end.
func TestQuiet(t *testing.T) {
	for _, tc := range []struct {
		name  string
		after func(r *running, hover, action context.Context)
		end   bool
		want  time.Duration
	}{
		{"nothing is at work", func(r *running, hover, action context.Context) {
			r.remove(jsonrpc2.NewNumberID(1))
			r.remove(jsonrpc2.NewNumberID(2))
		}, false, 0},
		{"one is answered", func(r *running, hover, action context.Context) {
			r.awaits(action)
			r.awaits(action)
			go func() {
				time.Sleep(courtesy / 5)
				r.remove(jsonrpc2.NewNumberID(1))
			}()
		}, false, courtesy / 5},
		{"all wait for findings", func(r *running, hover, action context.Context) {
			r.awaits(hover)
			r.awaits(action)
			r.awaits(context.Background())
			r.remove(jsonrpc2.NewNumberID(1))
		}, false, 0},
		{"one does not end", func(r *running, hover, action context.Context) { r.awaits(hover) }, false, courtesy},
		{"nobody wants findings any more", func(r *running, hover, action context.Context) {}, true, 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var r running
				hover := r.add(t.Context(), jsonrpc2.NewNumberID(1), &request{})
				action := r.add(t.Context(), jsonrpc2.NewNumberID(2), &request{})
				tc.after(&r, hover, action)
				ctx, cancel := context.WithCancel(t.Context())
				defer cancel()
				if tc.end {
					cancel()
				}
				start := time.Now()
				r.quiet(ctx)
				if took := time.Since(start); took != tc.want {
					t.Errorf("took %v, want %v", took, tc.want)
				}
			})
		})
	}
}
