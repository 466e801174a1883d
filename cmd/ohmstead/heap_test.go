package main

import (
	"runtime"
	"testing"
	"time"
)

func TestRoom(t *testing.T) {
	for _, c := range []struct {
		total, live uint64 // MB
		want        int
	}{
		{52, 0, 1300}, // 52 MB of the least heap, 4 MB at 100 %
		{52, 4, 1200},
		{52, 26, 100},
		{52, 40, 50},
		{52, 52, 50},
		{52, 500, 50}, // what is in use is more than all that it is to grow to
	} {
		if got := room(c.total<<20, c.live<<20); got != c.want {
			t.Errorf("%d MB in use may grow by %d %% to %d MB, want %d %%", c.live, got, c.total, c.want)
		}
	}
}

// What is garbage is collected while nobody waits, once a good part of the room is taken.
func TestIdleCollects(t *testing.T) {
	var h heap
	h.percent.Store(100)
	runtime.GC()
	collected := func() uint32 {
		for h.idle(); h.busy.Load(); time.Sleep(time.Millisecond) {
		}
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.NumGC
	}
	before := collected()
	u := h.read()
	garbage = make([]byte, (u.next-u.now)*9/10)
	garbage = nil
	if after := collected(); after == before {
		t.Errorf("of %d bytes of room nine tenths are taken, and nothing was collected", u.next-u.now)
	}
}

var garbage []byte
