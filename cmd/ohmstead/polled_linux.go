package main

import (
	"io"
	"os"
	"slices"
	"syscall"
	"time"
)

// polled reads a pipe or socket by the poller of the runtime, until done is called. Who reads it otherwise stays in a system
// call and keeps a processor meanwhile, until somebody takes that away: what a message has set going waits for it.
//
// That is a flag of what is open, which all have in common who hold it: a terminal, which others may read as well, is left as
// it is, and so is one socket for both ways, as nobody would wait any more for room to write. What has the flag is polled already.
func polled(in io.Reader, written ...io.Writer) (out io.Reader, done func()) {
	asItIs := func() {}
	f, ok := in.(*os.File)
	if !ok || f.SetReadDeadline(time.Time{}) == nil { // only what is polled has a deadline
		return in, asItIs
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&(os.ModeNamedPipe|os.ModeSocket) == 0 || slices.ContainsFunc(written, func(w io.Writer) bool { return same(info, w) }) {
		return in, asItIs
	}
	fd, err := syscall.Dup(int(f.Fd())) // so that each file closes its own
	if err != nil {
		return in, asItIs
	}
	syscall.CloseOnExec(fd)
	if err := syscall.SetNonblock(fd, true); err != nil {
		_ = syscall.Close(fd)
		return in, asItIs
	}
	p := os.NewFile(uintptr(fd), f.Name())
	return p, func() { _ = syscall.SetNonblock(int(p.Fd()), false) } // who reads on in a shell waits again
}

// same reports whether a writer writes to the file of info.
func same(info os.FileInfo, w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	other, err := f.Stat()
	return err == nil && os.SameFile(info, other)
}
