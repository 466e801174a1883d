package figures

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
)

func TestTogether(t *testing.T) {
	var sum atomic.Int64
	if err := together(t.Context(), 100, func(i int) error { sum.Add(int64(i)); return nil }); err != nil || sum.Load() != 4950 {
		t.Errorf("%v, %d", err, sum.Load())
	}
	wrong := errors.New("wrong")
	if err := together(t.Context(), 9, func(i int) error { return wrong }); err != wrong {
		t.Error(err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if err := together(ended, 9, func(int) error { t.Error("done though nobody waits"); return nil }); err != context.Canceled {
		t.Error(err)
	}
	defer func() {
		if x := recover(); x != "a mistake" {
			t.Errorf("caught %v", x)
		}
	}()
	_ = together(t.Context(), 9, func(i int) error { panic("a mistake") })
	t.Error("no panic came through")
}
