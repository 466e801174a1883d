package figures

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
)

// endingContext ends at the nth time that it is asked.
type endingContext struct {
	context.Context
	left atomic.Int64
}

func (c *endingContext) Err() error {
	if c.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

// TestWorkStops ends the work at every place where it looks at its context: it
// tells so, and what it leaves in the memo does no harm to who comes after.
func TestWorkStops(t *testing.T) {
	p := planOf(t, "bookcase")
	want := told(figuresOf(t, p, nil))
	stops := 0
	for n := int64(0); ; n++ {
		ctx := &endingContext{Context: t.Context()}
		ctx.left.Store(n)
		memo := NewMemo()
		f, err := Work(ctx, p, memo)
		if err == nil {
			break
		}
		stops++
		if f != nil || !errors.Is(err, context.Canceled) {
			t.Fatalf("stop %d: figures %v, error %v", n, f != nil, err)
		}
		if !alike9(told(figuresOf(t, p, memo)), want) {
			t.Errorf("stop %d: the plan is told otherwise after it", n)
		}
	}
	if stops < 3 {
		t.Errorf("the context is looked at %d times only", stops)
	}
}
