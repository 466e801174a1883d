package main

import (
	"runtime"
	"runtime/debug"
)

// roomy lets the heap grow to so many bytes before garbage is collected, and by
// half of what is in use where that is more. An edit of a small plan
// makes more garbage than the plan is large, and would pay for a collection
// every few keystrokes. Much more room would be paid for as well: memory that was used a
// while ago is in no cache. What room there is is populated at once.
//
// The percentage stays at or below the one at which the runtime's least heap,
// 4 MB at 100 %, is that many bytes.
func roomy(total uint64) {
	type sentinel struct{ _ [16]byte }
	percent := room(total, 0)
	debug.SetGCPercent(percent)
	populate(int(total))
	var collected func(*sentinel) // runs after each collection, one at a time
	collected = func(s *sentinel) {
		// The next collection comes when what is in use has grown by the percentage. To import
		// runtime/metrics, which tells it straight, costs every command half a millisecond.
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		if wanted := room(total, m.NextGC*100/uint64(100+percent)); wanted*10 < percent*9 || wanted*9 > percent*10 {
			percent = wanted
			debug.SetGCPercent(percent)
		}
		runtime.SetFinalizer(s, collected)
	}
	runtime.SetFinalizer(&sentinel{}, collected)
}

// room is the percentage of what is in use by which the heap may grow, to total bytes or by half.
func room(total, live uint64) int {
	left := max(total, live) - live
	return int(max(50, min(left*100/max(live, 1<<20), total*100/(4<<20))))
}
