package main

import (
	"runtime"
	"runtime/debug"
	"syscall"
)

// populate gives the heap so many bytes of memory that the system has mapped already, in large
// pages where it can: each page that is used for the first time costs it a fault, in a virtual
// machine fifteen microseconds and more, and the first keystrokes would pay for them all.
// Systems that cannot do so say so, and nothing is lost.
func populate(bytes int) {
	const madvPopulateWrite = 23 // Linux 5.14, not in package syscall
	was := debug.SetGCPercent(-1)
	room := make([]byte, bytes)
	_ = syscall.Madvise(room, syscall.MADV_HUGEPAGE)
	_ = syscall.Madvise(room, madvPopulateWrite)
	runtime.KeepAlive(room)
	debug.SetGCPercent(was)
	runtime.GC() // the heap has it from now on
}
