package figures

import (
	"cmp"
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// together does n things, several at a time, until one fails or ctx ends. Where one panics it does so too, in the
// caller's goroutine: there somebody stands guard, who must lose no more than what was asked of him.
func together(ctx context.Context, n int, do func(i int) error) error {
	var next atomic.Int64
	var work errgroup.Group
	var caught any
	var first sync.Once
	some := func() error { // of many things, so that a stack grows once
		defer func() {
			if x := recover(); x != nil {
				first.Do(func() { caught = x })
			}
		}()
		for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
			if err := do(i); err != nil {
				next.Store(int64(n)) // no more is begun
				return err
			}
		}
		return nil
	}
	for range min(runtime.GOMAXPROCS(0), n) - 1 {
		work.Go(some)
	}
	own := some()
	err := cmp.Or(work.Wait(), own)
	if caught != nil {
		panic(caught)
	}
	if err != nil {
		return err
	}
	return ctx.Err()
}
