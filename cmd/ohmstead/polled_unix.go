//go:build unix

package main

import (
	"io"
	"os"
	"syscall"
)

// polled reads a pipe or socket by the poller of the runtime. Who reads it otherwise stays in a system call and keeps a
// processor meanwhile, until somebody takes that away: what a message has set going waits for it. A terminal, which others may
// read as well, is left as it is, and so is a socket that is written to as well: what is written would fail when it is full.
func polled(in io.Reader) io.Reader {
	f, ok := in.(*os.File)
	if !ok {
		return in
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&(os.ModeNamedPipe|os.ModeSocket) == 0 {
		return in
	}
	for _, out := range []*os.File{os.Stdout, os.Stderr} {
		if other, err := out.Stat(); err == nil && os.SameFile(info, other) {
			return in
		}
	}
	fd := f.Fd()
	if err := syscall.SetNonblock(int(fd), true); err != nil {
		return in
	}
	return os.NewFile(fd, f.Name())
}
