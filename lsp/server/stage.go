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
// once, or a defect of the work. Who has nothing else to do meanwhile, see patient, does the work itself: to hand it to
// another goroutine and wait for that takes long in a keystroke. When his ctx ends he goes on while others wait for it.
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
			own, cancel := context.WithCancel(patient(context.Background()))
			a = &attempt{cancel: cancel, over: make(chan struct{}), waiting: 1}
			s.running = a
			if ctx.Value(patientKey{}) != nil {
				s.here(ctx, own, a, work)
				continue
			}
			go s.attempt(own, a, work)
		} else {
			a.waiting++
		}
		s.mu.Unlock()
		select {
		case <-a.over:
		case <-ctx.Done():
		}
		s.mu.Lock()
		s.leave(a)
	}
	return s.value, s.err
}

// here makes an attempt in the goroutine of who asked, who leaves it when ctx ends. It is called and comes back with s locked.
func (s *stage[T]) here(ctx, own context.Context, a *attempt, work func(context.Context) (T, error)) {
	s.mu.Unlock()
	stop := context.AfterFunc(ctx, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.leave(a)
	})
	s.attempt(own, a, work)
	stop() // to leave what is over is harmless
	s.mu.Lock()
}

// leave notes that one of those who wait for an attempt does so no longer.
func (s *stage[T]) leave(a *attempt) {
	if a.waiting--; a.waiting == 0 {
		a.cancel()
		if s.running == a {
			s.running = nil
		}
	}
}

type patientKey struct{}

// patient is a context of who has nothing else to do until a stage is done.
func patient(ctx context.Context) context.Context { return context.WithValue(ctx, patientKey{}, true) }

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
