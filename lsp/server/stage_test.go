package server

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"testing"
)

func TestStage(t *testing.T) {
	t.Run("once for all who ask", func(t *testing.T) {
		var s stage[int]
		var times atomic.Int32
		begin := make(chan struct{})
		work := func(context.Context) (int, error) {
			times.Add(1)
			<-begin
			return 7, nil
		}
		var all sync.WaitGroup
		for range 20 {
			all.Go(func() {
				if v, err := s.get(t.Context(), work); v != 7 || err != nil {
					t.Errorf("%d, %v", v, err)
				}
			})
		}
		close(begin)
		all.Wait()
		if n := times.Load(); n != 1 {
			t.Errorf("worked %d times", n)
		}
	})
	t.Run("cancelled when nobody waits, and done again for who asks later", func(t *testing.T) {
		var s stage[int]
		at := make(chan context.Context)
		half := func(ctx context.Context) (int, error) {
			at <- ctx
			<-ctx.Done()
			return 1, nil // half done, and it does not say so
		}
		first, leaveFirst := context.WithCancel(t.Context())
		second, leaveSecond := context.WithCancel(t.Context())
		errs := make(chan error, 2)
		ask := func(ctx context.Context) { _, err := s.get(ctx, half); errs <- err }
		go ask(first)
		work := <-at
		go ask(second)
		for {
			s.mu.Lock()
			waiting := s.running.waiting
			s.mu.Unlock()
			if waiting == 2 {
				break
			}
		}
		leaveFirst()
		if err := <-errs; !errors.Is(err, context.Canceled) {
			t.Errorf("who leaves gets %v", err)
		}
		if work.Err() != nil {
			t.Error("the work stops while somebody waits")
		}
		leaveSecond()
		<-errs
		<-work.Done()
		if v, err := s.get(t.Context(), func(context.Context) (int, error) { return 2, nil }); v != 2 || err != nil {
			t.Errorf("asked again: %d, %v", v, err)
		}
		if v, err := s.get(first, half); v != 2 || err != nil {
			t.Errorf("what is done is given to all: %d, %v", v, err)
		}
	})
	t.Run("done by who is patient, for others too", func(t *testing.T) {
		for _, alone := range []bool{true, false} {
			var s stage[int]
			first, leave := context.WithCancel(patient(t.Context()))
			joined, errs := make(chan bool), make(chan error, 1)
			nested := false
			v, err := s.get(first, func(ctx context.Context) (int, error) {
				nested = ctx.Value(patientKey{}) != nil
				if alone {
					leave()
					<-ctx.Done()
					return 1, nil
				}
				go func() {
					v, err := s.get(t.Context(), func(context.Context) (int, error) { return 2, nil })
					if v != 3 {
						t.Errorf("who joins gets %d, %v", v, err)
					}
					errs <- err
				}()
				go func() {
					for waiting := 0; waiting < 2; {
						s.mu.Lock()
						waiting = s.running.waiting
						s.mu.Unlock()
					}
					leave()
					for waiting := 2; waiting > 1; {
						s.mu.Lock()
						waiting = s.running.waiting
						s.mu.Unlock()
					}
					close(joined)
				}()
				<-joined
				return 3, ctx.Err()
			})
			switch {
			case !nested:
				t.Error("what a patient one needs for that is handed on")
			case alone && !errors.Is(err, context.Canceled):
				t.Errorf("who leaves gets %d, %v", v, err)
			case !alone && (v != 3 || err != nil || <-errs != nil):
				t.Errorf("done for another one: %d, %v", v, err)
			}
			if v, err := s.get(t.Context(), func(context.Context) (int, error) { return 3, nil }); v != 3 || err != nil {
				t.Errorf("asked again: %d, %v", v, err)
			}
		}
	})
	t.Run("a defect", func(t *testing.T) {
		var s stage[int]
		for range 2 {
			_, err := s.get(t.Context(), func(context.Context) (int, error) { panic("a mistake") })
			var bug *defect
			if !errors.As(err, &bug) || err.Error() != "a defect: a mistake" || len(bug.stack) == 0 {
				t.Errorf("got %v", err)
			}
		}
	})
}

// What a newer version of a plan makes out of date is given up, but not for ever.
func TestQueue(t *testing.T) {
	q := queue{wake: make(chan struct{}, 1), plans: map[planID]bool{}}
	a, b := planID{dir: "a"}, planID{dir: "b"}
	ctx, end := q.begin(t.Context(), a)
	q.add([]planID{b})
	if ctx.Err() != nil {
		t.Error("another plan's change cancels")
	}
	q.add([]planID{a})
	if ctx.Err() == nil {
		t.Error("a newer version does not cancel")
	}
	end()
	if ctx, end = q.begin(t.Context(), a); ctx.Err() == nil {
		t.Error("what is out of date already is begun")
	}
	end()
	waiting := map[planID]bool{}
	if q.take(waiting); !waiting[a] || !waiting[b] || len(waiting) != 2 {
		t.Errorf("waiting: %v", waiting)
	}
	ctx, end = q.begin(t.Context(), a)
	defer end()
	if ctx.Err() != nil {
		t.Error("what was taken still cancels")
	}
}
