package main

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// roomy lets the heap grow to so many bytes before garbage is collected, and by
// half of what is in use where that is more. An edit of a small plan
// makes more garbage than the plan is large, and would pay for a collection
// every few keystrokes.
//
// The percentage stays at or below the one at which the runtime's least heap,
// 4 MB at 100 %, is that many bytes.
func roomy(total uint64) {
	type sentinel struct{ _ [16]byte }
	percent := 0
	var collected func(*sentinel) // runs after each collection, one at a time
	collected = func(s *sentinel) {
		sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(sample)
		if wanted := room(total, sample[0].Value.Uint64()); wanted*10 < percent*9 || wanted*9 > percent*10 {
			percent = wanted
			debug.SetGCPercent(percent)
		}
		runtime.SetFinalizer(s, collected)
	}
	collected(&sentinel{})
}

// room is the percentage of what is in use by which the heap may grow, to total bytes or by half.
func room(total, live uint64) int {
	left := max(total, live) - live
	return int(max(50, min(left*100/max(live, 1<<20), total*100/(4<<20))))
}
