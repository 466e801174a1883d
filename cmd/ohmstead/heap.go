package main

import (
	"runtime"
	"runtime/debug"
	"sync/atomic"
)

// heap is that of a program that works for an editor, and is to answer at once.
type heap struct {
	total   uint64       // bytes that it may grow to before garbage is collected, see roomy
	percent atomic.Int64 // by which it may grow beyond what is in use, as set last
	busy    atomic.Bool  // garbage is being collected while nobody waits
}

// roomy lets the heap grow to so many bytes before garbage is collected, and by
// half of what is in use where that is more. An edit of a small plan
// makes more garbage than the plan is large, and would pay for a collection
// every few keystrokes. Much more room would be paid for as well: memory that was used a
// while ago is in no cache. What room there is is populated at once.
//
// The percentage stays at or below the one at which the runtime's least heap,
// 4 MB at 100 %, is that many bytes.
func roomy(total uint64) *heap {
	h := &heap{total: total}
	h.grow(room(total, 0))
	populate(int(total))
	type sentinel struct{ _ [16]byte }
	var collected func(*sentinel) // runs after each collection, one at a time
	collected = func(s *sentinel) {
		percent := int(h.percent.Load())
		if wanted := room(total, h.read().live); wanted*10 < percent*9 || wanted*9 > percent*10 {
			h.grow(wanted)
		}
		runtime.SetFinalizer(s, collected)
	}
	runtime.SetFinalizer(&sentinel{}, collected)
	return h
}

func (h *heap) grow(percent int) {
	h.percent.Store(int64(percent))
	debug.SetGCPercent(percent)
}

// usage is how many bytes were in use after the last collection, are taken now, and will be when the next one comes.
type usage struct{ live, now, next uint64 }

func (h *heap) read() usage {
	// The next collection comes when what is in use has grown by the percentage. To import
	// runtime/metrics, which tells it straight, costs every command half a millisecond.
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return usage{m.NextGC * 100 / uint64(100+h.percent.Load()), m.HeapAlloc, m.NextGC}
}

// idle collects garbage beside everything else if much of the room is taken, as nobody waits now: it
// would come in the middle of a keystroke, and make that half as long again.
func (h *heap) idle() {
	if h.busy.Swap(true) {
		return
	}
	go func() {
		defer h.busy.Store(false)
		if u := h.read(); u.now > u.live+(u.next-u.live)/4 {
			runtime.GC()
		}
	}()
}

// room is the percentage of what is in use by which the heap may grow, to total bytes or by half.
func room(total, live uint64) int {
	left := max(total, live) - live
	return int(max(50, min(left*100/max(live, 1<<20), total*100/(4<<20))))
}
