package server

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
)

// stage is a piece of work that is done once for all who ask for its result.
// It goes on for as long as somebody waits for it; when the last of them gives
// up it is cancelled, and who asks later has it done from the start. What a
// cancelled attempt gave is never taken for the result.
type stage[T any] struct {
	mu      sync.Mutex
	done    bool
	value   T
	err     error // a defect: the same for all who ask
	running *attempt
}

// attempt is one time that the work of a stage is begun.
type attempt struct {
	waiting int
	cancel  context.CancelFunc
	over    chan struct{} // closed at its end
}

// defect is a panic in some work, as an error.
type defect struct {
	caught any
	stack  []byte
}

func (d *defect) Error() string { return fmt.Sprintf("a defect: %v", d.caught) }

// given gives a stage its result without any work.
func given[T any](value T) *stage[T] { return &stage[T]{done: true, value: value} }

// get gives the result. Its error is that of ctx, which ends the waiting at
// once, or a defect of the work.
func (s *stage[T]) get(ctx context.Context, work func(context.Context) (T, error)) (T, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for !s.done {
		if err := ctx.Err(); err != nil {
			var none T
			return none, err
		}
		a := s.running
		if a == nil {
			own, cancel := context.WithCancel(context.Background())
			a = &attempt{cancel: cancel, over: make(chan struct{})}
			s.running = a
			go s.attempt(own, a, work)
		}
		a.waiting++
		s.mu.Unlock()
		select {
		case <-a.over:
		case <-ctx.Done():
		}
		s.mu.Lock()
		if a.waiting--; a.waiting == 0 {
			a.cancel()
			if s.running == a {
				s.running = nil
			}
		}
	}
	return s.value, s.err
}

func (s *stage[T]) attempt(ctx context.Context, a *attempt, work func(context.Context) (T, error)) {
	var value T
	err := ctx.Err() // nobody waits any more, and nothing is begun
	if err == nil {
		value, err = caught(ctx, work)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if ctx.Err() == nil {
		s.done, s.value, s.err = true, value, err
	}
	if s.running == a {
		s.running = nil
	}
	a.cancel()
	close(a.over)
}

func caught[T any](ctx context.Context, work func(context.Context) (T, error)) (value T, err error) {
	defer func() {
		if x := recover(); x != nil {
			err = &defect{x, debug.Stack()}
		}
	}()
	return work(ctx)
}
